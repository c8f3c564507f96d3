"""The end of a device, discharge, moving away and death (rules.md 4.9). 2 March 2026 is a Monday."""

from __future__ import annotations

import pytest

from caseload.rules.ledger import follow_ups
from tests.rules.build import SHIPPED, case, day, device, fact, ledger

STOP, CLEAR, WATCH = (
    {"skin": "mark", "fade_minutes": 35.0},
    {"skin": "clear"},
    {"skin": "mark", "fade_minutes": 25.0},
)


def status(on, to, **more):
    return fact("change", on, what="status", to=to, **more)


def look(on, found, how="seen", area="heel"):
    return fact("look", on, area=area, how=how, **found)


EVERYTHING = [
    fact("wear plan", "2026-03-02", plan="gentle"),
    look("2026-03-03", STOP),
    fact("adjustment request", "2026-03-03", request="Q1", cause="discomfort"),
    fact("contact", "2026-03-05", how="clinic", outcome="did not attend"),
    fact("escalation", "2026-03-04", escalation="E1", to="medical", why="fever"),
    fact("away", "2026-03-04"),
]


def kinds(*facts, on="2026-03-20", **about):
    """The kinds owed at the end of a day, when everything that may be owed is."""
    found = follow_ups(case(*EVERYTHING, *facts, **about), [SHIPPED])
    return {
        str(row.kind) for row in found if row.started <= day(on) and (row.ended is None or row.ended > day(on))
    }


ALL = {
    "fit check",
    "donning practice",
    "wear check",
    "skin look",
    "adjustment",
    "rebooking",
    "escalation",
    "reassessment",
    "back from workshop",
    "replacement",
}


def test_before_any_end_all_is_owed():
    assert kinds() == ALL


def test_the_end_of_a_device_cancels_its_rows_except_skin_looks():
    ends = [device(delivered="2026-03-02", ended="2026-03-10")]
    assert kinds(devices=ends) == {"skin look", "rebooking", "escalation"}


@pytest.mark.parametrize("to", ["discharged", "moved"])
def test_discharge_and_moving_away_cancel_all_except_skin_looks_and_escalations(to):
    assert kinds(status("2026-03-10", to)) == {"skin look", "escalation"}


def test_death_cancels_all():
    assert kinds(status("2026-03-10", "died")) == set()
    assert kinds(status("2026-03-10", "discharged"), status("2026-03-12", "died")) == set()


def test_not_done_on_that_day():
    done = fact("practice", "2026-03-10", who="wearer", don="03", doff="03")
    for end in (status("2026-03-10", "discharged"), status("2026-03-10", "died")):
        assert ledger(case(done, end), "donning practice") == ["03-02 03-03 03-09 03-16 tier 3 done 03-10"]


ENDS = {
    "end of the device": ([], [device(delivered="2026-03-02", ended="2026-03-04")]),
    "discharge": ([status("2026-03-04", "discharged")], "2026-03-02"),
    "moving away": ([status("2026-03-04", "moved")], "2026-03-02"),
}


@pytest.mark.parametrize(("ends", "devices"), ENDS.values(), ids=ENDS)
def test_after_it_a_rub_not_cleared_goes_on_looks_do_its_rows_and_start_the_next(ends, devices):
    found = [look("2026-03-03", STOP), *ends, look("2026-03-06", WATCH), look("2026-03-12", CLEAR)]
    assert ledger(case(*found[:-1], devices=devices), "skin look") == [
        "03-03 03-03 03-10 03-12 tier 2 done 03-06",
        "03-06 03-06 03-13 03-20 tier 3 owed",
    ]
    assert ledger(case(*found, devices=devices), "skin look")[1].endswith("done 03-12")


@pytest.mark.parametrize(("ends", "devices"), ENDS.values(), ids=ENDS)
def test_no_new_rub_starts(ends, devices):
    for on in ("2026-03-04", "2026-03-05"):
        assert ledger(case(*ends, look(on, STOP), devices=devices), "skin look") == []
    cleared = [look("2026-03-03", STOP), *ends, look("2026-03-06", CLEAR), look("2026-03-09", STOP)]
    assert len(ledger(case(*cleared, devices=devices), "skin look")) == 1


def test_on_the_day_of_death_a_look_still_does_its_row_and_starts_none():
    died = status("2026-03-05", "died")
    found = case(look("2026-03-03", STOP), died, look("2026-03-05", STOP))
    assert ledger(found, "skin look") == ["03-03 03-03 03-10 03-12 tier 2 done 03-05"]
    later = case(look("2026-03-03", STOP), died, look("2026-03-06", CLEAR))
    assert ledger(later, "skin look") == ["03-03 03-03 03-10 03-12 tier 2 cancelled 03-05"]


def test_escalations_after_a_discharge_are_owed_and_after_a_death_not():
    told = fact("escalation", "2026-03-06", escalation="E1", to="medical", why="fever")
    assert len(ledger(case(status("2026-03-04", "discharged"), told), "escalation")) == 1
    assert ledger(case(status("2026-03-06", "died"), told), "escalation") == []


def test_facts_after_the_end_do_no_row_and_start_none():
    ends = [device(delivered="2026-03-02", ended="2026-03-10")]
    late = [
        fact("fit check", "2026-03-11", overall="not to be worn"),
        fact("reassessment", "2026-03-11", decision="continue"),
    ]
    assert ledger(case(*late, devices=ends), "fit check") == ["03-02 03-02 03-02 03-05 tier 3 cancelled 03-10"]
    assert ledger(case(*late, devices=ends), "reassessment") == [
        "03-02 03-11 03-16 03-23 tier 4 cancelled 03-10"
    ]


def test_left_and_right_are_two_devices_with_two_sets_of_clocks():
    both = [
        device(delivered="2026-03-02", ended="2026-03-10"),
        device(device="D2", side="right", delivered="2026-03-02"),
    ]
    found = case(fact("fit check", "2026-03-02", overall="accepted"), devices=both)
    assert ledger(found, "fit check", device="D1") == ["03-02 03-02 03-02 03-05 tier 3 done 03-02"]
    assert ledger(found, "fit check", device="D2") == ["03-02 03-02 03-02 03-05 tier 3 owed"]
    assert ledger(found, "reassessment", device="D1")[0].endswith("cancelled 03-10")
    assert ledger(found, "reassessment", device="D2")[0].endswith("owed")


def test_what_happens_to_a_person_on_the_day_of_discharge_starts_nothing():
    gone = status("2026-03-04", "discharged")
    for on, there in (("2026-03-03", 1), ("2026-03-04", 0), ("2026-03-05", 0)):
        missed = fact("contact", on, how="clinic", outcome="did not attend")
        assert len(ledger(case(gone, missed), "rebooking")) == there


def test_open_access_ends_nothing_but_the_reassessment_owed():
    assert kinds(status("2026-03-10", "open access", until="2027-03-10")) == ALL - {"reassessment"} | {
        "open access ending"
    }
