"""The course of a device on one line."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caseload.records import fitting, life, review, skin, wear
from caseload.records.devices import Device
from caseload.records.facts import Fact
from caseload.records.followups import FollowUp, FollowUpKind, Reason
from caseload.words.course import TODAY as TODAY_MARK
from caseload.words.course import course, legend

TODAY = date(2026, 11, 24)
DEVICE = Device(device="D1", person="P1", side="left", orthosis="AFO", delivered=date(2026, 3, 3))


def fact(kind: str, on: date, body: object, device: str | None = "D1") -> Fact:
    return Fact(f"{kind}{on}", kind, "P1", device, on, body)


def owed(kind: FollowUpKind, opens: date, due: date, last: date) -> FollowUp:
    why = Reason("rule", opens, "", due)
    return FollowUp(kind, "P1", "D1", "", opens, opens, due, last, None, None, 3, (why,), 0)


HISTORY = [
    fact("fit check", date(2026, 3, 3), fitting.FitCheck(overall="accepted")),
    fact("practice", date(2026, 3, 3), fitting.Practice(who="wearer", don="05", doff="05")),
    fact("wear report", date(2026, 3, 13), wear.WearReport(hours=6)),
    fact("fall", date(2026, 8, 2), life.Fall(), None),
    fact("look", date(2026, 11, 23), skin.Look(area="navicular", how="seen", skin="blister")),
]
NEXT = owed(FollowUpKind.REASSESSMENT, date(2027, 1, 10), date(2027, 2, 9), date(2027, 3, 9))


@pytest.mark.parametrize("width", [44, 60, 76, 116, 196])
def test_it_fills_exactly_the_width_and_tells_the_story_in_order(width: int) -> None:
    line = course(DEVICE, HISTORY, [NEXT], TODAY, width).line
    assert len(line) == width
    assert line.startswith("3 Mar ├FD")
    assert line.rstrip().endswith("due 9 Feb 27")
    places = [line.index(mark, 6) for mark in ("FD", "X", "S", TODAY_MARK, "[", "r", "]")]
    assert places == sorted(places)


def test_quiet_time_is_short_and_says_how_long_it_was() -> None:
    line = course(DEVICE, HISTORY[:3], [NEXT], TODAY, 76).line
    assert " 8 months " in line


def test_what_must_not_be_overlooked_has_its_own_role_and_still_a_letter() -> None:
    drawn = course(DEVICE, HISTORY, [NEXT], TODAY, 100)
    bad = [drawn.line[mark.start : mark.end] for mark in drawn.marks if mark.role == "bad"]
    assert bad == ["X", "S"]
    assert "S look" in legend(drawn.letters)
    assert "r reassessment owed" in legend(drawn.letters)


def test_struck_out_facts_and_those_of_other_devices_are_not_on_it() -> None:
    struck = HISTORY[4]._replace(struck_on=TODAY)
    other = HISTORY[2]._replace(device="D2")
    line = course(DEVICE, [struck, other], [], TODAY, 76).line
    assert "S" not in line
    assert "W" not in line


def test_the_end_of_a_device_is_said() -> None:
    from dataclasses import replace

    ended = replace(DEVICE, ended=date(2026, 10, 1))
    assert course(ended, HISTORY[:3], [], TODAY, 76).line.rstrip().endswith("ended 1 Oct")


@given(
    st.lists(st.integers(0, 900), max_size=120),
    st.lists(st.tuples(st.integers(-60, 200), st.integers(0, 60), st.integers(0, 30)), max_size=5),
    st.integers(40, 220),
)
def test_any_history_fits_on_the_line(ago: list[int], rows: list[tuple[int, int, int]], width: int) -> None:
    facts = [fact("wear report", TODAY - timedelta(days=each), wear.WearReport(hours=1)) for each in ago]
    due = [
        owed(
            FollowUpKind.WEAR_CHECK,
            TODAY + timedelta(a),
            TODAY + timedelta(a + b),
            TODAY + timedelta(a + b + c),
        )
        for a, b, c in rows
    ]
    drawn = course(DEVICE, facts, due, TODAY, width)
    assert len(drawn.line) == width
    assert all(0 <= mark.start < mark.end for mark in drawn.marks)


def test_reassessments_far_apart_still_show_one_letter_each() -> None:
    facts = [
        fact(
            "reassessment", date(2025, 1, 1) + timedelta(days=60 * n), review.Reassessment(decision="continue")
        )
        for n in range(10)
    ]
    device = Device(device="D1", person="P1", side="left", orthosis="AFO", delivered=date(2025, 1, 1))
    assert course(device, facts, [], TODAY, 116).line.count("R") == 10
