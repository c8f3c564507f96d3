"""Reassessment: each rule of its table and each of its sentences (rules.md 4.6).

2 March 2026 is a Monday. A settled device is one delivered on 8 January 2024 and reassessed on 2 March 2026,
so that settling-in is behind it; its trajectory is stable unless said otherwise: six months, 2 September.
"""

from __future__ import annotations

from zlib import crc32

import pytest

from tests.rules.build import case, device, fact, ledger, person, rows

SETTLED = [device(delivered="2024-01-08")]


def review(on, decision="continue", **more):
    return fact("reassessment", on, decision=decision, **more)


def heading(trajectory, on="2024-01-08"):
    return fact("trajectory", on, trajectory=trajectory)


def status(on, to, **more):
    return fact("change", on, what="status", to=to, **more)


def risk(on, to):
    return fact("change", on, what="foot_risk", to=to)


def speed(on, value):
    return fact("measure", on, measure="gait speed", value=value, device_on=True)


def owed(*facts, trajectory="stable", **about):
    """The last reassessment row of a settled device, reviewed on 2 March 2026."""
    judged = [heading(trajectory)] if trajectory else []
    found = case(review("2026-03-02"), *judged, *facts, **({"devices": SETTLED} | about))
    return ledger(found, "reassessment")[-1]


def why(*facts, trajectory="stable", **about):
    """The binding rule of that row."""
    judged = [heading(trajectory)] if trajectory else []
    found = case(review("2026-03-02"), *judged, *facts, **({"devices": SETTLED} | about))
    return rows(found, "reassessment")[-1].why.rule


# Each rule of the table.


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


def look(on, found, how="seen"):
    return fact("look", on, area="heel", how=how, **found)


STOP, CLEAR, WATCH = {"skin": "mark", "fade_minutes": 35.0}, {"skin": "clear"}, {"skin": "mark", "fade_minutes": 25.0}


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


# Where the row starts and what does it.


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
    assert ledger(case(heading("stable"), devices=over), "reassessment") == ["03-07 03-07 03-20 04-21 tier 4 owed"]


def test_the_earliest_after_rolling_is_binding_on_a_tie_the_first_in_the_order():
    """Declining (3 months) and under 6 (3 months) both propose 2 June: the trajectory stands first."""
    assert why(trajectory="declining", who=person(born="2021-01-01")) == "trajectory declining"
    # Improving: 13 April. A fall on 30 March + 14 d is the same day and stands first, tier 3.
    assert why(fact("fall", "2026-03-30"), trajectory="improving") == "fall"


def test_rolled_dates_tie_too():
    """Fall on Thursday 19 March + 14 d = 2 April; a hand date of Good Friday rolls past it; equal after rolling."""
    by_hand = review("2026-03-10", next_on="2026-04-03", next_reason="agreed")
    found = case(heading("stable"), by_hand, fact("fall", "2026-03-23"))
    row = rows(found, "reassessment")[-1]
    # 6 April (Easter Monday) and 3 April both roll to Tuesday 7th.
    assert {str(each.proposes) for each in row.reasons} == {"2026-04-07"}
    assert row.why.rule == "fall"


def test_trajectory_and_foot_risk_the_latest_dated_before_next():
    assert why(heading("declining", "2026-03-20")) == "trajectory declining"
    assert why(heading("declining", "2026-03-20"), heading("stable", "2026-03-25")) == "trajectory stable"
    later = case(heading("stable"), review("2026-03-02"), review("2026-03-20"), heading("declining", "2026-03-20"), devices=SETTLED)
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
    broken = [heading("declining", "2026-03-20"), heading("stable", "2026-05-01"), heading("declining", "2026-06-01")]
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
    assert owed(fact("fall", "2026-04-27", hurt=True), trajectory="improving") == "03-02 04-06 04-13 04-27 tier 2 owed"
    assert owed(heading("stable", "2026-04-27"), trajectory="improving") == "03-02 08-05 09-02 09-30 tier 4 owed"
    assert owed(heading("stable", "2026-04-28"), trajectory="improving") == "03-02 04-06 04-13 04-27 tier 4 owed"


def test_its_tier_counts_late_falls_too():
    assert owed(fact("fall", "2026-05-20"), trajectory="improving") == "03-02 04-06 04-13 04-27 tier 3 owed"
    assert owed(fact("fall", "2026-05-20", hurt=True), trajectory="improving") == "03-02 04-06 04-13 04-27 tier 2 owed"


def test_its_tier_is_the_smallest_of_the_binding_rule_and_of_all_that_is_counted():
    """A rub cleared (tier 3) later than improving's due date."""
    assert owed(look("2026-04-01", STOP), look("2026-04-13", CLEAR), trajectory="improving").split()[-2] == "3"


def test_a_pause_begun_after_the_last_day_moves_nothing():
    pause = fact("pause", "2026-04-28", until="2026-05-30", reason="abroad")
    assert owed(pause, trajectory="improving") == "03-02 04-06 04-13 04-27 tier 4 owed"


# Taking over.


