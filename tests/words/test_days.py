"""What people type for a date, and how dates are said to them; seen from Tuesday 24 November 2026."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caseload.words import days

TODAY = date(2026, 11, 24)


@pytest.mark.parametrize(
    ("typed", "past", "ahead"),
    [
        ("today", "2026-11-24", "2026-11-24"),
        ("yesterday", "2026-11-23", "2026-11-23"),
        ("Tue", "2026-11-24", "2026-11-24"),
        ("mon", "2026-11-23", "2026-11-30"),
        ("thurs", "2026-11-19", "2026-11-26"),
        ("last tue", "2026-11-17", "2026-11-17"),
        ("3 dec", "2025-12-03", "2026-12-03"),
        ("3 November", "2026-11-03", "2026-11-03"),
        ("Dec 3, 2025", "2025-12-03", "2025-12-03"),
        ("tues 3 march 2026", "2026-03-03", "2026-03-03"),
        ("3rd sept", "2026-09-03", "2027-09-03"),
        ("2026-11-03", "2026-11-03", "2026-11-03"),
        ("24/11/2026", "2026-11-24", "2026-11-24"),
        ("11/24/26", "2026-11-24", "2026-11-24"),
        ("3.11.2026", "2026-11-03", "2026-11-03"),
        ("11/11", "2026-11-11", "2026-11-11"),
        ("-3d", "2026-11-21", "2026-11-21"),
        ("- 2 weeks", "2026-11-10", "2026-11-10"),
        ("-1m", "2026-10-24", "2026-10-24"),
        ("3 weeks ago", "2026-11-03", "2026-11-03"),
        ("a week ago", "2026-11-17", "2026-11-17"),
        ("29 feb", "2024-02-29", "2028-02-29"),
    ],
)
def test_read(typed: str, past: str, ahead: str) -> None:
    assert days.read(typed, TODAY) == days.Day(date.fromisoformat(past))
    assert days.read(typed, TODAY, ahead=True) == days.Day(date.fromisoformat(ahead))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("tomorrow", "2026-11-25"),
        ("next tue", "2026-12-01"),
        ("this fri", "2026-11-27"),
        ("+2w", "2026-12-08"),
        ("in 3 weeks", "2026-12-15"),
        ("+1m", "2026-12-24"),
    ],
)
def test_a_plan_may_lie_ahead_and_a_fact_may_not(typed: str, expected: str) -> None:
    assert days.read(typed, TODAY, ahead=True).day == date.fromisoformat(expected)
    refused = days.read(typed, TODAY)
    assert refused.day is None
    assert "lies ahead" in refused.problem


def test_a_date_that_may_be_two_is_refused_with_both() -> None:
    found = days.read("3/12/2026", TODAY, ahead=True)
    assert found.day is None
    assert "Thu 3 Dec 2026" in found.problem
    assert "Thu 12 Mar 2026" in found.problem
    assert "type 3 dec or 12 mar" in found.problem


@pytest.mark.parametrize(
    "typed", ["31 apr", "2026-02-30", "soon", "99", "in 3 elephants", "+99999y", "32/13/2026"]
)
def test_what_is_no_date_is_said_to_be_none(typed: str) -> None:
    found = days.read(typed, TODAY, ahead=True)
    assert found.day is None
    assert found.problem.endswith(".")


def test_nothing_typed_is_no_problem() -> None:
    assert days.read("  ", TODAY) == days.Day(None)


@given(st.dates(date(1900, 1, 1), date(2199, 12, 31)), st.dates(date(1900, 1, 1), date(2199, 12, 31)))
def test_a_date_said_in_full_is_read_as_itself(day: date, today: date) -> None:
    assert days.read(days.full(day), today, ahead=True).day == day
    assert days.read(day.isoformat(), today, ahead=True).day == day


@given(st.text(max_size=30))
def test_any_text_is_a_day_or_a_sentence(text: str) -> None:
    found = days.read(text, TODAY)
    assert found.day is None or found.day <= TODAY
    assert not (found.day and found.problem)


@pytest.mark.parametrize(
    ("shift", "said"),
    [
        (0, "today"), (1, "tomorrow"), (-1, "yesterday"), (2, "Thu"), (6, "Mon"), (7, "in 7 days"),
        (13, "in 13 days"),
        (21, "in 3 weeks"), (-3, "3 days ago"), (-61, "9 weeks ago"), (120, "in 4 months"),
        (-800, "2 years ago"),
    ],
)  # fmt: skip
def test_near(shift: int, said: str) -> None:
    assert days.near(TODAY + timedelta(days=shift), TODAY) == said


@pytest.mark.parametrize("typed", ["fri 24 nov", "on monday 24 november", "wed nov 24"])
def test_a_weekday_that_is_not_the_dates_is_refused(typed: str) -> None:
    found = days.read(typed, date(2026, 11, 25))
    assert found.day is None
    assert "24 Nov 2026 is a Tuesday, not a" in found.problem


def test_a_weekday_that_is_the_dates_is_taken() -> None:
    assert days.read("tue 24 nov", date(2026, 11, 25)).day == date(2026, 11, 24)
    assert days.read("mon 23 nov", date(2026, 11, 25), ahead=True).day == date(2026, 11, 23)


def test_a_plan_may_have_begun_within_the_last_month() -> None:
    today = date(2026, 11, 25)
    assert days.read("20 nov", today, ahead=True).day == date(2026, 11, 20)
    assert days.read("25 oct", today, ahead=True).day == date(2026, 10, 25)
    assert days.read("24 oct", today, ahead=True).day == date(2027, 10, 24)
    assert days.read("20 dec", date(2027, 1, 3), ahead=True).day == date(2026, 12, 20)
