"""What stands at a place, said plainly; migrations with a copy kept before."""

import shutil
import sqlite3
import stat
from pathlib import Path

import peewee
import pytest

from caseload.acts import facts
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.errors import NotOurs, Trouble
from caseload.store import cases, open_store, store
from caseload.store.files import on_network
from tests.store.databases import TODAY, someone


def test_a_new_file_is_private(tmp_path: Path) -> None:
    path = tmp_path / "folder" / "caseload.db"
    with open_store(str(path), create=True) as opened:
        assert opened.all("SELECT * FROM people") == []
        assert {file.name for file in path.parent.iterdir()} >= {"caseload.db", "caseload.db-wal"}
        for file in path.parent.iterdir():
            assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_what_is_not_there_reads_as_empty_and_is_not_made(tmp_path: Path) -> None:
    path = tmp_path / "caseload.db"
    with open_store(str(path)) as opened:
        assert opened.all("SELECT * FROM follow_ups") == []
        assert opened.rulebooks[0].protocol.version
    assert list(tmp_path.iterdir()) == []


def test_an_empty_file_is_taken_only_to_write(tmp_path: Path) -> None:
    path = tmp_path / "caseload.db"
    path.touch()
    open_store(str(path)).close()
    assert path.stat().st_size == 0
    open_store(str(path), create=True).close()
    assert path.stat().st_size > 0


def test_how_it_is_opened(file: str) -> None:
    with open_store(file) as opened:
        assert opened.db.journal_mode == "wal"
        assert (opened.db.foreign_keys, opened.db.synchronous) == (1, 2)
        assert (opened.db.application_id, opened.db.user_version) == (0x434C4F44, 1)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"person,born\nP1,2020-01-01\n", "text file"),
        (b"PK\x03\x04 and so on", "zip archive or a spreadsheet"),
        (bytes(range(128, 256)) * 40, "encrypted or damaged"),
    ],
)
def test_a_strangers_file_is_named_and_left_alone(tmp_path: Path, content: bytes, says: str) -> None:
    path = tmp_path / "caseload.db"
    path.write_bytes(content)
    for create in (False, True):
        with pytest.raises(NotOurs, match=says):
            open_store(str(path), create=create)
    assert path.read_bytes() == content
    assert [file.name for file in tmp_path.iterdir()] == ["caseload.db"]


def test_a_strangers_database_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "caseload.db"
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE songs (name)")
    other.close()
    content = path.read_bytes()
    with pytest.raises(NotOurs, match="another program"):
        open_store(str(path), create=True)
    assert path.read_bytes() == content


def test_a_folder_and_a_missing_folder(tmp_path: Path) -> None:
    with pytest.raises(NotOurs, match="is a folder"):
        open_store(str(tmp_path))
    (tmp_path / "file").touch()
    with pytest.raises(Trouble, match="cannot be written"):
        open_store(str(tmp_path / "file" / "caseload.db"), create=True)


def test_a_file_cut_short_is_damaged(file: str) -> None:
    path = Path(file)
    path.write_bytes(path.read_bytes()[:-5000])
    with pytest.raises(Trouble, match=r"is damaged\. Keep the file"):
        open_store(file)


