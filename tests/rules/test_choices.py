"""Where the page leaves a choice, the one that was taken; each also stands in the page's last section or beside
the clock. 2 March 2026 is a Monday."""

from __future__ import annotations

import dataclasses

from caseload.rules.ledger import Rulebook, follow_ups
from caseload.rules.protocol import shipped
from tests.rules.build import ENGLAND, case, device, fact, ledger, rows, said

STOP, WATCH, CLEAR = (
    {"skin": "mark", "fade_minutes": 35.0},
    {"skin": "mark", "fade_minutes": 25.0},
    {"skin": "clear"},
)
SETTLED = [device(delivered="2024-01-08")]


def status(on, to, **more):
    return fact("change", on, what="status", to=to, **more)


def look(on, found, how="seen", area="heel"):
    return fact("look", on, area=area, how=how, **found)


def review(on, **more):
    return fact("reassessment", on, decision="continue", **more)


def test_a_rub_not_stated_that_a_look_elsewhere_cleared_is_clear_for_a_later_request():
    """So that a fresh request without an area is looked at, and is not graded by what was settled before it."""
    told = fact("wear report", "2026-03-03", hours=4.0, fade_minutes=25.0)
    ask = fact("adjustment request", "2026-03-10", request="Q1", cause="rub")
    found = case(told, look("2026-03-05", CLEAR, area="calf"), ask)
    assert ledger(found, "skin look") == [
        "03-03 03-03 03-10 03-17 tier 3 done 03-05",
        "03-10 03-10 03-12 03-16 tier 2 owed",
    ]
    assert ledger(found, "adjustment") == ["03-10 03-10 03-13 03-17 tier 2 owed"]


def test_what_is_found_elsewhere_clears_a_rub_not_stated_without_making_it_worse():
    """The rub was only watched, so that its clearing asks for no reassessment."""
    told = fact("wear report", "2026-03-03", hours=4.0, fade_minutes=25.0)
    found = case(
        review("2026-03-02"), told, look("2026-03-05", {"skin": "blister"}, area="calf"), devices=SETTLED
    )
    assert [each.rule for each in rows(found, "reassessment")[-1].reasons] == ["no trajectory on record"]


def test_under_open_access_a_fall_on_the_day_of_the_review_starts_a_row_that_the_review_does_and_the_next():
    granted = [review("2026-03-02"), status("2026-04-01", "open access")]
    found = case(*granted, fact("fall", "2026-04-10", hurt=True), review("2026-04-10"), devices=SETTLED)
    assert ledger(found, "reassessment")[2:] == [
        "04-10 04-10 04-17 04-21 tier 2 done 04-10",
        "04-10 04-10 04-17 04-21 tier 2 owed",
    ]


def test_open_access_granted_to_somebody_discharged_is_no_return_to_active():
    found = case(
        review("2026-02-16"),
        status("2026-03-05", "discharged"),
        status("2026-04-01", "open access"),
        fact("fall", "2026-04-10", hurt=True),
        devices=SETTLED,
    )
    assert ledger(found, "reassessment")[2:] == ["04-10 04-10 04-17 04-21 tier 2 owed"]
    assert ledger(found, "fit check")[-1].endswith("cancelled 03-05")


def test_open_access_granted_again_cancels_what_is_owed_and_starts_it_again():
    found = case(
        review("2026-03-02"),
        status("2026-04-01", "open access", until="2026-09-01"),
        fact("fall", "2026-04-10"),
        status("2026-04-15", "open access", until="2027-04-01"),
        devices=SETTLED,
    )
    assert ledger(found, "reassessment")[2:] == [
        "04-10 04-10 04-24 05-01 tier 3 cancelled 04-15",
        "04-15 04-15 04-24 05-01 tier 3 owed",
    ]
    assert len(ledger(found, "open access ending")) == 2


def test_a_device_delivered_before_it_was_ordered_is_still_awaited():
    early = [device(ordered="2026-03-10", delivered="2026-03-02")]
    assert ledger(case(devices=early), "supply")[0].endswith("owed")


def test_an_act_after_the_end_of_a_device_is_still_a_contact_of_the_person():
    missed = fact("contact", "2026-03-10", how="clinic", outcome="did not attend")
    check = fact("fit check", "2026-03-11", overall="accepted")
    ended = [device(delivered="2026-03-02", ended="2026-03-05")]
    assert ledger(case(missed, check, devices=ended), "rebooking")[0].endswith("done 03-11")


def test_an_act_before_delivery_is_no_contact():
    missed = fact("contact", "2026-02-19", how="clinic", outcome="did not attend")
    early = fact("practice", "2026-02-20", who="wearer", don="06", doff="06")
    assert ledger(case(missed, early), "rebooking")[0].endswith("owed")


def test_a_device_away_over_its_delivery_moves_what_is_owed():
    away = fact("away", "2026-02-20", back="2026-03-05")
    assert ledger(case(away), "fit check") == ["03-02 03-02 03-09 03-12 tier 3 owed"]


def test_pain_below_one_is_no_pain():
    assert ledger(case(look("2026-03-03", {"skin": "clear", "pain": 0.5})), "skin look") == []
    assert ledger(case(look("2026-03-03", {"skin": "clear", "pain": 6.5})), "skin look")[0].split()[-2] == "3"


def test_ninety_days_up_to_a_fall_hold_the_ninetieth_day_before_it():
    falls = [fact("fall", on) for on in ("2026-01-01", "2026-02-01", "2026-04-01")]
    found = case(review("2026-03-02"), *falls, devices=SETTLED)
    assert rows(found, "reassessment")[-1].why.rule == "fall, one of several"


def test_an_adjustment_on_a_request_made_before_delivery_is_of_no_tier():
    ask = fact("adjustment request", "2026-02-20", request="Q1", cause="unsafe damage")
    done = fact("adjustment", "2026-03-10", request="Q1", outcome="done")
    check = fact("fit check", "2026-03-02", overall="accepted")
    assert ledger(case(ask, done, check), "fit check")[1] == "03-10 03-14 03-17 03-24 tier 3 owed"


def test_a_later_status_undoes_a_death():
    """A death that was wrong is struck out; a status after it is a return like any other."""
    found = case(status("2026-03-05", "died"), status("2026-03-09", "active"))
    assert ledger(found, "reassessment")[-1].startswith("03-09")


def test_a_settling_in_that_opens_at_once_counts_no_review_before_its_day():
    usual = shipped().reassessment
    first = dataclasses.replace(usual.settling_in_first, early=None)
    protocol = dataclasses.replace(shipped(), reassessment=dataclasses.replace(usual, settling_in_first=first))
    found = follow_ups(case(review("2026-03-15")), [Rulebook(protocol, ENGLAND)])
    assert (
        said([row for row in found if row.kind == "reassessment"][-1]) == "03-15 03-15 03-16 03-23 tier 4 owed"
    )