@pytest.mark.parametrize("reference", ["D1", "AFO-17", "K9", "left 3", "Ä1"])
def test_taken_over_without_a_last_review_spreads_over_twelve_weeks(reference):
    """n = 1 + CRC-32 of the reference modulo 12 (RFC 1952's CRC-32, as zlib computes it)."""
    weeks = 1 + crc32(reference.encode("utf-8")) % 12
    over = [device(device=reference, delivered="2024-01-08", taken_over="2026-06-01")]
    row = rows(case(devices=over), "reassessment")[0]
    assert (row.why.proposes - row.started).days == 7 * weeks or row.due.isoformat() == "2026-09-01"
    assert row.started.isoformat() == "2026-06-01"
    assert row.tier == 4


def test_crc_of_the_reference_by_hand():
    """CRC-32 of "abc" is 352441C2 hex, a published check value: 891568578, which is 6 modulo 12."""
    over = [device(device="abc", delivered="2024-01-08", taken_over="2026-06-01")]
    row = rows(case(devices=over), "reassessment")[0]
    assert crc32(b"abc") == 0x352441C2
    assert str(row.why.proposes) == "2026-07-20"  # seven weeks after Monday 1 June


def test_modulo_4_if_declining_or_foot_risk_3_on_that_day():
    """891568578 is 2 modulo 4: three weeks, 22 June."""
    over = [device(device="abc", delivered="2024-01-08", taken_over="2026-06-01")]

    def proposed(*facts, **about):
        return str(rows(case(*facts, devices=over, **about), "reassessment")[0].why.proposes)

    def judged(trajectory, on):
        return fact("trajectory", on, device="abc", trajectory=trajectory)

    assert proposed(judged("declining", "2026-06-01")) == "2026-06-22"
    assert proposed(judged("declining", "2026-06-02")) == "2026-07-20"
    assert proposed(judged("declining", "2026-05-01"), judged("stable", "2026-05-02")) == "2026-07-20"
    assert proposed(who=person(foot_risk="3")) == "2026-06-22"
    assert proposed(risk("2026-06-02", "3")) == "2026-07-20"


def test_while_it_speaks_it_replaces_foot_risk_and_age_and_not_falls():
    over = [device(delivered="2024-01-08", taken_over="2026-06-01")]
    child = person(foot_risk="3", born="2022-01-01")
    (row,) = rows(case(fact("fall", "2026-06-10"), devices=over, who=child), "reassessment")
    assert [each.rule for each in row.reasons] == ["fall", "taken over without a last review"]


def test_nothing_reassessed_since():
    over = [device(delivered="2024-01-08", taken_over="2026-03-02")]
    found = case(heading("stable"), review("2026-03-20"), devices=over)
    assert rows(found, "reassessment")[-1].why.rule == "trajectory stable"
    assert ledger(found, "reassessment")[-1].startswith("03-20")


def test_taken_over_with_a_last_review_counts_from_it():
    """Stable, last review 5 January: 5 July (Sunday), Monday 6th; the row starts on the day taken over."""
    over = [device(delivered="2024-01-08", taken_over="2026-03-02", last_review="2026-01-05")]
    assert ledger(case(heading("stable"), devices=over), "reassessment") == ["03-02 06-08 07-06 08-03 tier 4 owed"]


def test_after_the_taking_over_no_sooner_than_ten_working_days():
    """Last review in 2024: six months long gone; ten working days after Monday 2 March is the 16th."""
    over = [device(delivered="2023-01-09", taken_over="2026-03-02", last_review="2024-01-08")]
    assert ledger(case(heading("stable"), devices=over), "reassessment") == ["03-02 03-02 03-16 04-15 tier 4 owed"]


def test_falls_since_the_last_review_still_count():
    over = [device(delivered="2024-01-08", taken_over="2026-03-02", last_review="2026-01-05")]
    fall = fact("fall", "2026-02-27", hurt=True)
    assert ledger(case(fall, heading("stable"), devices=over), "reassessment") == ["03-02 03-02 03-06 03-10 tier 2 owed"]
    older = fact("fall", "2026-01-04", hurt=True)
    assert ledger(case(older, heading("stable"), devices=over), "reassessment")[0].endswith("tier 4 owed")


def test_settling_in_does_not_speak_for_a_device_taken_over():
    over = [device(delivered="2026-02-16", taken_over="2026-03-02", last_review="2026-02-23")]
    (row,) = rows(case(heading("stable"), devices=over), "reassessment")
    assert [each.rule for each in row.reasons] == ["trajectory stable"]


# Return to active.


def test_a_return_to_active_is_a_taking_over_with_the_last_reassessment_as_its_last_review():
    """Discharged on 1 April, back on Friday 1 May: six months from 2 March is 2 September."""
    found = [heading("stable"), review("2026-03-02"), status("2026-04-01", "discharged"), status("2026-05-01", "active")]
    assert ledger(case(*found, devices=SETTLED), "reassessment")[1:] == [
        "03-02 08-05 09-02 09-30 tier 4 cancelled 04-01",
        "05-01 08-05 09-02 09-30 tier 4 owed",
    ]


