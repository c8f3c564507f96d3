"""An 80-person list taken over in full swing shows a first Monday that can be worked."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

import pytest

from caseload.acts.desk import Desk
from caseload.acts.load import load
from caseload.records.followups import FollowUp, FollowUpKind, State
from caseload.store import open_store
from caseload.store.owed import listed

TOP = Path(__file__).parents[2]
LIST = TOP / "fixtures" / "taking_over" / "workbook"
MONDAY = date(2026, 11, 23)
WEEK = timedelta(weeks=1)


@pytest.fixture(scope="module")
def rows() -> list[FollowUp]:
    with open_store(":memory:") as store:
        load(Desk(store, "nobody", MONDAY), LIST)
        return [each.row for each in listed(store, MONDAY)]


def test_the_first_monday_can_be_worked(rows: list[FollowUp]) -> None:
    states = Counter(row.state(MONDAY) for row in rows)
    assert states[State.LATE] == states[State.MISSED] == 0
    this_week = [row for row in rows if row.due < MONDAY + WEEK]
    assert len(this_week) == 6  # over two therapists; 93 devices over 12 weeks would be 8
    assert {row.tier for row in rows} <= {3, 4, 5}


def test_exactly_one_reassessment_is_owed_for_each_device_taken_over(rows: list[FollowUp]) -> None:
    owed = Counter(row.device for row in rows if row.kind is FollowUpKind.REASSESSMENT)
    assert len(owed) == 93
    assert set(owed.values()) == {1}


def test_devices_without_a_last_review_are_spread(rows: list[FollowUp]) -> None:
    spread = [row for row in rows if row.why.rule.startswith("taken over")]
    by_week = Counter((row.due - MONDAY) // WEEK for row in spread)
    assert len(spread) >= 40
    assert max(by_week.values()) <= 8, by_week
    assert set(by_week) <= set(range(1, 14))


def test_nothing_is_missed_at_a_steady_pace(rows: list[FollowUp]) -> None:
    """What had its last review long ago falls due together, two weeks on; it opens early and has its grace."""
    reviews = [row for row in rows if row.kind is FollowUpKind.REASSESSMENT]
    due = Counter((row.due - MONDAY) // WEEK for row in reviews)
    assert due[2] == max(due.values()) == 31
    assert _missed(reviews, a_week=8) == 0
    assert _missed(reviews, a_week=5) > 0


def _missed(rows: Sequence[FollowUp], a_week: int) -> int:
    """How many miss their last day when so many a week are done, the nearest last day first."""
    left, monday, missed = list(rows), MONDAY, 0
    while left:
        now = sorted(
            (row for row in left if row.opens <= monday + timedelta(days=4)), key=lambda row: row.last_day
        )
        missed += sum(1 for row in now[:a_week] if row.last_day < monday)
        left = [row for row in left if row not in now[:a_week]]
        monday += WEEK
    return missed


def test_the_list_is_what_the_script_makes(tmp_path: Path) -> None:
    script = TOP / "scripts" / "make_demo"
    asked = [sys.executable, str(script), "--taking-over", "--size", "80", "--out", str(tmp_path / "list")]
    subprocess.run(asked, check=True, capture_output=True)
    for file in LIST.iterdir():
        assert (tmp_path / "list" / file.name).read_bytes() == file.read_bytes(), file.name
