"""Away and pause: what moves a due date that is already set (rules.md 4)."""

from __future__ import annotations

import pytest

from tests.rules.build import case, device, fact, ledger, rows


def practice(*facts):
    """Delivered on Monday 2 March: the first practice is due a week later, on the 9th."""
    return ledger(case(*facts), "donning practice")[0]


def test_nothing_moves_it():
    assert practice() == "03-02 03-03 03-09 03-16 tier 3 owed"


@pytest.mark.parametrize(
    ("left", "back", "expected"),
    [
        # Back on Wednesday 11th: two working days later is Friday 13th; opens 6 d before, grace 7 d.
        ("2026-03-05", "2026-03-11", "03-02 03-07 03-13 03-20 tier 3 owed"),
        # Gone on the due date itself.
        ("2026-03-09", "2026-03-11", "03-02 03-07 03-13 03-20 tier 3 owed"),
        # Gone the day after it was due: it does not wait for the device any more.
        ("2026-03-10", "2026-03-11", "03-02 03-03 03-09 03-16 tier 3 owed"),
        # Back early: two working days after Tuesday 3rd is sooner than due.
        ("2026-03-02", "2026-03-03", "03-02 03-03 03-09 03-16 tier 3 owed"),
        # Left and back on one day: it was never away.
        ("2026-03-09", "2026-03-09", "03-02 03-03 03-09 03-16 tier 3 owed"),
        # Back on the Thursday before Easter: Wednesday 8 April.
        ("2026-03-05", "2026-04-02", "03-02 04-02 04-08 04-15 tier 3 owed"),
    ],
)
def test_due_two_working_days_after_it_is_back_where_that_is_later(left, back, expected):
    assert practice(fact("away", left, back=back)) == expected


def test_while_it_is_not_back_two_working_days_after_the_promised_day():
    """Promised for Saturday 14th: Tuesday 17th."""
    away = fact("away", "2026-03-05", promised="2026-03-14")
    assert practice(away) == "03-02 03-11 03-17 03-24 tier 3 owed"


def test_or_else_after_the_fifth_working_day_since_it_left():
    """Left on Thursday 5th: the fifth working day since is Thursday 12th, due Monday 16th."""
    assert practice(fact("away", "2026-03-05")) == "03-02 03-10 03-16 03-23 tier 3 owed"


def test_a_row_done_before_it_left_is_not_moved():
    done = fact("practice", "2026-03-04", who="wearer", don="03", doff="03")
    assert (
        practice(done, fact("away", "2026-03-05", back="2026-03-20"))
        == "03-02 03-03 03-09 03-16 tier 3 done 03-04"
    )
    assert (
        practice(done, fact("away", "2026-03-04", back="2026-03-20"))
        == "03-02 03-03 03-09 03-16 tier 3 done 03-04"
    )


def test_a_row_not_done_on_some_day_when_it_is_away_is_moved_though_done_later():
    done = fact("practice", "2026-03-06", who="wearer", don="03", doff="03")
    assert (
        practice(done, fact("away", "2026-03-05", back="2026-03-11"))
        == "03-02 03-07 03-13 03-20 tier 3 done 03-06"
    )


def test_a_second_absence_moves_on_from_the_date_of_the_first():
    """Due 13th after the first; gone again on the 12th, back Monday 16th: due Wednesday 18th."""
    twice = [fact("away", "2026-03-05", back="2026-03-11"), fact("away", "2026-03-12", back="2026-03-16")]
    assert practice(*twice) == "03-02 03-12 03-18 03-25 tier 3 owed"


def test_adjustments_and_skin_never_wait_for_the_device():
    away = fact("away", "2026-03-05", back="2026-03-30")
    ask = fact("adjustment request", "2026-03-05", request="Q1", cause="discomfort")
    look = fact("look", "2026-03-05", area="heel", how="seen", skin="mark", fade_minutes=25)
    found = case(away, ask, look)
    assert ledger(found, "adjustment") == ["03-05 03-05 03-19 03-26 tier 3 owed"]
    assert ledger(found, "skin look") == ["03-05 03-05 03-12 03-19 tier 3 owed"]


def pause(on, until):
    return fact("pause", on, until=until, reason="in hospital")


