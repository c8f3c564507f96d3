"""Fit check: each row of its table and each of its sentences (rules.md 4.1). 2 March 2026 is a Monday."""

from __future__ import annotations

import pytest

from tests.rules.build import case, device, fact, ledger, person, rows

ACCEPTED = fact("fit check", "2026-03-02", overall="accepted")


def fit(*facts, **about):
    """The fit checks after the one of the day of delivery, which was accepted."""
    return ledger(case(ACCEPTED, *facts, **about), "fit check")[1:]


def test_delivered():
    assert ledger(case(), "fit check") == ["03-02 03-02 03-02 03-05 tier 3 owed"]


def test_delivered_on_a_saturday_before_easter():
    """4 April 2026 stands between Good Friday and Easter Monday: due Tuesday 7th, grace to Friday 10th."""
    assert ledger(case(devices="2026-04-04"), "fit check") == ["04-04 04-04 04-07 04-10 tier 3 owed"]


def test_done_by_a_fit_check_on_the_day_of_delivery():
    assert ledger(case(ACCEPTED), "fit check") == ["03-02 03-02 03-02 03-05 tier 3 done 03-02"]


def test_a_fit_check_before_delivery_does_nothing():
    early = fact("fit check", "2026-03-01", overall="not to be worn")
    assert ledger(case(early), "fit check") == ["03-02 03-02 03-02 03-05 tier 3 owed"]


ASKED = {"cause": "discomfort", "request": "Q1"}


@pytest.mark.parametrize(
    ("cause", "expected"),
    [
        # Thursday 2 April: two working days later is Wednesday 8th, five is Monday 13th.
        ("unsafe damage", "04-02 04-02 04-08 04-10 tier 3 owed"),
        ("unsafe to walk in", "04-02 04-02 04-08 04-10 tier 3 owed"),
        ("fall", "04-02 04-02 04-08 04-10 tier 3 owed"),
        ("discomfort", "04-02 04-10 04-13 04-20 tier 3 owed"),
        ("worn out", "04-02 04-10 04-13 04-20 tier 3 owed"),
    ],
)
def test_adjustment_done_by_the_tier_of_the_request(cause, expected):
    asked = fact("adjustment request", "2026-04-01", request="Q1", cause=cause)
    done = fact("adjustment", "2026-04-02", request="Q1", outcome="done")
    assert fit(asked, done) == [expected]


@pytest.mark.parametrize(
    "who",
    [{"sensation": "reduced"}, {"sensation": "absent"}, {"sensation": ""}, {"circulation_concern": "yes"}],
)
def test_adjustment_done_for_vulnerable_skin(who):
    """Sensation reduced, absent or not on record, or a circulation concern."""
    asked = fact("adjustment request", "2026-04-01", request="Q1", cause="worn out")
    done = fact("adjustment", "2026-04-02", request="Q1", outcome="done")
    assert fit(asked, done, who=person(**who)) == ["04-02 04-02 04-08 04-10 tier 3 owed"]


@pytest.mark.parametrize("outcome", ["partly", "not possible"])
def test_an_adjustment_not_done_is_no_cause(outcome):
    asked = fact("adjustment request", "2026-04-01", request="Q1", cause="fall")
    assert fit(asked, fact("adjustment", "2026-04-02", request="Q1", outcome=outcome)) == []


def test_footwear_changed():
    """Tuesday 3 March: five working days later is Tuesday 10th, opens three days before, grace to 17th."""
    assert fit(fact("footwear change", "2026-03-03")) == ["03-03 03-07 03-10 03-17 tier 3 owed"]


def test_device_back():
    """Left on the 4th, back on Friday 6th: due Monday 9th, grace to Wednesday 11th; starts when it is back."""
    assert fit(fact("away", "2026-03-04", back="2026-03-06")) == ["03-06 03-06 03-09 03-11 tier 3 owed"]


def test_fit_check_needs_adjustment():
    assert fit(fact("fit check", "2026-03-03", overall="needs adjustment")) == [
        "03-03 03-07 03-10 03-17 tier 2 owed"
    ]


def test_fit_check_not_to_be_worn():
    assert fit(fact("fit check", "2026-03-03", overall="not to be worn")) == [
        "03-03 03-03 03-05 03-09 tier 2 owed"
    ]


def test_wear_stopped():
    stop = fact("wear stop", "2026-03-05", stopped_by="wearer", reason="sore")
    assert fit(stop) == ["03-05 03-05 03-09 03-11 tier 2 owed"]


