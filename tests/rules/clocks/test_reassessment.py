"""Reassessment: each rule of its table (rules.md 4.6)."""

from __future__ import annotations

import pytest

from tests.rules.build import case, fact, ledger, person, rows
from tests.rules.clocks.settled import (
    CLEAR,
    SETTLED,
    STOP,
    WATCH,
    heading,
    look,
    owed,
    review,
    speed,
    why,
)


@pytest.mark.parametrize(
    ("trajectory", "expected"),
    [
        # Six weeks: 13 April, opens 7 d before; three months: 2 June, 14 d; six months: 2 September, 28 d.
        ("improving", "03-02 04-06 04-13 04-27 tier 4 owed"),
        ("", "03-02 04-06 04-13 04-27 tier 4 owed"),
        ("declining", "03-02 05-19 06-02 06-16 tier 4 owed"),
        ("stable", "03-02 08-05 09-02 09-30 tier 4 owed"),
    ],
)
def test_trajectory(trajectory, expected):
    assert owed(trajectory=trajectory) == expected


@pytest.mark.parametrize(
    ("category", "expected"),
    [
        # 2 February 2027 is too far to bind before stable's September; five months 2 August (Sunday): 3rd.
        ("1", "03-02 08-05 09-02 09-30 tier 4 owed"),
        ("2", "03-02 07-20 08-03 08-17 tier 4 owed"),
        # Two months: 2 May (Saturday), Monday 4th is closed: Tuesday 5th. Ten wd on: 19th.
        ("3", "03-02 04-21 05-05 05-19 tier 3 owed"),
        ("0", "03-02 08-05 09-02 09-30 tier 4 owed"),
    ],
)
def test_foot_risk(category, expected):
    assert owed(who=person(foot_risk=category)) == expected


def test_foot_risk_1_by_itself():
    """Eleven months: 2 February 2027, a Tuesday; grace twenty working days to 2 March."""
    by_hand = review("2026-03-02", next_on="2027-12-01", next_reason="abroad")
    found = case(by_hand, devices=SETTLED, who=person(foot_risk="1"))
    assert ledger(found, "reassessment")[-1] == "03-02 2027-01-05 2027-02-02 2027-03-02 tier 4 owed"


@pytest.mark.parametrize(
    ("born", "expected"),
    [
        # On the day of last: under 6 three months, 2 June; under 16 four months, 2 July.
        ("2020-03-03", "03-02 05-19 06-02 06-16 tier 4 owed"),
        ("2020-03-02", "03-02 06-18 07-02 07-16 tier 4 owed"),
        ("2010-03-03", "03-02 06-18 07-02 07-16 tier 4 owed"),
        ("2010-03-02", "03-02 08-05 09-02 09-30 tier 4 owed"),
    ],
)
def test_under_6_and_under_16_on_the_day_of_last(born, expected):
    assert owed(who=person(born=born)) == expected


def test_a_fall_hurt():
    """Wednesday 1 April + 5 wd over Easter: Friday 10th, opens at once, grace to Tuesday 14th."""
    assert owed(fact("fall", "2026-04-01", hurt=True)) == "03-02 03-02 04-10 04-14 tier 2 owed"


def test_a_fall_with_a_device_worn():
    assert owed(fact("fall", "2026-04-01", devices_worn=("D1",))) == "03-02 03-02 04-10 04-14 tier 2 owed"


def test_any_other_fall():
    """14 days: Wednesday 15th, early 14 d, grace 5 wd."""
    assert owed(fact("fall", "2026-04-01")) == "03-02 04-01 04-15 04-22 tier 3 owed"


def test_a_fall_with_two_others_in_the_90_days_up_to_it():
    """1 April is 90 days after 1 January; the others were before the last review."""

    def others(*days):
        return [fact("fall", on) for on in days]

    assert why(*others("2026-01-01", "2026-02-01", "2026-04-01")) == "fall, one of several"
    assert why(*others("2025-12-31", "2026-02-01", "2026-04-01")) == "fall"
    assert why(*others("2026-02-01", "2026-04-01")) == "fall"


def test_the_first_of_three_falls_is_not_serious_for_what_came_after_it():
    """The third on 3 April (Good Friday) is: 5 wd later Monday 13th; the first alone would be the 15th."""
    falls = [fact("fall", f"2026-04-0{n}") for n in (1, 2, 3)]
    assert owed(*falls) == "03-02 03-02 04-13 04-15 tier 2 owed"


