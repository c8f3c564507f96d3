"""What stands at a path before anything is opened: nothing, a caseload, or something else, said by name."""

from __future__ import annotations

import os
from pathlib import Path

from caseload.errors import NotOurs, Trouble

APPLICATION = 0x434C4F44
"""Written into every file of ours (`CLOD` in ASCII), so that a stranger's database is told apart."""
_HEADER = b"SQLite format 3\x00"
_NETWORK = {"nfs", "nfs4", "cifs", "smb", "smb2", "smb3", "smbfs", "9p", "afs", "ncpfs", "fuse.sshfs", "davfs"}
_KNOWN = {
    b"PK\x03\x04": "a zip archive or a spreadsheet; bring it in with `caseload load`",
    b"%PDF": "a PDF document",
    b"\xd0\xcf\x11\xe0": "an old office document",
    b"\x1f\x8b": "a compressed file",
}


def look_at(path: Path) -> bool:
    """Whether there is a database to open: False for no file, or an empty one.

    Raises NotOurs or Trouble with one sentence when what stands there cannot be a caseload.
    """
    if on_network(path):
        raise Trouble(
            f"{path} is on a network folder, where SQLite files get damaged. Keep it on a disk of this"
            " computer, or use a PostgreSQL server (--db postgresql://...)."
        )
    if path.is_dir():
        raise NotOurs(f"{path} is a folder, not a database file.")
    if not path.exists():
        return False
    if not os.access(path, os.R_OK):
        raise Trouble(f"{path} may not be read by this user.")
    with path.open("rb") as file:
        start = file.read(100)
    if not start:
        return False
    if not start.startswith(_HEADER):
        raise NotOurs(f"{path} is {_named(start)}; it was left as it is.")
    page = int.from_bytes(start[16:18], "big") or 65536
    pages = int.from_bytes(start[28:32], "big")
    if len(start) < 100 or path.stat().st_size < page or _cut_short(path, page, pages):
        raise damaged(path)
    return True


def _cut_short(path: Path, page: int, pages: int) -> bool:
    """Whether the file is shorter than it says; one with a log beside it is judged by SQLite itself."""
    log = path.with_name(path.name + "-wal")
    return not (log.exists() and log.stat().st_size) and path.stat().st_size < page * pages


def _named(start: bytes) -> str:
    for begins, name in _KNOWN.items():
        if start.startswith(begins):
            return name
    try:
        start.decode("utf-8")
    except UnicodeDecodeError:
        return "no database, or one that is encrypted or damaged"
    return "a text file; a workbook is brought in with `caseload load`"


def damaged(path: Path) -> Trouble:
    """What to say of a file that is ours and broken."""
    return Trouble(f"{path} is damaged. Keep the file as it is and restore the latest backup.")


def on_network(path: Path, mounts: str | None = None) -> bool:
    """Whether the path lies on a network folder (`mounts`: the text of /proc/mounts, for tests)."""
    if mounts is None:
        try:
            mounts = Path("/proc/mounts").read_text(encoding="utf-8", errors="replace")
        except OSError:  # no such list on this system
            return False
    where = str(path.absolute())
    best, kind = "", ""
    for line in mounts.splitlines():
        parts = line.split()
        if len(parts) < 3:
            continue
        point = parts[1].replace("\\040", " ")
        if (where == point or where.startswith(point.rstrip("/") + "/")) and len(point) >= len(best):
            best, kind = point, parts[2]
    return kind in _NETWORK


def make_private(path: Path) -> None:
    """Make an empty file only this user may read, in a folder only this user may enter if it is new."""
    try:
        path.parent.mkdir(parents=True, mode=0o700, exist_ok=True)
        os.close(os.open(path, os.O_CREAT | os.O_WRONLY, 0o600))
    except OSError as error:
        raise Trouble(f"{path} cannot be written: {error.strerror}.") from error
