"""Facts, follow-ups and cautions in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from caseload.records import adjustments, fitting, life, people, review, skin, wear
from caseload.records.case import Case
from caseload.records.devices import Device
from caseload.records.facts import KINDS, Fact
from caseload.records.followups import FollowUp, FollowUpKind, Reason
from caseload.records.people import Person
from caseload.rules.protocol import shipped
from caseload.words import about, cautions, news, owed, sentences
from caseload.words.why import why

TODAY = date(2026, 11, 24)
PERSON = Person(person="P1", family_name="Marlow", given_name="Edith")
DEVICE = Device(device="D1", person="P1", side="left", orthosis="AFO", delivered=date(2026, 11, 3))
BODIES = {
    "change": (
        people.Change(what="foot_risk", to="2", reason="annual check"),
        "foot-risk category is now 2, annual check",
    ),
    "trajectory": (review.Trajectory(trajectory="stable"), "heading: stable"),
    "fit check": (
        fitting.FitCheck(overall="needs adjustment", concerns="gapes"),
        "fit needs adjustment, gapes",
    ),
    "footwear change": (fitting.FootwearChange(what="boots"), "footwear changed, boots"),
    "practice": (
        fitting.Practice(who="Ann", don="05", doff="06"),
        "Ann (carer): on 05 setup or clean-up, off 06 independent",
    ),
    "wear plan": (wear.WearPlan(plan="gentle"), "wear plan gentle, goal 6 h"),
    "wear report": (wear.WearReport(hours=5, skin="clear"), "worn 5 h, skin clear"),
    "look": (skin.Look(area="navicular", how="seen", skin="blister"), "blister at the navicular, seen"),
    "wear stop": (
        wear.WearStop(stopped_by="wearer", reason="pain"),
        "wear stopped by wearer: pain, not lifted",
    ),
    "adjustment request": (
        adjustments.AdjustmentRequest(request="Q1", cause="rub", area="heel", still_worn=False),
        "adjustment asked for, rub at the heel, not worn, reference Q1",
    ),
    "adjustment": (adjustments.Adjustment(request="Q1", outcome="done"), "adjustment done (Q1)"),
    "request withdrawal": (
        adjustments.RequestWithdrawal(request="Q1", reason="new shoe"),
        "request Q1 withdrawn, new shoe",
    ),
    "away": (
        wear.Away(promised=date(2026, 12, 1), loan=True),
        "device away, promised for Tue 1 Dec, loan given",
    ),
    "reassessment": (review.Reassessment(decision="continue"), "reassessed, decision: continue"),
    "measure": (
        review.Measure(measure="gait speed", value=0.81, device_on=True, aid="stick"),
        "gait speed 0.81 m/s, device on, stick",
    ),
    "fall": (life.Fall(hurt=True, devices_worn=("D1",)), "fall, hurt, wearing D1"),
    "contact": (life.Contact(how="phone", outcome="no answer"), "contact by phone: no answer"),
    "escalation": (
        life.Escalation(escalation="E1", to="the GP", why="infection"),
        "told the GP: infection, not answered",
    ),
    "pause": (
        life.Pause(until=date(2026, 12, 15), reason="in hospital"),
        "paused until Tue 15 Dec, in hospital",
    ),
}


def fact(kind: str, on: date = TODAY, **more: object) -> Fact:
    return Fact(kind, kind, "P1", "D1", on, BODIES[kind][0])._replace(**more)  # type: ignore[arg-type]


def row(kind: FollowUpKind, due: date, tier: int = 3, rule: str = "rule", cause: str = "") -> FollowUp:
    why_ = Reason(rule, due - timedelta(days=5), "5 days", due)
    opens, last = due - timedelta(days=2), due + timedelta(days=3)
    return FollowUp(kind, "P1", "D1", cause, opens, opens, due, last, None, None, tier, (why_,), 0)


@pytest.mark.parametrize("kind", [kind.name for kind in KINDS])
def test_every_fact_is_said_in_words(kind: str) -> None:
    assert sentences.fact_said(fact(kind), TODAY) == BODIES[kind][1]


def test_a_visit_is_the_latest_day_in_plain_sentences() -> None:
    facts = [
        fact("reassessment", TODAY - timedelta(days=9)),
        fact("fit check", note="Strap moved."),
        fact("look", struck_on=TODAY),
        fact("contact", device=None),
    ]
    assert sentences.visit("Marlow, Edith", facts, {"D1": DEVICE}, TODAY) == (
        "Marlow, Edith, Tue 24 Nov 2026.",
        "LEFT AFO: fit needs adjustment, gapes. Strap moved.",
        "Contact by phone: no answer.",
    )
    assert sentences.visit("Marlow, Edith", [], {}, TODAY) == ()


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (0, "due today"),
        (1, "due tomorrow"),
        (-2, "2 days late"),
        (-12, "missed by 12 days"),
        (-100, "missed by 3 months"),
        (30, "opens in 4 weeks"),
    ],
)
def test_how_it_stands(days: int, said: str) -> None:
    assert owed.stands(row(FollowUpKind.WEAR_CHECK, TODAY + timedelta(days=days)), TODAY) == said


@pytest.mark.parametrize("kind", list(FollowUpKind))
def test_each_follow_up_says_what_does_it(kind: FollowUpKind) -> None:
    assert owed.done_by(row(kind, TODAY))
    assert kind in owed.RECORDS or kind is FollowUpKind.SUPPLY


def test_the_counts_in_words_count_each_once() -> None:
    rows = [
        row(FollowUpKind.SKIN_LOOK, TODAY, 1),
        row(FollowUpKind.ADJUSTMENT, TODAY, 1),
        row(FollowUpKind.WEAR_CHECK, TODAY - timedelta(days=1)),
        row(FollowUpKind.DONNING_PRACTICE, TODAY - timedelta(days=20)),
        row(FollowUpKind.REASSESSMENT, TODAY + timedelta(days=2)),
        row(FollowUpKind.REASSESSMENT, TODAY + timedelta(days=40)),
    ]
    said = owed.counts_said(rows, TODAY, TODAY + timedelta(days=5))
    assert said == "1 urgent rub, 1 more urgent, 1 missed, 1 late, 1 due this week, 1 not yet competent"
    assert owed.counts_said([], TODAY, TODAY) == ""


def test_why_tells_rule_caution_what_does_it_and_that_local_policy_comes_first() -> None:
    told = why(
        row(FollowUpKind.SKIN_LOOK, TODAY, 1, "urgent: blister, seen", "navicular"),
        Case(PERSON, (DEVICE,), (fact("look"),)),
        shipped(),
        TODAY,
        staffed=date(2026, 11, 30),
    )
    text = {paragraph.heading: paragraph.says for paragraph in told}
    assert text["Why"].startswith(
        "LEFT AFO, navicular: urgent: blister, seen, Thu 19 Nov; 5 days later; due Tue 24 Nov"
    )
    assert "not on again until seen (orthotist: no number set)" in text["Caution"]
    assert "The next staffed day is Mon 30 Nov" in text["Caution"]
    assert text["Done by"].startswith("a look in person. Booked: not yet.")
    assert "judgement of the clinician come first" in text["Done by"]
    assert "blister at the navicular, seen" in text["Last"]


def test_a_number_in_the_protocol_is_told_with_its_caution() -> None:
    protocol = replace(shipped(), phones={**shipped().phones, "orthotist": "555 0142"})
    told = cautions.sentences({"urgent"}, protocol, None, TODAY)
    assert "(orthotist 555 0142)" in told[0]
    assert "{" not in " ".join(told)


@pytest.mark.parametrize(
    "sign", ["infection", "numbness", "weakness", "calf swelling", "cold or pale", "hot swollen foot"]
)
def test_every_sign_calls_for_a_caution(sign: str) -> None:
    body = skin.Look(area="calf", how="seen", skin="clear", signs=(sign,))
    assert len(cautions.sentences(cautions.of_body("look", body), shipped(), None, TODAY)) > 1


def test_what_an_act_did_is_told_done_next_and_moved() -> None:
    look, check = row(FollowUpKind.SKIN_LOOK, TODAY, 2, cause="heel"), row(FollowUpKind.WEAR_CHECK, TODAY)
    later = check._replace(due=TODAY + timedelta(days=7), last_day=TODAY + timedelta(days=9))
    fit = row(FollowUpKind.FIT_CHECK, TODAY + timedelta(days=2))
    told = news.news([look, check], [look._replace(done=TODAY), later, fit], {"D1": DEVICE}, TODAY)
    assert told == (
        "Done: LEFT AFO skin look, stop: heel.",
        "Next: LEFT AFO fit check, due Thu 26 Nov.",
        "Moved: LEFT AFO wear check, now due Tue 1 Dec, in 7 days.",
    )
    assert news.news([check], [check], {}, TODAY) == ()


def test_wearer_and_carer_are_told_apart() -> None:
    practices = [
        Fact(
            f"{who}{day}",
            "practice",
            "P1",
            "D1",
            date(2026, 11, day),
            fitting.Practice(who=who, don=level, doff="06"),
            order=day,
        )
        for who, day, level in (("wearer", 4, "06"), ("wearer", 9, "06"), ("Ann", 9, "03"))
    ]
    said = about.donning(DEVICE, Case(PERSON, (DEVICE,), tuple(practices)), shipped(), TODAY)
    assert said == "wearer competent since Mon 9 Nov; Ann (carer) not yet competent (1 practice)"