def test_damage_inside_is_said_when_it_is_met(file: str) -> None:
    path = Path(file)
    content = bytearray(path.read_bytes())
    for page in range(1, len(content) // 4096):
        content[page * 4096 : page * 4096 + 4096] = b"\xa5" * 4096
    path.write_bytes(content)
    with pytest.raises(Trouble, match="damaged"), open_store(file) as opened:
        opened.all("SELECT * FROM people")


def test_a_newer_version_is_not_touched(file: str) -> None:
    with sqlite3.connect(file) as newer:
        newer.execute("PRAGMA user_version = 99")
    newer.close()
    with pytest.raises(NotOurs, match="newer version"):
        open_store(file)


def test_another_kind_of_address() -> None:
    with pytest.raises(Trouble, match="no database known here"):
        open_store("mysql://localhost/x")
    with pytest.raises(Trouble, match="cannot be reached"):
        open_store("postgresql://localhost:1/nothing?connect_timeout=1")


def test_a_network_folder_is_refused() -> None:
    mounts = (
        "/dev/sda1 / ext4 rw 0 0\nserver:/share /mnt/share nfs4 rw 0 0\n"
        "//nas/home /mnt/my\\040home cifs rw 0 0\n/dev/sdb1 /mnt/share/local ext4 rw 0 0\n"
    )
    assert on_network(Path("/mnt/share/caseload.db"), mounts)
    assert on_network(Path("/mnt/my home/a/caseload.db"), mounts)
    assert not on_network(Path("/mnt/share/local/caseload.db"), mounts)
    assert not on_network(Path("/mnt/shared/caseload.db"), mounts)


def _newer(tmp_path: Path, text: str) -> Path:
    """A folder of migrations that goes one further."""
    folder = tmp_path / "migrations"
    shutil.copytree(store._MIGRATIONS, folder)
    (folder / "0002_more.py").write_text(text)
    return folder


def test_the_file_is_copied_before_it_is_migrated(
    file: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    more = "def up(migrator, db):\n    db.execute_sql('ALTER TABLE people ADD COLUMN shoe TEXT')\n"
    monkeypatch.setattr(store, "_MIGRATIONS", _newer(tmp_path, more))
    with open_store(file) as opened:
        assert opened.all("SELECT shoe FROM people") == []
        assert opened.db.user_version == 2
    copy = tmp_path / "caseload.before-0002.db"
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    monkeypatch.undo()
    with open_store(str(copy)) as before:
        assert before.db.user_version == 1


def test_a_migration_that_fails_leaves_the_file_as_it_was(
    file: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    more = (
        "def up(migrator, db):\n    db.execute_sql('ALTER TABLE people ADD COLUMN shoe TEXT')\n"
        "    db.execute_sql('ALTER TABLE nothing ADD COLUMN shoe TEXT')\n"
    )
    monkeypatch.setattr(store, "_MIGRATIONS", _newer(tmp_path, more))
    with pytest.raises(peewee.OperationalError, match="nothing"):
        open_store(file)
    monkeypatch.undo()
    with open_store(file) as opened:
        assert "shoe" not in {column.name for column in opened.db.get_columns("people")}


def test_a_creation_cut_off_half_way_is_finished_the_next_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = str(tmp_path / "caseload.db")

    def fail(*_: object) -> None:
        raise RuntimeError("pulled the plug")

    for step in ("caseload.store.engines.append_only", "caseload.store.basis.settle"):
        monkeypatch.setattr(step, fail)
        with pytest.raises(RuntimeError):
            open_store(path, create=True)
        monkeypatch.undo()
    with open_store(path, create=True) as opened:
        assert len(opened.rulebooks) == 1


def test_a_full_disk_is_said_and_what_was_saved_is_kept(quick: Desk) -> None:
    someone(quick)
    quick.store.run("PRAGMA max_page_count = 70")
    saved = 0
    note = "x" * 3000
    with pytest.raises(Trouble, match="disk is full"):
        while True:
            draft = Draft("contact", TODAY, {"how": "phone", "outcome": "reached"}, person="P1", note=note)
            facts.record(quick, [draft])
            saved += 1
    assert saved > 3
    assert len(cases.case(quick.store, "P1").facts) == saved
    assert quick.store.one("PRAGMA quick_check") == ("ok",)


def test_a_read_only_file_is_said(file: str, monkeypatch: pytest.MonkeyPatch) -> None:
    with open_store(file) as opened:
        opened.run("PRAGMA query_only = 1")
        with pytest.raises(Trouble, match="read-only; nothing was saved"):
            someone(Desk(opened, "imogen", TODAY))
