"""Reassessment: where a row starts, what does it, and what no longer moves it (rules.md 4.6)."""

from __future__ import annotations

from tests.rules.build import case, device, fact, ledger, person, rows
from tests.rules.clocks.settled import CLEAR, SETTLED, STOP, heading, look, owed, review, risk, speed, why


def test_the_row_starts_on_last_and_is_done_by_the_next():
    found = ledger(case(heading("stable"), review("2026-03-16"), review("2026-04-13")), "reassessment")
    assert found == [
        "03-02 03-11 03-16 03-23 tier 4 done 03-16",
        "03-16 04-06 04-13 04-27 tier 4 done 04-13",
        "04-13 05-12 05-26 06-16 tier 4 owed",
    ]


def test_facts_count_with_last_up_to_the_day_before_next():
    """A fall on the day of the review belongs to the row that the review starts."""
    fall = fact("fall", "2026-03-16", hurt=True)
    found = ledger(case(heading("stable"), review("2026-03-16"), fall), "reassessment")
    assert found == ["03-02 03-11 03-16 03-23 tier 4 done 03-16", "03-16 03-16 03-23 03-25 tier 2 owed"]


def test_also_where_last_and_next_are_one_day():
    """Delivered, fallen and reassessed on the 2nd: the row of delivery counts no fact at all."""
    fall = fact("fall", "2026-03-02", hurt=True)
    found = ledger(case(heading("stable"), review("2026-03-02"), fall), "reassessment")
    assert found == ["03-02 03-11 03-16 03-23 tier 4 done 03-02", "03-02 03-02 03-09 03-11 tier 2 owed"]


def test_a_proposal_before_the_row_started_becomes_the_day_it_started():
    """Under 6, review on the 2nd, then settled by hand: the twelve weeks of long ago cannot be in the past."""
    over = [device(delivered="2023-01-09", taken_over="2026-03-07", last_review="2025-01-06")]
    assert ledger(case(heading("stable"), devices=over), "reassessment") == [
        "03-07 03-07 03-20 04-21 tier 4 owed"
    ]


def test_the_earliest_after_rolling_is_binding_on_a_tie_the_first_in_the_order():
    """Declining (3 months) and under 6 (3 months) both propose 2 June: the trajectory stands first."""
    assert why(trajectory="declining", who=person(born="2021-01-01")) == "trajectory declining"
    # Improving: 13 April. A fall on 30 March + 14 d is the same day and stands first, tier 3.
    assert why(fact("fall", "2026-03-30"), trajectory="improving") == "fall"


def test_rolled_dates_tie_too():
    """A fall on 23 March + 14 d is Easter Monday; a date by hand on Good Friday rolls to the same Tuesday."""
    by_hand = review("2026-03-10", next_on="2026-04-03", next_reason="agreed")
    found = case(heading("stable"), by_hand, fact("fall", "2026-03-23"))
    row = rows(found, "reassessment")[-1]
    # 6 April (Easter Monday) and 3 April both roll to Tuesday 7th.
    assert {str(each.proposes) for each in row.reasons} == {"2026-04-07"}
    assert row.why.rule == "fall"


def test_trajectory_and_foot_risk_the_latest_dated_before_next():
    assert why(heading("declining", "2026-03-20")) == "trajectory declining"
    assert why(heading("declining", "2026-03-20"), heading("stable", "2026-03-25")) == "trajectory stable"
    later = case(
        heading("stable"),
        review("2026-03-02"),
        review("2026-03-20"),
        heading("declining", "2026-03-20"),
        devices=SETTLED,
    )
    done, owed_now = rows(later, "reassessment")[1:]
    assert (done.why.rule, owed_now.why.rule) == ("trajectory stable", "trajectory declining")


# Not sooner than ten working days after what brought a rule in.


def test_no_sooner_than_ten_working_days_after_the_fact_that_brought_it_in():
    """Declining on Monday 1 June proposes 2 June; ten working days later is Monday 15th."""
    assert owed(heading("declining", "2026-06-01")) == "03-02 06-01 06-15 06-29 tier 4 owed"
    assert owed(risk("2026-06-01", "3")) == "03-02 06-01 06-15 06-29 tier 3 owed"


