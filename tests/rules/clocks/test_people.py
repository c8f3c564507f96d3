"""What is owed to a person: its table and its sentences (rules.md 4.7). 2 March 2026 is a Monday."""

from __future__ import annotations

import pytest

from tests.rules.build import case, device, fact, ledger, rows


def contact(on, outcome, how="clinic"):
    return fact("contact", on, how=how, outcome=outcome)


def status(on, to, **more):
    return fact("change", on, what="status", to=to, **more)


def rebooked(*facts, **about):
    return ledger(case(*facts, **about), "rebooking")


@pytest.mark.parametrize(
    "outcome", ["did not attend", "was not brought", "cancelled by person", "cancelled by service"]
)
def test_rebooking(outcome):
    """Thursday 2 April + 2 wd over Easter: Wednesday 8th; grace 3 wd: Monday 13th."""
    assert rebooked(contact("2026-04-02", outcome)) == ["04-02 04-02 04-08 04-13 tier 4 owed"]


@pytest.mark.parametrize("outcome", ["reached", "no answer", "attended"])
def test_what_needs_no_rebooking(outcome):
    assert rebooked(contact("2026-04-02", outcome)) == []


def test_while_none_is_owed():
    twice = [contact("2026-03-03", "did not attend"), contact("2026-03-05", "was not brought")]
    assert rebooked(*twice) == ["03-03 03-03 03-05 03-10 tier 4 owed"]
    again = [
        contact("2026-03-03", "did not attend"),
        contact("2026-03-04", "reached"),
        contact("2026-03-05", "did not attend"),
    ]
    assert rebooked(*again) == [
        "03-03 03-03 03-05 03-10 tier 4 done 03-04",
        "03-05 03-05 03-09 03-12 tier 4 owed",
    ]


def test_done_by_a_later_contact_reached_or_attended_and_not_by_no_answer():
    missed = contact("2026-03-03", "did not attend")
    assert rebooked(missed, contact("2026-03-04", "no answer"))[0].endswith("owed")
    for outcome in ("reached", "attended"):
        assert rebooked(missed, contact("2026-03-04", outcome))[0].endswith("done 03-04")


def test_contacts_of_one_day_in_the_order_recorded():
    missed, reached = contact("2026-03-03", "did not attend"), contact("2026-03-03", "reached", "phone")
    assert rebooked(missed, reached)[0].endswith("done 03-03")
    assert rebooked(reached, missed)[0].endswith("owed")


ACTS = [
    fact("fit check", "2026-03-03", overall="accepted"),
    fact("practice", "2026-03-03", who="wearer", don="06", doff="06"),
    fact("look", "2026-03-03", area="heel", how="seen", skin="clear"),
    fact("look", "2026-03-03", area="heel", how="told", skin="clear"),
    fact("look", "2026-03-03", area="heel", how="picture", skin="clear"),
    fact("wear report", "2026-03-03", hours=4.0),
    fact("reassessment", "2026-03-03", decision="continue"),
]


@pytest.mark.parametrize("act", ACTS, ids=lambda act: f"{act.kind} {getattr(act.body, 'how', '')}")
def test_one_act_one_entry(act):
    """Such acts are contacts of that day, and count after the contacts of that day."""
    assert rebooked(act, contact("2026-03-03", "did not attend"))[0].endswith("done 03-03")


@pytest.mark.parametrize("outcome", ["done", "partly", "not possible"])
def test_an_adjustment_is_a_contact_attended(outcome):
    ask = fact("adjustment request", "2026-03-02", request="Q1", cause="worn out")
    act = fact("adjustment", "2026-03-03", request="Q1", outcome=outcome)
    assert rebooked(ask, act, contact("2026-03-03", "did not attend"))[0].endswith("done 03-03")


@pytest.mark.parametrize(
    "act",
    [
        fact("adjustment request", "2026-03-04", request="Q1", cause="rub", area="heel"),
        fact("measure", "2026-03-04", measure="TUG", value=12.0),
        fact("wear plan", "2026-03-04", plan="gentle"),
        fact("fall", "2026-03-04"),
    ],
    ids=lambda act: act.kind,
)
def test_other_facts_are_no_contact(act):
    """A rub request is a told look, but no contact."""
    assert rebooked(contact("2026-03-03", "did not attend"), act)[0].endswith("owed")


def told(on, **more):
    return fact("escalation", on, escalation=f"E {on}", to="medical", why="signs", **more)


def escalated(*facts, **about):
    return ledger(case(*facts, **about), "escalation")


def test_escalation_until_it_is_answered():
    """Good Friday 3 April: due Tuesday 7th, grace to the 8th."""
    assert escalated(told("2026-04-03")) == ["04-03 04-03 04-07 04-08 tier 1 owed"]
    assert escalated(told("2026-04-03", answered_on="2026-04-04")) == [
        "04-03 04-03 04-07 04-08 tier 1 done 04-04"
    ]
    assert escalated(told("2026-04-03", answered_on="2026-04-03"))[0].endswith("done 04-03")


def test_whenever_dated():
    """Before delivery, without a device, after discharge."""
    assert len(escalated(told("2025-03-03"))) == 1
    assert len(escalated(told("2026-03-03"), devices=[])) == 1
    assert len(escalated(status("2026-03-03", "discharged"), told("2026-03-05"))) == 1


def seen(on, *signs, device="D1"):
    return fact("look", on, device, area="heel", how="seen", skin="clear", signs=signs)


