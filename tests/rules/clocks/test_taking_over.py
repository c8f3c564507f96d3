"""Reassessment of a device taken over, and of one whose person returns to active (rules.md 4, 4.6)."""

from __future__ import annotations

from zlib import crc32

import pytest

from tests.rules.build import case, device, fact, ledger, person, rows
from tests.rules.clocks.settled import SETTLED, heading, review, risk, status


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
    assert ledger(case(heading("stable"), devices=over), "reassessment") == [
        "03-02 06-08 07-06 08-03 tier 4 owed"
    ]


def test_after_the_taking_over_no_sooner_than_ten_working_days():
    """Last review in 2024: six months long gone; ten working days after Monday 2 March is the 16th."""
    over = [device(delivered="2023-01-09", taken_over="2026-03-02", last_review="2024-01-08")]
    assert ledger(case(heading("stable"), devices=over), "reassessment") == [
        "03-02 03-02 03-16 04-15 tier 4 owed"
    ]


def test_falls_since_the_last_review_still_count():
    over = [device(delivered="2024-01-08", taken_over="2026-03-02", last_review="2026-01-05")]
    fall = fact("fall", "2026-02-27", hurt=True)
    assert ledger(case(fall, heading("stable"), devices=over), "reassessment") == [
        "03-02 03-02 03-06 03-10 tier 2 owed"
    ]
    older = fact("fall", "2026-01-04", hurt=True)
    assert ledger(case(older, heading("stable"), devices=over), "reassessment")[0].endswith("tier 4 owed")


def test_settling_in_does_not_speak_for_a_device_taken_over():
    over = [device(delivered="2026-02-16", taken_over="2026-03-02", last_review="2026-02-23")]
    (row,) = rows(case(heading("stable"), devices=over), "reassessment")
    assert [each.rule for each in row.reasons] == ["trajectory stable"]


# Return to active.


def test_a_return_to_active_is_a_taking_over_with_the_last_reassessment_as_its_last_review():
    """Discharged on 1 April, back on Friday 1 May: six months from 2 March is 2 September."""
    found = [
        heading("stable"),
        review("2026-03-02"),
        status("2026-04-01", "discharged"),
        status("2026-05-01", "active"),
    ]
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
    found = [
        heading("stable"),
        review("2026-03-02"),
        risk("2026-03-02", "2"),
        status("2026-04-01", "open access"),
        status("2026-05-01", "active"),
    ]
    assert ledger(case(*found, devices=SETTLED), "reassessment")[1:] == [
        "03-02 07-20 08-03 08-17 tier 4 cancelled 04-01",
        "04-01 07-20 08-03 08-17 tier 4 cancelled 05-01",
        "05-01 07-20 08-03 08-17 tier 4 owed",
    ]