def test_a_further_cause_joins_and_the_earliest_due_date_stays():
    """Footwear on the 3rd is due on the 10th; wear stopped on the 4th brings it to the 6th, tier 2."""
    stop = fact("wear stop", "2026-03-04", stopped_by="wearer", reason="sore")
    assert fit(fact("footwear change", "2026-03-03"), stop) == ["03-03 03-03 03-06 03-10 tier 2 owed"]


def test_a_later_cause_that_asks_later_changes_nothing_but_the_tier():
    stop = fact("wear stop", "2026-03-03", stopped_by="wearer", reason="sore")
    found = case(ACCEPTED, stop, fact("footwear change", "2026-03-04"))
    (row,) = rows(found, "fit check")[1:]
    assert [reason.rule for reason in row.reasons] == ["wear stopped", "footwear changed"]
    assert row.due.isoformat() == "2026-03-05"
    assert ledger(found, "fit check")[1:] == ["03-03 03-03 03-05 03-09 tier 2 owed"]


def test_the_rows_tier_is_the_smallest_number_of_its_causes_even_where_another_is_binding():
    """Delivery is due the same Monday; wear stopped that day two working days later, but tier 2."""
    stop = fact("wear stop", "2026-03-02", stopped_by="wearer", reason="sore")
    assert ledger(case(stop), "fit check") == ["03-02 03-02 03-02 03-05 tier 2 owed"]


def test_on_a_tie_the_shorter_grace_is_binding():
    """Footwear on Tuesday 3rd and wear stopped on Friday 6th are both due on Tuesday 10th."""
    stop = fact("wear stop", "2026-03-06", stopped_by="wearer", reason="sore")
    assert fit(fact("footwear change", "2026-03-03"), stop) == ["03-03 03-03 03-10 03-12 tier 2 owed"]


def test_a_fit_check_does_what_began_that_day_except_for_what_it_causes_itself():
    stop = fact("wear stop", "2026-03-04", stopped_by="wearer", reason="sore")
    check = fact("fit check", "2026-03-04", overall="not to be worn")
    assert fit(check, stop) == [
        "03-04 03-04 03-06 03-10 tier 2 done 03-04",
        "03-04 03-04 03-06 03-10 tier 2 owed",
    ]


def test_a_second_check_on_the_day_does_what_the_first_caused():
    checks = [fact("fit check", "2026-03-04", overall=each) for each in ("needs adjustment", "accepted")]
    assert fit(*checks) == ["03-04 03-08 03-11 03-18 tier 2 done 03-04"]
    assert fit(*reversed(checks)) == ["03-04 03-08 03-11 03-18 tier 2 owed"]


def test_causes_up_to_the_very_day_it_ended_count():
    """A row counts facts dated before the day it ended; a fit check up to it."""
    stop = fact("wear stop", "2026-03-05", stopped_by="wearer", reason="sore")
    check = fact("fit check", "2026-03-05", overall="accepted")
    assert fit(fact("footwear change", "2026-03-03"), check, stop) == [
        "03-03 03-03 03-09 03-11 tier 2 done 03-05"
    ]


def test_the_end_of_the_device_cancels_and_its_last_day_starts_none():
    ends = [device(delivered="2026-03-02", ended="2026-03-04")]
    assert ledger(case(devices=ends), "fit check") == ["03-02 03-02 03-02 03-05 tier 3 cancelled 03-04"]
    check = fact("fit check", "2026-03-04", overall="not to be worn")
    assert ledger(case(check, devices=ends), "fit check") == ["03-02 03-02 03-02 03-05 tier 3 done 03-04"]


def test_taken_over_delivery_starts_nothing_and_what_comes_after_does():
    over = [device(delivered="2024-01-08", taken_over="2026-03-02")]
    before, on = fact("footwear change", "2026-03-01"), fact("footwear change", "2026-03-02")
    assert ledger(case(before, devices=over), "fit check") == []
    assert ledger(case(on, devices=over), "fit check") == ["03-02 03-06 03-09 03-16 tier 3 owed"]


def test_a_row_of_tier_2_is_not_moved_by_a_pause_whatever_cause_is_binding():
    """Delivery (tier 3) is binding, wear stopped the same day makes the row tier 2."""
    pause = fact("pause", "2026-03-01", until="2026-03-20", reason="in hospital")
    stop = fact("wear stop", "2026-03-02", stopped_by="wearer", reason="sore")
    assert ledger(case(pause, stop), "fit check") == ["03-02 03-02 03-02 03-05 tier 2 owed"]
    assert ledger(case(pause), "fit check") == ["03-02 03-02 03-24 03-27 tier 3 owed"]