def test_a_rub_that_reached_stop_cleared():
    """Cleared on 1 April: 29 April, early 7 d, grace 5 wd over 4 May: 7 May."""
    assert owed(look("2026-03-30", STOP), look("2026-04-01", CLEAR)) == "03-02 04-22 04-29 05-07 tier 3 owed"


def test_not_a_rub_that_was_only_watched_nor_one_not_cleared():
    assert why(look("2026-03-30", WATCH), look("2026-04-01", CLEAR)) == "trajectory stable"
    assert why(look("2026-03-30", STOP), look("2026-04-01", CLEAR, "told")) == "trajectory stable"


def test_measured_worse_beyond_error():
    """0.70 to 0.54 m/s on 1 April: 29 April, early 14 d, grace 10 wd over 4 May: 14 May."""
    assert owed(speed("2026-02-02", 0.70), speed("2026-04-01", 0.54)) == "03-02 04-15 04-29 05-14 tier 3 owed"
    assert why(speed("2026-02-02", 0.70), speed("2026-04-01", 0.55)) == "trajectory stable"


def test_no_trajectory_recorded_on_that_day_or_since():
    worse = [speed("2026-02-02", 0.70), speed("2026-04-01", 0.54)]
    for on in ("2026-04-01", "2026-04-20"):
        assert why(*worse, heading("stable", on)) == "trajectory stable"
    assert "worse" in why(*worse, heading("stable", "2026-03-31"))


@pytest.mark.parametrize(
    ("reviewed", "expected"),
    [
        # Delivered on Monday 2 March 2026: 2 weeks 16 March, 6 weeks 13 April, 12 weeks 25 May (closed: 26th).
        (None, "03-02 03-11 03-16 03-23 tier 4 owed"),
        ("2026-03-10", "03-10 03-11 03-16 03-23 tier 4 owed"),
        ("2026-03-11", "03-11 04-06 04-13 04-27 tier 4 owed"),
        ("2026-04-05", "04-05 04-06 04-13 04-27 tier 4 owed"),
        ("2026-04-06", "04-06 05-12 05-26 06-16 tier 4 owed"),
        ("2026-05-10", "05-10 05-12 05-26 06-16 tier 4 owed"),
        ("2026-05-11", "05-11 10-14 11-11 12-09 tier 4 owed"),
        ("2026-07-01", "07-01 2026-12-04 2027-01-01 2027-01-01 tier 4 owed"),
    ],
)
def test_settling_in_the_first_for_which_no_reassessment_was_made_up_to_so_long_before_it(reviewed, expected):
    facts = [heading("stable"), *([review(reviewed)] if reviewed else [])]
    found = ledger(case(*facts), "reassessment")[-1]
    if reviewed == "2026-07-01":
        # Six months: 1 January 2027, closed; Monday 4th. Opens 28 d before that, 20 wd on: 1 February.
        expected = "07-01 12-07 2027-01-04 2027-02-01 tier 4 owed"
    assert found == expected


def test_date_set_by_hand_replaces_settling_in_and_trajectory():
    """Saturday 9 May: Monday 11th; early 14 d, grace 10 wd over 25 May: 26th."""
    by_hand = review("2026-03-10", next_on="2026-05-09", next_reason="agreed")
    found = rows(case(heading("stable"), by_hand), "reassessment")[-1]
    assert [each.rule for each in found.reasons] == ["date set by hand"]
    assert ledger(case(heading("stable"), by_hand), "reassessment")[-1] == "03-10 04-27 05-11 05-26 tier 4 owed"


def test_never_the_others():
    by_hand = review("2026-03-10", next_on="2026-12-01", next_reason="agreed")
    found = case(by_hand, fact("fall", "2026-03-20"), who=person(foot_risk="3", born="2022-01-01"))
    rules = [each.rule for each in rows(found, "reassessment")[-1].reasons]
    assert rules == ["fall", "date set by hand", "foot-risk 3", "under 6"]


def test_for_that_row_only():
    by_hand = review("2026-03-10", next_on="2026-05-11", next_reason="agreed")
    assert why(by_hand, review("2026-04-20")) == "trajectory stable"


def test_two_on_one_day_count_as_one_with_the_last_recorded_date_by_hand():
    first = review("2026-03-02", next_on="2026-04-20", next_reason="a")
    second = review("2026-03-02", next_on="2026-05-20", next_reason="b")
    found = ledger(case(first, second, review("2026-03-02"), devices=SETTLED), "reassessment")
    assert len(found) == 2
    assert found[-1] == "03-02 05-06 05-20 06-04 tier 4 owed"
