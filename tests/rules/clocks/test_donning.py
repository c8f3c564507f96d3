"""Donning practice: its sentences (rules.md 4.2). 2 March 2026 is a Monday."""

from __future__ import annotations

from tests.rules.build import case, device, fact, ledger, person


def tried(on: str, don: str = "03", doff: str = "03", who: str = "wearer"):
    return fact("practice", on, who=who, don=don, doff=doff)


def practices(*facts, **about):
    return ledger(case(*facts, **about), "donning practice")


def test_from_delivery_due_seven_days_after_it_started_early_six_grace_seven():
    assert practices() == ["03-02 03-03 03-09 03-16 tier 3 owed"]


def test_due_and_last_day_roll_over_easter():
    """Delivered on Friday 27 March: 3 April is Good Friday, so Tuesday 7th; opens on the 1st; grace to 14th."""
    assert practices(devices="2026-03-27") == ["03-27 04-01 04-07 04-14 tier 3 owed"]


def test_from_each_practice_to_the_next_while_nobody_is_competent():
    assert practices(tried("2026-03-04"), tried("2026-03-11")) == [
        "03-02 03-03 03-09 03-16 tier 3 done 03-04",
        "03-04 03-05 03-11 03-18 tier 3 done 03-11",
        "03-11 03-12 03-18 03-25 tier 3 owed",
    ]


def test_a_practice_on_the_day_of_delivery_does_the_row_of_that_day():
    assert practices(tried("2026-03-02")) == [
        "03-02 03-03 03-09 03-16 tier 3 done 03-02",
        "03-02 03-03 03-09 03-16 tier 3 owed",
    ]


def test_a_practice_before_delivery_counts_as_on_the_day_of_delivery():
    assert practices(tried("2026-02-20")) == [
        "03-02 03-03 03-09 03-16 tier 3 done 03-02",
        "03-02 03-03 03-09 03-16 tier 3 owed",
    ]


def test_ends_with_competence_of_anybody():
    done = practices(tried("2026-03-04", "06", "05"), tried("2026-03-05", "05", "05"))
    assert done[-1] == "03-04 03-05 03-11 03-18 tier 3 done 03-05"
    assert len(done) == 2
    carer = practices(
        *(tried(on, "05", "05", "Ida") for on in ("2026-03-04", "2026-03-05")), tried("2026-03-06")
    )
    assert len(carer) == 2


def test_a_later_practice_that_is_not_enough_starts_the_clock_again_from_it():
    good = [tried("2026-03-04", "06", "06"), tried("2026-03-05", "06", "06")]
    assert practices(*good, tried("2026-04-10"))[2:] == ["04-10 04-11 04-17 04-24 tier 3 owed"]


def test_unless_somebody_else_is_competent():
    good = [tried(on, "06", "06", who) for on in ("2026-03-04", "2026-03-05") for who in ("wearer", "Ida")]
    assert len(practices(*good, tried("2026-04-10"))) == 4 - 1
    assert all("done" in row for row in practices(*good, tried("2026-04-10")))


def test_a_practice_not_attempted_does_a_row_but_is_not_scored():
    refused = tried("2026-03-04", "07", "07")
    assert practices(refused)[0] == "03-02 03-03 03-09 03-16 tier 3 done 03-04"
    assert practices(refused)[1] == "03-04 03-05 03-11 03-18 tier 3 owed"


def test_who_lives_alone_needs_06():
    five = [tried("2026-03-04", "05", "05"), tried("2026-03-05", "05", "05")]
    assert len(practices(*five)) == 2
    assert practices(*five, who=person(lives_alone=True))[-1] == "03-05 03-06 03-12 03-19 tier 3 owed"


def test_taken_over_earlier_practices_start_nothing_and_still_count_as_history():
    over = [device(delivered="2026-01-05", taken_over="2026-03-02")]
    assert practices(tried("2026-02-02", "06", "06"), devices=over) == []
    assert practices(tried("2026-03-04"), devices=over) == ["03-04 03-05 03-11 03-18 tier 3 owed"]
    assert practices(tried("2026-02-02", "06", "06"), tried("2026-03-04", "06", "06"), devices=over) == []


def test_the_end_cancels_and_a_practice_on_the_last_day_does_the_row_and_starts_none():
    ends = [device(delivered="2026-03-02", ended="2026-03-06")]
    assert practices(devices=ends) == ["03-02 03-03 03-09 03-16 tier 3 cancelled 03-06"]
    assert practices(tried("2026-03-06"), devices=ends) == ["03-02 03-03 03-09 03-16 tier 3 done 03-06"]
    assert practices(tried("2026-03-07"), devices=ends) == ["03-02 03-03 03-09 03-16 tier 3 cancelled 03-06"]
