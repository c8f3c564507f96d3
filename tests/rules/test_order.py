"""Order of work, with its ties (rules.md 5)."""

from __future__ import annotations

from datetime import date
from itertools import permutations

import pytest

from caseload.records.followups import FollowUp, FollowUpKind, Reason, State
from caseload.rules.order import in_order, late_days, relative_lateness
from tests.rules.build import day

ON = day("2026-06-01")


def row(who: str, due: str, *, anchor: str = "2026-01-05", tier: int = 4, **more: object) -> FollowUp:
    reason = Reason("a rule", day(anchor), "some time", day(due))
    start = min(day(anchor), day(due))
    kind = FollowUpKind.REASSESSMENT
    usual = FollowUp(
        kind, who, "D", "x", start, start, day(due), day("2027-01-01"), None, None, tier, (reason,), 0
    )
    return usual._replace(**more)


def order(*rows: FollowUp, risks: dict[str, tuple[int, bool]] | None = None) -> str:
    """The references in order of work, the same from whatever order they come in."""
    found = {
        " ".join(each.person for each in in_order(some, ON, lambda who: (risks or {}).get(who, (0, False))))
        for some in permutations(rows)
    }
    assert len(found) == 1
    return found.pop()


def test_by_tier_before_anything_else():
    rows = [row(str(tier), "2026-05-01" if tier > 2 else "2026-06-20", tier=tier) for tier in (5, 4, 3, 2, 1)]
    assert order(*rows) == "1 2 3 4 5"


def test_two_weeks_late_on_a_six_week_interval_outranks_two_weeks_late_on_six_months():
    six_weeks = row("b", "2026-05-18", anchor="2026-04-06")
    six_months = row("a", "2026-05-18", anchor="2025-11-18")
    assert (six_weeks.due - six_weeks.anchor).days == 42
    assert relative_lateness(six_weeks, ON) == 14 / 42
    assert relative_lateness(six_months, ON) == 14 / 181
    assert order(six_months, six_weeks) == "b a"


@pytest.mark.parametrize(
    ("due", "anchor", "expected"),
    [
        ("2026-05-31", "2026-05-31", 1 / 5),  # an interval counts as five days at least
        ("2026-05-31", "2026-05-27", 1 / 5),
        ("2026-05-31", "2026-05-26", 1 / 5),
        ("2026-05-31", "2026-05-25", 1 / 6),
        ("2026-06-01", "2026-05-01", 0),
        ("2026-06-02", "2026-05-01", 0),
        ("2026-05-25", "2026-05-30", 7 / 5),  # an anchor after its due date: a date put forward by hand
    ],
)
def test_relative_lateness(due, anchor, expected):
    assert relative_lateness(row("a", due, anchor=anchor), ON) == expected


def test_then_due():
    assert order(row("b", "2026-06-03"), row("a", "2026-06-04")) == "b a"


def test_then_foot_risk_and_vulnerable_skin_first_then_reference():
    rows = [row(who, "2026-06-03") for who in "abcd"]
    assert order(*rows) == "a b c d"
    assert order(*rows, risks={"d": (3, False), "c": (2, True), "b": (0, True)}) == "d c b a"


def test_of_one_person_by_device_kind_and_cause():
    rows = [row("a", "2026-06-03", device=each) for each in ("D2", "D1")]
    found = in_order(rows, ON, lambda who: (0, False))
    assert [each.device for each in found] == ["D1", "D2"]
    persons = [row("a", "2026-06-03", device=None), row("a", "2026-06-03", device="D1")]
    assert in_order(persons, ON, lambda who: (0, False))[0].device is None


def test_what_is_no_longer_owed_is_not_late_and_comes_last():
    done = row("a", "2026-03-02", done=date(2026, 5, 31), tier=1)
    assert late_days(done, ON) == 0
    assert late_days(row("a", "2026-03-02", done=date(2026, 6, 2)), ON) == 91
    assert order(done, row("b", "2026-06-03", tier=5)) == "b a"


STATES = row("a", "2026-06-10", opens=day("2026-06-03"), last_day=day("2026-06-17"))


@pytest.mark.parametrize(
    ("on", "state"),
    [
        ("2026-06-02", State.WAITING),
        ("2026-06-03", State.OPEN),
        ("2026-06-10", State.OPEN),
        ("2026-06-11", State.LATE),
        ("2026-06-17", State.LATE),
        ("2026-06-18", State.MISSED),
    ],
)
def test_states(on, state):
    assert STATES.state(day(on)) == state


def test_done_and_cancelled_from_their_day_on():
    done = STATES._replace(done=day("2026-06-11"))
    assert done.state(day("2026-06-10")) == State.OPEN
    assert done.state(day("2026-06-11")) == State.DONE
    cancelled = STATES._replace(cancelled=day("2026-06-05"))
    assert cancelled.state(day("2026-06-04")) == State.OPEN
    assert cancelled.state(day("2026-06-05")) == State.CANCELLED