def test_never_reassessed_it_spreads_from_the_return():
    found = [status("2026-04-01", "moved"), status("2026-06-01", "active")]
    one = [device(device="abc", delivered="2026-03-02")]
    first, back = rows(case(*found, devices=one), "reassessment")
    assert str(first.cancelled) == "2026-04-01"
    assert (back.why.rule, str(back.due)) == ("taken over without a last review", "2026-07-20")


def test_from_open_access_the_row_owed_is_cancelled():
    found = [heading("stable"), review("2026-03-02"), risk("2026-03-02", "2"), status("2026-04-01", "open access"), status("2026-05-01", "active")]
    assert ledger(case(*found, devices=SETTLED), "reassessment")[1:] == [
        "03-02 07-20 08-03 08-17 tier 4 cancelled 04-01",
        "04-01 07-20 08-03 08-17 tier 4 cancelled 05-01",
        "05-01 07-20 08-03 08-17 tier 4 owed",
    ]


# Open access.

GRANTED = [heading("stable"), review("2026-03-02"), status("2026-04-01", "open access", until="2027-04-01")]


def under_open_access(*facts, **about):
    """The rows that are left once the one owed on 1 April is cancelled."""
    found = ledger(case(*GRANTED, *facts, devices=SETTLED, **about), "reassessment")
    assert found[1].endswith("cancelled 04-01")
    return found[2:]


def test_granted_nothing_speaks_and_nothing_is_owed():
    assert under_open_access() == []
    assert under_open_access(heading("declining", "2026-04-10")) == []
    assert under_open_access(risk("2026-04-10", "3")) == []


def test_a_row_starts_on_the_day_of_the_first_fall():
    """Friday 10 April + 5 wd: 17th. A second fall joins it."""
    fall, second = fact("fall", "2026-04-10", hurt=True), fact("fall", "2026-04-13", hurt=True)
    assert under_open_access(fall, second) == ["04-10 04-10 04-17 04-21 tier 2 owed"]


def test_or_cleared_rub_or_worse_measure():
    assert under_open_access(look("2026-04-09", STOP), look("2026-04-13", CLEAR)) == ["04-13 05-04 05-11 05-18 tier 3 owed"]
    assert under_open_access(speed("2026-02-02", 0.70), speed("2026-04-13", 0.54)) == ["04-13 04-27 05-11 05-26 tier 3 owed"]


def test_a_worse_measure_with_a_trajectory_of_that_day_starts_nothing():
    worse = [speed("2026-02-02", 0.70), speed("2026-04-13", 0.54), heading("declining", "2026-04-13")]
    assert under_open_access(*worse) == []
    assert under_open_access(*worse, fact("fall", "2026-04-14", hurt=True)) == ["04-14 04-14 04-21 04-23 tier 2 owed"]


def test_foot_risk_and_age_speak_from_the_day_it_is_granted():
    """Last stays 2 March: foot-risk 2 five months, 3 August; under 6 three months, 2 June."""
    assert under_open_access(risk("2026-03-02", "2")) == ["04-01 07-20 08-03 08-17 tier 4 owed"]
    assert under_open_access(who=person(born="2022-01-01")) == ["04-01 05-19 06-02 06-16 tier 4 owed"]


def test_granting_brings_foot_risk_and_age_in():
    """Granted on 1 June: under 6 proposes 2 June, ten working days after the granting is the 15th."""
    found = case(heading("stable"), review("2026-03-02"), status("2026-06-01", "open access"), devices=SETTLED, who=person(born="2022-01-01"))
    assert ledger(found, "reassessment")[2:] == ["06-01 06-01 06-15 06-29 tier 4 owed"]


def test_a_fall_since_last_speaks_on_the_day_it_is_granted():
    assert under_open_access(fact("fall", "2026-03-25", hurt=True)) == ["04-01 04-01 04-01 04-07 tier 2 owed"]


def test_a_row_whose_only_rule_falls_silent_keeps_its_dates():
    """A worse measure answered by a trajectory two weeks later."""
    worse = [speed("2026-02-02", 0.70), speed("2026-04-13", 0.54), heading("declining", "2026-04-27")]
    assert under_open_access(*worse)[0].startswith("04-13 04-27 05-11 05-26")


def test_the_next_fall_after_the_review_starts_the_next_row():
    falls = [fact("fall", "2026-04-10", hurt=True), review("2026-04-16"), fact("fall", "2026-06-01", hurt=True)]
    assert under_open_access(*falls) == [
        "04-10 04-10 04-17 04-21 tier 2 done 04-16",
        "06-01 06-01 06-08 06-10 tier 2 owed",
    ]


def test_the_end_of_the_device_cancels_and_its_last_day_starts_none():
    ends = [device(delivered="2026-03-02", ended="2026-03-11")]
    assert ledger(case(devices=ends), "reassessment") == ["03-02 03-11 03-16 03-23 tier 4 cancelled 03-11"]
    assert ledger(case(review("2026-03-11"), devices=ends), "reassessment") == ["03-02 03-11 03-16 03-23 tier 4 done 03-11"]
