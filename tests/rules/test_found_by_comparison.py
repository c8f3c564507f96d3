"""What a second, independent reading of the rules gave otherwise; beside each the sentence that settled it."""

from tests.rules.build import case, device, fact, ledger, person


def status(on, to, **more):
    return fact("change", on, what="status", to=to, **more)


def review(on, decision="continue", **more):
    return fact("reassessment", on, decision=decision, **more)


def practice(on, who="wearer", don="06", doff="06"):
    return fact("practice", on, who=who, don=don, doff=doff)


def test_a_device_that_went_away_before_it_was_delivered_is_awaited_back():
    # "Facts before delivery start and do nothing (except 4.8)."  25 March is 5 wd after the 18th.
    away = fact("away", "2026-03-18")
    expected = ["03-18 03-18 03-25 03-27 tier 3 owed"]
    assert ledger(case(away, devices="2026-04-01"), "back from workshop") == expected
    assert ledger(case(away, devices=[device(ordered="2026-03-02")]), "back from workshop") == expected


def test_a_practice_before_the_taking_over_starts_nothing():
    # "Taken over: that day stands for delivery ..., where delivery itself starts nothing and earlier facts,
    # wear plans too, start nothing." (A practice before delivery would count as on the day of delivery.)
    taken = [device(delivered="2026-03-02", taken_over="2026-03-02")]
    assert ledger(case(practice("2026-02-20", who="Pat"), devices=taken), "donning practice") == []


def test_a_cause_on_the_last_day_joins_the_fit_check_owed_and_starts_none():
    # "A row counts facts dated before the day it ended (4.1: up to it)."
    stopped = fact("wear stop", "2026-03-05", stopped_by="wearer", reason="hurts")
    gone = status("2026-03-05", "moved")
    assert ledger(case(stopped, gone), "fit check") == [
        "03-02 03-02 03-02 03-05 tier 2 cancelled 2026-03-05".replace("2026-", "")
    ]
    checked = fact("fit check", "2026-03-03", overall="accepted")
    assert ledger(case(checked, stopped, gone), "fit check") == ["03-02 03-02 03-02 03-05 tier 3 done 03-03"]


def test_a_review_on_the_day_of_a_return_does_one_row_only():
    # "A reassessment on the very day ... active status returns, does the row that is owed."
    access = status("2026-03-09", "open access", until="2026-09-09")
    back = status("2026-03-16", "active")
    at_risk = person(foot_risk="2")
    rows = ledger(case(access, back, review("2026-03-16"), who=at_risk), "reassessment")
    assert [row[-11:] for row in rows[1:]] == [" done 03-16", "tier 4 owed"]
    # Where none was owed, the return starts one, "and a fact may do a row on the very day it started".
    rows = ledger(case(access, back, review("2026-03-16")), "reassessment")
    assert [(row[:5], row[-11:]) for row in rows[1:]] == [("03-16", " done 03-16"), ("03-16", "tier 4 owed")]


def test_a_review_before_delivery_is_no_last_review_at_a_return():
    # "Facts before delivery start and do nothing": as if never reassessed, so the taking-over rule speaks.
    gone, back = status("2026-03-09", "discharged"), status("2026-03-16", "active")
    assert (
        ledger(case(review("2026-02-20"), gone, back), "reassessment")[1:]
        == ledger(case(gone, back), "reassessment")[1:]
    )


def test_a_due_date_in_two_pauses_waits_for_both():
    # "A row ... whose due date falls in a pause ... becomes due 2 wd after it": after each it falls in.
    # Due on 9 March (7 d after delivery); the 12th is 2 wd after the 10th, the 13th 2 wd after the 11th.
    shorter = fact("pause", "2026-03-03", until="2026-03-10", reason="away")
    longer = fact("pause", "2026-03-04", until="2026-03-11", reason="in hospital")
    expected = ["03-02 03-07 03-13 03-20 tier 3 owed"]
    assert ledger(case(shorter, longer), "donning practice") == expected
    assert ledger(case(longer, shorter), "donning practice") == expected
    last = fact("pause", "2026-03-01", until="2026-03-11", reason="in hospital")
    assert ledger(case(last, shorter), "donning practice") == expected