def test_the_first_record_in_an_unbroken_run_of_the_same_value():
    again = [heading("declining", "2026-03-20"), heading("declining", "2026-06-01")]
    assert owed(*again) == "03-02 05-19 06-02 06-16 tier 4 owed"
    broken = [
        heading("declining", "2026-03-20"),
        heading("stable", "2026-05-01"),
        heading("declining", "2026-06-01"),
    ]
    assert owed(*broken) == "03-02 06-01 06-15 06-29 tier 4 owed"


def test_where_it_came_after_last():
    """Recorded on the very day of last: two months, not later."""
    assert owed(risk("2026-03-02", "3")) == "03-02 04-21 05-05 05-19 tier 3 owed"
    assert owed(risk("2026-03-03", "3")) == "03-02 04-21 05-05 05-19 tier 3 owed"
    assert owed(risk("2026-04-30", "3")) == "03-02 05-01 05-15 06-01 tier 3 owed"


def test_falls_are_not_held_back():
    assert owed(heading("declining", "2026-06-01"), fact("fall", "2026-06-01", hurt=True)) == (
        "03-02 03-02 06-08 06-10 tier 2 owed"
    )


# Once the last day has passed.


def test_once_the_rows_last_day_has_passed_later_facts_no_longer_move_its_dates():
    """Improving: due 13 April, last day 27th. A serious fall on the 27th still moves it, on the 28th not."""
    assert (
        owed(fact("fall", "2026-04-27", hurt=True), trajectory="improving")
        == "03-02 04-06 04-13 04-27 tier 2 owed"
    )
    assert (
        owed(heading("stable", "2026-04-27"), trajectory="improving") == "03-02 08-05 09-02 09-30 tier 4 owed"
    )
    assert (
        owed(heading("stable", "2026-04-28"), trajectory="improving") == "03-02 04-06 04-13 04-27 tier 4 owed"
    )


def test_its_tier_counts_late_falls_too():
    assert owed(fact("fall", "2026-05-20"), trajectory="improving") == "03-02 04-06 04-13 04-27 tier 3 owed"
    assert (
        owed(fact("fall", "2026-05-20", hurt=True), trajectory="improving")
        == "03-02 04-06 04-13 04-27 tier 2 owed"
    )


def test_its_tier_is_the_smallest_of_the_binding_rule_and_of_all_that_is_counted():
    """A rub cleared (tier 3) later than improving's due date."""
    assert owed(look("2026-04-01", STOP), look("2026-04-13", CLEAR), trajectory="improving").split()[-2] == "3"


def test_a_pause_begun_after_the_last_day_moves_nothing():
    pause = fact("pause", "2026-04-28", until="2026-05-30", reason="abroad")
    assert owed(pause, trajectory="improving") == "03-02 04-06 04-13 04-27 tier 4 owed"


def test_trajectories_and_measures_count_whenever_dated():
    """Both before delivery on 2 March; the measure after it is worse than the one before it."""
    early = [heading("stable", "2026-01-05"), speed("2026-02-02", 0.70), speed("2026-03-04", 0.54)]
    found = rows(case(*early, review("2026-05-20")), "reassessment")
    assert found[0].reasons[0].rule == "gait speed worse beyond its error"
    assert found[-1].why.rule == "trajectory stable"


def test_falls_before_delivery_do_not_count():
    assert ledger(case(fact("fall", "2026-03-01", hurt=True)), "reassessment")[0].endswith("tier 4 owed")
    assert ledger(case(fact("fall", "2026-03-02", hurt=True)), "reassessment")[0].endswith("tier 2 owed")


def test_a_fall_with_the_other_device_worn_counts_for_both():
    both = [device(delivered="2026-03-02"), device(device="D2", side="right", delivered="2026-03-02")]
    found = case(fact("fall", "2026-03-04", devices_worn=("D2",)), devices=both)
    assert [row.why.rule for row in rows(found, "reassessment")] == ["fall with a device worn"] * 2