@pytest.mark.parametrize("sign", ["infection", "weakness", "calf swelling", "cold or pale", "hot swollen foot"])
def test_a_look_or_wear_report_with_a_sign_that_somebody_must_be_told_of(sign):
    assert escalated(seen("2026-04-03", sign)) == ["04-03 04-03 04-07 04-08 tier 1 owed"]
    report = fact("wear report", "2026-04-03", hours=2.0, signs=(sign,))
    assert escalated(report) == ["04-03 04-03 04-07 04-08 tier 1 owed"]


@pytest.mark.parametrize("sign", ["numbness", "firm or warm"])
def test_other_signs_need_no_escalation(sign):
    assert escalated(seen("2026-04-03", sign)) == []


def test_a_sign_whenever_dated():
    assert len(escalated(seen("2026-02-01", "infection"))) == 1
    assert len(escalated(status("2026-03-03", "moved"), seen("2026-03-05", "infection"))) == 1


@pytest.mark.parametrize(("before", "rows_owed"), [(1, 1), (7, 1), (8, 2)])
def test_unless_one_was_recorded_on_one_of_the_7_days_before(before, rows_owed):
    """The escalation itself is always one row."""
    assert len(escalated(told(f"2026-03-{20 - before:02}"), seen("2026-03-20", "infection"))) == rows_owed


def test_done_by_an_escalation_of_the_person():
    found = escalated(seen("2026-03-20", "infection"), told("2026-03-23"))
    assert found == ["03-20 03-20 03-20 03-23 tier 1 done 03-23", "03-23 03-23 03-23 03-24 tier 1 owed"]


def test_done_on_the_very_day():
    assert "03-20 03-20 03-20 03-23 tier 1 done 03-20" in escalated(
        told("2026-03-20"), seen("2026-03-20", "infection")
    )


def test_at_most_one_of_this_sort_not_done():
    assert len(escalated(seen("2026-03-20", "infection"), seen("2026-04-20", "weakness"))) == 1
    both = [device(delivered="2026-03-02"), device(device="D2", side="right", delivered="2026-03-02")]
    twice = [seen("2026-03-20", "infection"), seen("2026-03-20", "infection", device="D2")]
    assert len(escalated(*twice, devices=both)) == 1


def test_a_sign_on_the_day_of_the_answer_is_answered_by_it():
    found = escalated(seen("2026-03-20", "infection"), told("2026-03-23"), seen("2026-03-23", "weakness"))
    assert len(found) == 2


def ending(*facts, until="2027-03-01", **about):
    granted = status("2026-03-09", "open access", until=until)
    return ledger(case(granted, *facts, **about), "open access ending")


def test_open_access_ending():
    """1 March 2027 is a Monday: due 1 February, opens 4 January (28 d before), up to 1 March."""
    assert ending() == ["03-09 2027-01-04 2027-02-01 2027-03-01 tier 5 owed"]


def test_up_to_date_rolled_and_not_before_it_started():
    """Until Good Friday 3 April: 28 days before is Friday 6 March, so the day it was granted."""
    assert ending(until="2026-04-03") == ["03-09 03-09 03-09 04-07 tier 5 owed"]


def test_done_by_a_contact_reached_or_attended_on_or_after_it_opens():
    assert ending(contact("2027-01-03", "reached"))[0].endswith("owed")
    assert ending(contact("2027-01-04", "reached"))[0].endswith("done 2027-01-04")
    assert ending(contact("2027-01-04", "no answer"))[0].endswith("owed")
    assert ending(fact("wear report", "2027-01-05", hours=8.0))[0].endswith("done 2027-01-05")


def test_a_return_to_active_leaves_it_running_and_a_discharge_cancels_it():
    assert ending(status("2026-05-01", "active"))[0].endswith("owed")
    assert ending(status("2026-05-01", "discharged"))[0].endswith("cancelled 05-01")


def test_a_pause_moves_it_and_its_opening():
    """Due 1 February 2027 in a pause until Friday 12th: Tuesday 16th; opens 19 January. Then it is done."""
    pause = fact("pause", "2027-01-10", until="2027-02-12", reason="abroad")
    assert ending(pause) == ["03-09 2027-01-19 2027-02-16 2027-03-01 tier 5 owed"]
    assert ending(pause, contact("2027-01-12", "reached"))[0].endswith("owed")
    assert ending(pause, contact("2027-01-20", "reached"))[0].endswith("done 2027-01-20")


def test_a_pause_begun_after_it_was_done_moves_nothing():
    pause = fact("pause", "2027-01-10", until="2027-02-12", reason="abroad")
    assert ending(contact("2027-01-05", "reached"), pause) == [
        "03-09 2027-01-04 2027-02-01 2027-03-01 tier 5 done 2027-01-05"
    ]


def test_the_site_on_the_day_the_row_started_has_its_closures():
    moved = fact("change", "2026-03-04", what="site", to="north")
    closed = [("2026-03-05", "north"), ("2026-03-09", "north")]
    one = case(contact("2026-03-03", "did not attend"), moved)
    assert ledger(one, "rebooking", closures=closed) == ["03-03 03-03 03-05 03-10 tier 4 owed"]
    other = case(moved, contact("2026-03-04", "did not attend"))
    # North: 5th and 9th closed, so the 6th and the 10th; three more to Friday 13th.
    assert ledger(other, "rebooking", closures=closed) == ["03-04 03-04 03-10 03-13 tier 4 owed"]


def test_nobody_is_told_twice_of_who_did_it():
    missed, reached = contact("2026-03-03", "did not attend"), contact("2026-03-04", "reached")
    (row,) = rows(case(missed, reached), "rebooking")
    assert row.done_by == "1 contact"
