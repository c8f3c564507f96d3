"""Ratios without a screen: rebuilding, recording, a clinician's week, loading a workbook."""

from __future__ import annotations

import csv
import io
import random
import sqlite3
import statistics
import time
import zipfile
from collections.abc import Iterator
from pathlib import Path

from benching.caseloads import Caseloads
from benching.ratio import Ratio, in_turn, seconds
from caseload.acts.desk import Desk
from caseload.acts.drafts import Draft
from caseload.acts.facts import record
from caseload.acts.load import load
from caseload.rules.order import sort_key
from caseload.screens import asking
from caseload.store import ledger, open_store, owed

SMALL = 1000


def rebuild(caseloads: Caseloads) -> Iterator[Ratio]:
    """Working out all that is owed anew: the time for one person must not grow with the caseload."""

    def per_person(size: int) -> tuple[float, float]:
        def all_of_it() -> None:
            with store.change():
                ledger.rebuild_all(store)

        with caseloads.opened(size) as store:
            before = time.process_time()
            wall = seconds(all_of_it) / size
            return wall, (time.process_time() - before) / size

    size, small = caseloads.size, min(SMALL, caseloads.size)
    large, little = [], []
    for _ in range(3):
        # Small ones before and after each large one: a busy machine then slows both alike.
        little += [per_person(small) for _ in range(4)]
        large.append(per_person(size))
        little += [per_person(small) for _ in range(4)]
    for which, what, goal in (
        (0, f"full rebuild, per person, {size:,} over {small:,}", 1.2),
        (1, "the same in processor time", None),
    ):
        ours, theirs = (statistics.median(each[which] for each in found) for found in (large, little))
        yield Ratio(what, ours, theirs, goal)


def recording(caseloads: Caseloads, times: int = 300) -> Iterator[Ratio]:
    """One fact by the real act (rebuild, audit, commit) over two rows put into the same file and committed."""
    path = caseloads.database(caseloads.size)
    bare = sqlite3.connect(path, isolation_level=None)
    bare.execute("PRAGMA synchronous=FULL")
    assert bare.execute("PRAGMA journal_mode").fetchone() == ("wal",)
    bare.execute("CREATE TABLE IF NOT EXISTS bare (a TEXT, b TEXT)")

    def two_rows() -> None:
        bare.execute("BEGIN IMMEDIATE")
        bare.execute("INSERT INTO bare VALUES (?, ?)", ("one row", "of two"))
        bare.execute("INSERT INTO bare VALUES (?, ?)", ("another", "of two"))
        bare.execute("COMMIT")

    with caseloads.opened(caseloads.size) as store:
        desk = Desk(store, "bench", caseloads.today)
        devices = [row[0] for row in store.all('SELECT "device" FROM devices WHERE "ended" IS NULL')]
        chosen = iter(random.Random(1).sample(devices, min(times, len(devices))))
        values = {"hours": 7.0, "skin": "clear"}
        ours, theirs = in_turn(
            lambda: record(desk, [Draft("wear report", caseloads.today, values, device=next(chosen))]),
            two_rows,
            min(times, len(devices)),
        )
    bare.close()
    yield Ratio("recording one fact over a bare two-row insert", ours, theirs, 15)


_RAW = (
    "SELECT f.*, p.family_name, p.given_name FROM follow_ups f JOIN people p ON p.person = f.person"
    " WHERE (f.clinician = ?1 AND f.owed_until > ?2 AND f.opens <= ?3) OR (f.site IN"
    " (SELECT DISTINCT site_now FROM people WHERE clinician_now = ?1) AND f.tier = 1 AND f.owed_until > ?2)"
)


def week(caseloads: Caseloads, times: int = 60) -> Iterator[Ratio]:
    """A clinician's list in order of work over the same rows as sqlite3 gives them."""
    today, soon = caseloads.today, caseloads.today + asking.SOON
    with caseloads.opened(caseloads.size) as store:
        raw = sqlite3.connect(caseloads.database(caseloads.size))
        names = [row[0] for row in store.all('SELECT DISTINCT "clinician_now" FROM people ORDER BY 1')]
        chosen = random.Random(2).sample(names, min(times, len(names)))
        turns = (
            iter([name for name in chosen for _ in range(2)]),
            iter([name for name in chosen for _ in range(2)]),
        )
        found = []

        def theirs(name: str) -> list[tuple[object, ...]]:
            return raw.execute(_RAW, (name, today.isoformat(), soon.isoformat())).fetchall()

        def ours(name: str) -> list[owed.Listed]:
            rows = owed.week(store, [name], today, soon)
            return sorted(rows, key=lambda each: sort_key(each.row, today, each.risk))

        for name in chosen:
            found.append(len(theirs(name)))
            assert len(ours(name)) == found[-1], name
        a, b = in_turn(lambda: ours(next(turns[0])), lambda: theirs(next(turns[1])), len(chosen))
        note = f"{statistics.median(found):.0f} rows of {caseloads.size:,} people"
        yield Ratio("one clinician's week over the raw query", a, b, 10, note)
        again = iter(chosen), iter(chosen)
        c, d = in_turn(
            lambda: asking.week(store, asking.Whose(next(again[0])), "", today),
            lambda: theirs(next(again[1])),
            len(chosen),
        )
        yield Ratio("the same with all else the screen shows of it", c, d, None)
        raw.close()


def loading(caseloads: Caseloads) -> Iterator[Ratio]:
    """The real act (checks, audit, ledger) over the csv module and executemany, one table a sheet."""
    path = caseloads.workbook(caseloads.size)
    ours_at, theirs_at = caseloads.folder / "loaded.db", caseloads.folder / "plain.db"
    lines = 0

    def ours() -> None:
        with open_store(str(ours_at), create=True) as store:
            load(Desk(store, "bench", caseloads.today), path)

    def theirs() -> None:
        nonlocal lines
        lines = _plain_load(path, theirs_at)

    times = []
    for _ in range(2):
        for place in (ours_at, theirs_at):
            for ending in ("", "-wal", "-shm"):
                Path(f"{place}{ending}").unlink(missing_ok=True)
        times.append((seconds(ours), seconds(theirs)))
    a, b = (min(each) for each in zip(*times, strict=True))
    yield Ratio(
        "loading a workbook over csv and executemany", a, b, 6, f"{lines:,} lines; the better of two runs"
    )


def _plain_load(path: Path, place: Path) -> int:
    """Every sheet into a table of its own with the same columns, in one committed transaction."""
    lines = 0
    db = sqlite3.connect(place, isolation_level=None)
    db.execute("PRAGMA journal_mode=WAL")
    db.execute("PRAGMA synchronous=FULL")
    db.execute("BEGIN IMMEDIATE")
    with zipfile.ZipFile(path) as archive:
        for name in archive.namelist():
            if not name.endswith(".csv"):
                continue
            with archive.open(name) as raw:
                rows = csv.reader(io.TextIOWrapper(raw, "utf-8", newline=""))
                heads = next(rows)
                columns = ", ".join(f'"{head}"' for head in heads)
                db.execute(f"CREATE TABLE {name.removesuffix('.csv')} ({columns})")
                told = list(rows)
                marks = ", ".join("?" * len(heads))
                db.executemany(f"INSERT INTO {name.removesuffix('.csv')} VALUES ({marks})", told)
                lines += len(told)
    db.execute("COMMIT")
    db.close()
    return lines
