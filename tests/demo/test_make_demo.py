"""The script: the same bytes each time, what the package ships, and any size in the same shape."""

from __future__ import annotations

import subprocess
import sys
from datetime import timedelta
from pathlib import Path

from caseload import demo
from caseload.exchange import workbook
from caseload.records.followups import FollowUpKind
from tests.demo.laid import ledger, planned, shipped_workbook

SCRIPT = Path(__file__).parents[2] / "scripts" / "make_demo"


def make(path: Path, *options: str) -> bytes:
    subprocess.run([sys.executable, SCRIPT, "--out", path, *options], check=True, capture_output=True)
    return path.read_bytes()


def test_what_is_shipped_is_what_the_script_makes(tmp_path: Path) -> None:
    assert make(tmp_path / "a.zip") == demo.WORKBOOK.read_bytes()


def test_the_same_size_and_seed_give_the_same_bytes_and_another_seed_others(tmp_path: Path) -> None:
    first = make(tmp_path / "a.zip", "--size", "150")
    assert make(tmp_path / "b.zip", "--size", "150") == first
    assert make(tmp_path / "c.zip", "--size", "150", "--seed", "2") != first


def test_a_larger_one_has_the_same_shape_and_nobody_twice(tmp_path: Path) -> None:
    make(tmp_path / "a.zip", "--size", "330")
    book, problems = workbook.read(tmp_path / "a.zip")
    assert not problems
    people = [row.record for row in book.rows("people")]
    assert len(people) == len({person.person for person in people}) == 330
    histories: dict[str, list[tuple[object, ...]]] = {}
    for row in book.rows("measures"):
        histories.setdefault(row.subject, []).append((row.on, row.body))
    told = [tuple(rows) for rows in histories.values() if len(rows) > 6]
    assert len(set(told)) >= len(told) * 0.85  # left and right of one person are reviewed together
    today = shipped_workbook()[1]
    made = planned(today, tmp_path / "a.zip")
    assert not made.problems
    assert 1.1 <= len(book.rows("devices")) / 330 <= 1.3
    owed = [row for _, rows in ledger(made).values() for row in rows if row.ended is None]
    assert {row.kind for row in owed} == set(FollowUpKind)
    assert min(row.on for row in book.rows("fit_checks")) < today - timedelta(days=730)


def test_wrong_sizes_are_refused(tmp_path: Path) -> None:
    asked = [sys.executable, str(SCRIPT), "--size", "0", "--out", str(tmp_path / "a.zip")]
    done = subprocess.run(asked, capture_output=True, text=True)
    assert done.returncode == 2
    assert "at least 1" in done.stderr
    assert not (tmp_path / "a.zip").exists()