@pytest.mark.parametrize(
    ("on", "until", "expected"),
    [
        # Until Friday 13th: two working days later is Tuesday 17th.
        ("2026-03-05", "2026-03-13", "03-02 03-11 03-17 03-24 tier 3 owed"),
        ("2026-03-09", "2026-03-09", "03-02 03-05 03-11 03-18 tier 3 owed"),
        ("2026-03-10", "2026-03-13", "03-02 03-03 03-09 03-16 tier 3 owed"),
        ("2026-02-02", "2026-03-08", "03-02 03-03 03-09 03-16 tier 3 owed"),
    ],
)
def test_due_in_a_pause_becomes_due_two_working_days_after_it(on, until, expected):
    assert practice(pause(on, until)) == expected


def test_a_pause_begun_on_or_after_the_day_the_row_ended_moves_nothing():
    done = fact("practice", "2026-03-05", who="wearer", don="03", doff="03")
    assert practice(done, pause("2026-03-05", "2026-03-20")) == "03-02 03-03 03-09 03-16 tier 3 done 03-05"
    assert practice(done, pause("2026-03-04", "2026-03-13")) == "03-02 03-11 03-17 03-24 tier 3 done 03-05"


def test_away_first_then_pause():
    """Away moves it to the 13th, into a pause until the 20th: due Tuesday 24th."""
    found = [pause("2026-03-12", "2026-03-20"), fact("away", "2026-03-05", back="2026-03-11")]
    assert practice(*found) == "03-02 03-18 03-24 03-31 tier 3 owed"
    (row,) = rows(case(*found), "donning practice")
    assert row.moved == "a pause"


def test_one_pause_into_the_next():
    """Until the 10th would make it the 12th, which lies in the next, until the 17th: due the 19th."""
    assert practice(pause("2026-03-05", "2026-03-10"), pause("2026-03-11", "2026-03-17")) == (
        "03-02 03-13 03-19 03-26 tier 3 owed"
    )


def test_skin_adjustments_and_escalations_never_move():
    long = pause("2026-03-02", "2026-04-30")
    ask = fact("adjustment request", "2026-03-05", request="Q1", cause="worn out")
    look = fact("look", "2026-03-05", area="heel", how="seen", skin="mark", fade_minutes=25)
    told = fact("escalation", "2026-03-05", escalation="E1", to="medical", why="fever")
    found = case(long, ask, look, told)
    assert ledger(found, "adjustment") == ["03-05 03-05 04-02 04-20 tier 4 owed"]
    assert ledger(found, "skin look") == ["03-05 03-05 03-12 03-19 tier 3 owed"]
    assert ledger(found, "escalation") == ["03-05 03-05 03-05 03-06 tier 1 owed"]


def test_reassessments_move_by_the_tier_of_their_binding_rule():
    """Settling-in of the 16th waits for the pause; a serious fall (tier 2) does not."""
    long = pause("2026-03-02", "2026-03-20")
    assert ledger(case(long), "reassessment") == ["03-02 03-19 03-24 03-31 tier 4 owed"]
    fall = fact("fall", "2026-03-03", hurt=True)
    assert ledger(case(long, fall), "reassessment") == ["03-02 03-02 03-10 03-12 tier 2 owed"]


def test_rebooking_supply_workshop_and_replacement_wait_for_a_pause():
    long = pause("2026-03-02", "2026-03-20")
    missed = fact("contact", "2026-03-03", how="clinic", outcome="did not attend")
    away = fact("away", "2026-03-03", promised="2026-03-10")
    found = case(
        long,
        missed,
        away,
        devices=[device(ordered="2026-01-05", promised="2026-03-09", delivered="2026-03-02")],
    )
    assert ledger(found, "rebooking") == ["03-03 03-03 03-24 03-27 tier 4 owed"]
    assert ledger(found, "back from workshop") == ["03-03 03-03 03-24 03-26 tier 3 owed"]


def test_back_from_workshop_after_a_fall_is_tier_1_and_does_not_wait():
    long = pause("2026-03-02", "2026-03-20")
    found = case(long, fact("away", "2026-03-03", promised="2026-03-10"), fact("fall", "2026-03-04"))
    assert ledger(found, "back from workshop") == ["03-03 03-03 03-10 03-12 tier 1 owed"]
