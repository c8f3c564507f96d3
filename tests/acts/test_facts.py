"""Recording, completing, correcting, striking out."""

from datetime import date, timedelta

import pytest

from caseload.acts import facts, people
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.errors import Changed, Refused
from caseload.store import audit, cases, owed
from tests.store.databases import TODAY, someone


def test_a_fact_does_the_follow_up_and_says_what_is_next(desk: Desk) -> None:
    someone(desk)
    recorded = facts.record(
        desk, [Draft("practice", TODAY, {"who": "wearer", "don": "06", "doff": "06"}, device="P1-L")]
    )
    assert [row.kind for row in recorded.done] == ["donning practice"]
    assert [(row.kind, row.due) for row in recorded.new] == [("donning practice", date(2026, 12, 1))]
    assert recorded.done[0].done_by == recorded.facts[0].id
    assert recorded.facts[0].by == "imogen" and recorded.facts[0].typed_on == TODAY
    assert recorded.after == tuple(sorted(recorded.after, key=lambda row: recorded.after.index(row)))
    assert sorted(map(str, owed.of_person(desk.store, "P1"))) == sorted(map(str, recorded.after))


def test_several_facts_are_one_act(desk: Desk) -> None:
    someone(desk)
    look = Draft("look", TODAY, {"area": "heel", "how": "seen", "skin": "blister"}, device="P1-L")
    stop = Draft("wear stop", TODAY, {"stopped_by": "clinician", "reason": "blister"}, device="P1-L")
    recorded = facts.record(desk, [look, stop])
    entries = audit.deed(desk.store, recorded.deed)
    assert [entry.what for entry in entries] == ["look", "wear stop"]
    assert [fact.order for fact in recorded.facts] == [1, 2]
    assert {entry.who for entry in entries} == {"imogen"}


def test_all_problems_are_said_and_nothing_is_kept(desk: Desk) -> None:
    someone(desk)
    with pytest.raises(Refused) as refused:
        facts.record(
            desk,
            [
                Draft(
                    "look",
                    TODAY + timedelta(days=1),
                    {"area": "heel", "how": "saw", "skin": "blister"},
                    device="P1-L",
                ),
                Draft("fall", TODAY, {}, person="nobody"),
                Draft("look", TODAY, {"area": "heel", "how": "seen", "skin": "clear"}, device="P1-R"),
            ],
        )
    assert {problem.field for problem in refused.value.at} == {"how", "on", "person", "device"}
    assert refused.value.problems[0] == "How 'saw' is not known; it is one of: seen, picture, told."
    assert len(cases.case(desk.store, "P1").facts) == 0


@pytest.mark.parametrize(
    ("kind", "values", "field"),
    [
        ("wear plan", {"plan": "standard"}, "reason"),
        ("wear plan", {"plan": "1d two hours"}, "plan"),
        ("look", {"area": "heel", "how": "seen", "skin": "clear", "raised_to": "watch"}, "raised_reason"),
        (
            "look",
            {"area": "heel", "how": "seen", "skin": "blister", "raised_to": "stop", "raised_reason": "x"},
            "raised_to",
        ),
        ("reassessment", {"decision": "continue", "next_on": date(2027, 1, 4)}, "next_reason"),
        (
            "adjustment request",
            {"request": "Q1", "cause": "rub", "needed_by": date(2026, 12, 1)},
            "needed_reason",
        ),
        ("wear stop", {"stopped_by": "wearer", "reason": "x", "lifted_on": date(2026, 11, 9)}, "lifted_on"),
        ("away", {"back": date(2026, 11, 9)}, "back"),
        ("adjustment", {"request": "Q9", "outcome": "done"}, "request"),
        ("measure", {"measure": "TUG"}, "value"),
        ("wear report", {"hours": 25.0}, "hours"),
    ],
)
def test_what_the_rules_ask_for(quick: Desk, kind: str, values: dict[str, object], field: str) -> None:
    someone(quick, sensation="reduced")
    with pytest.raises(Refused) as refused:
        facts.record(quick, [Draft(kind, date(2026, 11, 10), values, device="P1-L")])
    assert [problem.field for problem in refused.value.at] == [field]


@pytest.mark.parametrize(
    ("kind", "values", "field"),
    [
        (
            "escalation",
            {"escalation": "E1", "to": "GP", "why": "calf", "answered_on": date(2026, 11, 9)},
            "answered_on",
        ),
        ("pause", {"until": date(2026, 11, 9), "reason": "abroad"}, "until"),
        ("change", {"what": "sensation", "to": "numb"}, "to"),
        ("change", {"what": "status", "to": "open access"}, "until"),
        ("fall", {"devices_worn": ("P2-L",)}, "devices_worn"),
    ],
)
def test_what_the_rules_ask_of_a_person(quick: Desk, kind: str, values: dict[str, object], field: str) -> None:
    someone(quick)
    with pytest.raises(Refused) as refused:
        facts.record(quick, [Draft(kind, date(2026, 11, 10), values, person="P1")])
    assert [problem.field for problem in refused.value.at] == [field]


def test_before_delivery_is_kept_with_a_warning(quick: Desk) -> None:
    someone(quick)
    early = Draft("fit check", date(2026, 10, 1), {"overall": "accepted"}, device="P1-L")
    recorded = facts.record(quick, [early])
    assert [problem.warning for problem in recorded.warnings] == [True]
    assert "before P1-L was delivered on 2026-11-02" in recorded.warnings[0].says


