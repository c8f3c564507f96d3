"""Reassessment under open access: at most one row, and few rules speak (rules.md 4.6)."""

from __future__ import annotations

from tests.rules.build import case, device, fact, ledger, person
from tests.rules.clocks.settled import CLEAR, SETTLED, STOP, heading, look, review, risk, speed, status

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
    assert under_open_access(look("2026-04-09", STOP), look("2026-04-13", CLEAR)) == [
        "04-13 05-04 05-11 05-18 tier 3 owed"
    ]
    assert under_open_access(speed("2026-02-02", 0.70), speed("2026-04-13", 0.54)) == [
        "04-13 04-27 05-11 05-26 tier 3 owed"
    ]


def test_a_worse_measure_with_a_trajectory_of_that_day_starts_nothing():
    worse = [speed("2026-02-02", 0.70), speed("2026-04-13", 0.54), heading("declining", "2026-04-13")]
    assert under_open_access(*worse) == []
    assert under_open_access(*worse, fact("fall", "2026-04-14", hurt=True)) == [
        "04-14 04-14 04-21 04-23 tier 2 owed"
    ]


def test_foot_risk_and_age_speak_from_the_day_it_is_granted():
    """Last stays 2 March: foot-risk 2 five months, 3 August; under 6 three months, 2 June."""
    assert under_open_access(risk("2026-03-02", "2")) == ["04-01 07-20 08-03 08-17 tier 4 owed"]
    assert under_open_access(who=person(born="2022-01-01")) == ["04-01 05-19 06-02 06-16 tier 4 owed"]


def test_granting_brings_foot_risk_and_age_in():
    """Granted on 1 June: under 6 proposes 2 June, ten working days after the granting is the 15th."""
    found = case(
        heading("stable"),
        review("2026-03-02"),
        status("2026-06-01", "open access"),
        devices=SETTLED,
        who=person(born="2022-01-01"),
    )
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
    assert ledger(case(review("2026-03-11"), devices=ends), "reassessment") == [
        "03-02 03-11 03-16 03-23 tier 4 done 03-11"
    ]
