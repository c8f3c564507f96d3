"""Plans as steps, and the plan day of each day (rules.md 4.3). 2 March 2026 is a Monday."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caseload.records.words import Grade
from caseload.rules.clocks.wear import steps_of
from caseload.rules.protocol import shipped
from caseload.rules.wear_days import PlanDays, Stop, Watches
from caseload.rules.wear_steps import Step, read_steps

MONDAY = date(2026, 3, 2)


def march(n: int) -> date:
    return MONDAY + timedelta(days=n - 2)


def plan_day(
    on: int,
    *stops: tuple[int, int | None],
    watched: tuple[int, ...] = (),
    check_due: int | None = None,
    plan: str = "standard",
) -> int:
    """The plan day on a day of March of a plan begun on the 2nd; stops from a day up to, not with, another."""
    found = [Stop(march(first), march(until) if until else None, "") for first, until in stops]
    looks = Watches((march(n), 1, n, Grade.WATCH) for n in watched)
    days = PlanDays(MONDAY, steps_of(plan, False, shipped().wear), found, looks, 7)
    days.move_to(march(on), march(check_due) if check_due else None)
    return days.plan_day


def test_zero_on_the_plans_date_and_one_more_each_day():
    assert [plan_day(n) for n in (2, 3, 9, 30)] == [0, 1, 7, 28]


def test_the_day_after_a_held_day_repeats_it():
    """Watched on the 4th (plan day 2) and nothing since: the 5th and every later day stay at 2."""
    assert [plan_day(n, watched=(4,)) for n in (4, 5, 9)] == [2, 2, 2]


def test_held_after_the_due_date_of_the_wear_check_that_is_not_done():
    """Due on the 5th (plan day 3): the 6th is day 4 but held, so the 7th is 4 still."""
    assert [plan_day(n, check_due=5) for n in (5, 6, 7, 10)] == [3, 4, 4, 4]


def test_on_the_first_day_after_a_stop_back_to_the_first_day_of_the_step_before():
    """Stopped on the 5th (plan day 3, the fourth step of a day each): the 6th goes back to the third."""
    assert [plan_day(n, (5, 6)) for n in (5, 6, 7)] == [3, 2, 3]
    # Two days a step, day 5 is the second day of the third step: back to the first day of the second.
    assert plan_day(8, (7, 8), plan="standard slow") == 2


def test_the_plan_day_stands_still_during_a_stop():
    assert [plan_day(n, (5, 9)) for n in (5, 6, 8, 9)] == [3, 3, 3, 2]


def test_from_a_day_without_limit_back_to_the_last_step():
    """Seven steps of a day: the 20th is plan day 18, without limit; after a stop that day, plan day 6."""
    assert plan_day(21, (20, 21)) == 6


@pytest.mark.parametrize(("length", "expected"), [(1, 2), (5, 2), (6, 2), (7, 0), (8, 0), (12, 0)])
def test_after_six_days_the_step_before_after_seven_from_the_beginning(length, expected):
    assert plan_day(5 + length, (5, 5 + length)) == expected


def test_two_stops_that_touch_are_one_stop():
    """Four days for one reason and four for another: eight days not worn."""
    assert plan_day(13, (5, 9), (9, 13)) == 0
    assert plan_day(13, (5, 10), (7, 13)) == 0


def test_a_stop_on_the_first_day_goes_back_no_further():
    assert plan_day(3, (2, 3)) == 0


def test_a_stop_not_lifted_stands():
    assert plan_day(30, (5, None)) == 3


READY = {
    # Hours as rules.md 4.3 names them: spell, rest, most in all.
    "standard": [
        (1, 2, 1, 6),
        (1, 3, 1, 8),
        (1, 4, 1, 10),
        (1, 5, 1, 12),
        (1, 6, 1, None),
        (1, 7, 1, None),
        (1, 8, 1, None),
    ],
    "standard slow": [
        (2, 2, 1, 6),
        (2, 3, 1, 8),
        (2, 4, 1, 10),
        (2, 5, 1, 12),
        (2, 6, 1, None),
        (2, 7, 1, None),
        (2, 8, 1, None),
    ],
    "gentle": [(1, None, None, most) for most in (1, 2, 4, 6, 7, 8)],
}


@pytest.mark.parametrize(("plan", "steps"), READY.items())
def test_ready_made_plans(plan, steps):
    assert steps_of(plan, False, shipped().wear) == tuple(Step(*step) for step in steps)


def test_gentle_with_vulnerable_skin():
    most = (0.5, 1, 1.5, 2, 3, 4, 5, 6, 8)
    expected = tuple(Step(1, 1 if n < 3 else None, None, hours) for n, hours in enumerate(most))
    assert steps_of("gentle", True, shipped().wear) == expected
    assert steps_of("standard", True, shipped().wear) == steps_of("standard", False, shipped().wear)


def test_steps_as_a_workbook_writes_them():
    steps, wrong = read_steps("1d 2h/1h max 6h; 2D 3.5h ;3d max 8h; 4d")
    assert not wrong
    assert steps == (
        Step(1, 2, 1, 6),
        Step(2, 3.5, None, None),
        Step(3, None, None, 8),
        Step(4, None, None, None),
    )


@pytest.mark.parametrize(
    "text", ["", "2h", "0d 2h", "1d 2h/1h max 6h;", "1d 25h", "1d 0h", "one day", "1d max 6"]
)
def test_steps_that_are_not_understood_say_which(text):
    steps, wrong = read_steps(text)
    assert steps == ()
    assert "step" in wrong


@given(st.text(max_size=60) | st.text(alphabet="0123456789dh/. max;", max_size=30))
def test_no_text_breaks_the_reader_of_steps(text):
    steps, wrong = read_steps(text)
    assert bool(steps) != bool(wrong)