def test_the_same_draft_twice_is_one_fact(desk: Desk) -> None:
    someone(desk)
    draft = Draft("fall", TODAY, {"hurt": True}, person="P1")
    facts.record(desk, [draft])
    facts.record(desk, [draft])
    assert len(cases.case(desk.store, "P1").facts) == 1


def test_a_request_its_adjustment_and_the_device_it_is_of(desk: Desk) -> None:
    someone(desk)
    facts.record(desk, [Draft("adjustment request", TODAY, {"request": "Q1", "cause": "fall"}, device="P1-L")])
    with pytest.raises(Refused, match="used already"):
        facts.record(
            desk, [Draft("adjustment request", TODAY, {"request": "Q1", "cause": "rub"}, device="P1-L")]
        )
    done = facts.record(desk, [Draft("adjustment", TODAY, {"request": "Q1", "outcome": "done"})])
    assert (done.facts[0].person, done.facts[0].device) == ("P1", "P1-L")
    assert [row.cause for row in done.done] == ["Q1"]
    request = next(fact for fact in cases.case(desk.store, "P1").facts if fact.kind == "adjustment request")
    with pytest.raises(Refused, match="strike that out first"):
        facts.strike_out(desk, request.id, 1, "wrong device")


def test_completing_needs_no_reason_and_correcting_does(desk: Desk) -> None:
    someone(desk)
    away = facts.record(desk, [Draft("away", date(2026, 11, 10), {"reason": "strap"}, device="P1-L")]).facts[0]
    back = facts.amend(desk, away.id, 1, {"back": TODAY})
    assert back.facts[0].version == 2 and [row.kind for row in back.done] == ["back from workshop"]
    with pytest.raises(Refused, match="needs a reason"):
        facts.amend(desk, away.id, 2, {"back": date(2026, 11, 20)})
    again = facts.amend(desk, away.id, 2, {"back": date(2026, 11, 20), "on": date(2026, 11, 9)}, "typed wrong")
    entry = audit.deed(desk.store, again.deed)[0]
    assert (entry.before["body"]["back"], entry.after["body"]["back"]) == ("2026-11-24", "2026-11-20")
    assert (entry.why, entry.act) == ("typed wrong", "amend")
    assert cases.fact(desk.store, away.id) == again.facts[0]


def test_a_lost_race_shows_both(desk: Desk) -> None:
    someone(desk)
    fact = facts.record(desk, [Draft("fall", TODAY, {}, person="P1")]).facts[0]
    facts.amend(desk, fact.id, 1, {"hurt": True}, "asked again")
    with pytest.raises(Changed) as changed:
        facts.amend(desk, fact.id, 1, {"hurt": False}, "asked again")
    assert changed.value.theirs.body.hurt is True
    assert changed.value.yours == {"hurt": False}


def test_striking_out_is_as_if_never_entered(desk: Desk) -> None:
    someone(desk)
    before = owed.of_person(desk.store, "P1")
    fact = facts.record(
        desk, [Draft("look", TODAY, {"area": "heel", "how": "seen", "skin": "blister"}, device="P1-L")]
    ).facts[0]
    assert owed.of_person(desk.store, "P1") != before
    with pytest.raises(Refused, match="needs a reason"):
        facts.strike_out(desk, fact.id, 1, " ")
    struck = facts.strike_out(desk, fact.id, 1, "the other foot").facts[0]
    assert (struck.struck_on, struck.struck_by, struck.struck_reason) == (TODAY, "imogen", "the other foot")
    assert set(owed.of_person(desk.store, "P1")) == set(before)
    with pytest.raises(Refused, match="already"):
        facts.strike_out(desk, fact.id, 2, "again")


@pytest.mark.parametrize("status", ["discharged", "moved", "open access"])
def test_leaving_with_pressing_work_needs_a_reason(desk: Desk, status: str) -> None:
    someone(desk)
    until = date(2027, 11, 24) if status == "open access" else None
    facts.record(
        desk,
        [Draft("look", date(2026, 11, 23), {"area": "heel", "how": "seen", "skin": "broken"}, device="P1-L")],
    )
    with pytest.raises(Refused) as refused:
        people.change(desk, "P1", TODAY, "status", status, until=until)
    assert refused.value.at[0].field == "reason" and "skin look (heel)" in refused.value.problems[0]
    people.change(desk, "P1", TODAY, "status", status, until=until, reason="moves to her sister, handed over")
    left = [row.kind for row in owed.of_person(desk.store, "P1") if row.ended is None]
    assert "skin look" in left


def test_hostile_text_is_kept_as_typed_or_refused(desk: Desk) -> None:
    someone(desk)
    nasty = "[bold]x[/] \x1b[31m\u202ereversed \U0001f9e6 " + "é" * 10_000
    fact = facts.record(
        desk, [Draft("contact", TODAY, {"how": "phone", "outcome": "reached"}, person="P1", note=nasty)]
    )
    assert cases.fact(desk.store, fact.facts[0].id).note == nasty
    for half in ("a\x00b", "\ud83e"):
        with pytest.raises(Refused):
            facts.record(
                desk, [Draft("contact", TODAY, {"how": "phone", "outcome": "reached"}, person="P1", note=half)]
            )
        with pytest.raises(Refused):
            facts.record(desk, [Draft("fall", TODAY, {"activity": half}, person="P1")])