def test_wear_stopped_before_delivery_stops_no_plan():
    # "Facts before delivery start and do nothing."  One day of plan, then without limit: full wear.
    stop = fact("wear stop", "2026-03-01", stopped_by="clinician", reason="an older device")
    unfit = fact("fit check", "2026-03-01", overall="not to be worn")
    plan = fact("wear plan", "2026-03-02", plan="1d 2h/1h max 6h")
    report = fact("wear report", "2026-03-04", hours=8)
    assert ledger(case(stop, unfit, plan, report), "wear check") == [
        "03-02 03-03 03-05 03-09 tier 3 done 03-04"
    ]


def test_open_access_granted_after_a_discharge_is_no_taking_over():
    # "A return to active, from whatever status, is a taking over"; at a grant "last stays".
    # Delivered on 2 March, foot-risk 2: 5 months after that day, not after the grant.
    gone = status("2026-03-09", "discharged")
    access = status("2026-03-16", "open access", until="2026-09-16")
    back = status("2026-03-23", "active")
    at_risk = person(foot_risk="2")
    found = case(gone, access, who=at_risk)
    assert ledger(found, "reassessment")[1:] == ["03-16 07-20 08-03 08-17 tier 4 owed"]
    assert [row[-5:] for row in ledger(found, "replacement")] == ["03-09"]
    # The return is one, and "replacement: delivered (or taken over, if later)".
    assert [row[:5] for row in ledger(case(gone, access, back), "replacement")] == ["03-02", "03-23"]


def test_last_stays_at_a_grant_of_open_access_though_the_person_was_gone_before():
    # "for a device taken over without one since: its last review, or, if none is given, the day it was taken
    # over": *last* is the return of 23 March, and with it the fall of the 10th was answered.
    gone, back = status("2026-03-16", "discharged"), status("2026-03-23", "active")
    moved, access = status("2026-03-30", "moved"), status("2026-04-07", "open access", until="2026-09-16")
    fell = fact("fall", "2026-03-10")
    found = case(gone, back, moved, access, fell)
    assert [row[:5] for row in ledger(found, "reassessment")] == ["03-02", "03-23"]
    rows = ledger(case(gone, back, moved, access, fell, who=person(foot_risk="2")), "reassessment")
    assert rows[2:] == ["04-07 08-10 08-24 09-08 tier 4 owed"]


def test_a_fall_and_a_review_on_the_day_of_a_return_are_not_under_open_access():
    # "the reassessment row owed is cancelled": none was; the return starts one, counted from the return, and
    # the review of that day does it; "facts count with last <= day < next".
    access = status("2026-03-09", "open access", until="2026-09-09")
    back, fell = status("2026-03-16", "active"), fact("fall", "2026-03-16")
    rows = ledger(case(access, back, fell, review("2026-03-16")), "reassessment")
    assert len(rows) == 3
    assert rows[1].endswith("tier 4 done 03-16")
    assert rows[2] == "03-16 03-16 03-30 04-08 tier 3 owed"


def test_a_return_starts_the_replacement_again_unless_it_is_owed():
    # "replacement: delivered (or taken over, if later)"; at a return "the others run on".
    access = status("2026-03-09", "open access", until="2026-09-09")
    back = status("2026-03-16", "active")
    devices = [device(delivered="2026-03-02", life_months=3)]
    assert [row[:5] for row in ledger(case(access, back, devices=devices), "replacement")] == ["03-02"]
    changed = review("2026-03-04", "change device")
    rows = ledger(case(changed, access, back, devices=devices), "replacement")
    assert [(row[:5], row[-5:]) for row in rows] == [("03-02", "03-04"), ("03-16", " owed")]
