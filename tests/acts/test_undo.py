"""Undoing: by an act that takes it back, never by forgetting."""

from collections.abc import Callable
from datetime import date

import pytest

from caseload.acts import clinic, devices, facts, people, protocol, undo
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.errors import Refused
from caseload.rules.protocol import shipped_text
from caseload.store import audit, cases, owed
from caseload.store import clinic as clinic_reads
from caseload.store import people as reads
from tests.store.databases import TODAY, someone

ACTS: dict[str, Callable[[Desk], object]] = {
    "record": lambda desk: facts.record(desk, [Draft("fall", TODAY, {"hurt": True}, person="P1")]),
    "amend": lambda desk: facts.amend(desk, "first", 1, {"skin": "mark"}, "typed wrong"),
    "strike out": lambda desk: facts.strike_out(desk, "first", 1, "wrong foot"),
    "edit person": lambda desk: people.edit(desk, "P1", 1, {"born": date(2020, 1, 1)}),
    "edit device": lambda desk: devices.edit(desk, "P1-L", 1, {"ended": TODAY}),
    "change": lambda desk: people.change(desk, "P1", TODAY, "clinician", "sam"),
    "closure": lambda desk: clinic.add_closure(desk, {"on": date(2026, 11, 25)}),
}


@pytest.mark.parametrize("act", ACTS)
def test_undoing_leaves_everything_owed_as_it_was(desk: Desk, act: str) -> None:
    someone(desk)
    look = {"area": "heel", "how": "seen", "skin": "blister"}
    facts.record(desk, [Draft("look", date(2026, 11, 23), look, device="P1-L", id="first")])
    before = owed.listed(desk.store, TODAY, ended_too=True)
    ACTS[act](desk)
    assert owed.listed(desk.store, TODAY, ended_too=True) != before
    undo.undo_last(desk)
    assert set(owed.listed(desk.store, TODAY, ended_too=True)) == set(before)
    done, undone = audit.entries(desk.store, limit=2)[::-1]
    assert undone.undoes == done.deed and undone.act == "undo"


def test_what_was_added_is_taken_away(desk: Desk) -> None:
    people.add(desk, {"person": "P1", "family_name": "x", "given_name": "y"})
    session = {
        "session": "S1",
        "on": TODAY,
        "starts": "09:00",
        "minutes": 90,
        "who": "sam",
        "purpose": "therapy",
    }
    clinic.add_session(desk, session)
    clinic.add_absence(desk, {"who": "sam", "first": TODAY, "last": TODAY, "cover": "imogen"})
    assert clinic_reads.covered_by(desk.store, "imogen", TODAY) == ["sam"]
    for _ in range(3):
        undo.undo_last(desk)
    assert clinic_reads.absences(desk.store) == []
    assert clinic_reads.session(desk.store, "S1") is None
    assert reads.person(desk.store, "P1") is None
    with pytest.raises(Refused, match="nothing of yours"):
        undo.undo_last(desk)


def test_several_facts_of_one_act_go_together(desk: Desk) -> None:
    someone(desk)
    recorded = facts.record(
        desk, [Draft("fall", TODAY, {}, person="P1"), Draft("fall", TODAY, {}, person="P1")]
    )
    undone = undo.undo_last(desk)
    assert {fact.id for fact in undone.facts} == {fact.id for fact in recorded.facts}
    kept = cases.case(desk.store, "P1").facts
    assert [(fact.struck_on, fact.struck_reason) for fact in kept] == [(TODAY, "undone")] * 2


def test_only_ones_own_and_only_while_nothing_was_built_on_it(desk: Desk) -> None:
    someone(desk)
    sam = Desk(desk.store, "sam", TODAY)
    facts.record(desk, [Draft("fall", TODAY, {}, person="P1")])
    with pytest.raises(Refused, match="nothing of yours"):
        undo.undo_last(sam)
    facts.record(sam, [Draft("contact", TODAY, {"how": "phone", "outcome": "reached"}, person="P1")])
    with pytest.raises(Refused, match="sam did more about P1 since"):
        undo.undo_last(desk)
    undo.undo_last(sam)
    assert undo.undo_last(desk).facts[0].kind == "fall"


def test_a_reference_is_free_again_after_undo(desk: Desk) -> None:
    someone(desk)
    draft = {"request": "Q1", "cause": "fall"}
    facts.record(desk, [Draft("adjustment request", TODAY, draft, device="P1-L")])
    undo.undo_last(desk)
    again = facts.record(desk, [Draft("adjustment request", TODAY, draft, device="P1-L")])
    assert [row.cause for row in again.new] == ["Q1"]


def test_what_was_shown_is_what_is_undone(desk: Desk) -> None:
    someone(desk)
    facts.record(desk, [Draft("fall", TODAY, {}, person="P1")])
    shown = undo.last(desk)[0].deed
    facts.record(desk, [Draft("fall", TODAY, {}, person="P1")])
    with pytest.raises(Refused, match="look again"):
        undo.undo_last(desk, shown)


def test_a_protocol_is_not_undone(quick: Desk) -> None:
    protocol.use(quick, shipped_text().replace("first_day = 1900-01-01", "first_day = 2026-11-01"))
    with pytest.raises(Refused, match="put another one in use"):
        undo.undo_last(quick)


def test_a_person_and_a_device_just_entered_are_taken_back_with_what_they_owed(desk: Desk) -> None:
    someone(desk, "P1")
    someone(desk, "P2")
    undo.undo_last(desk)
    assert reads.device(desk.store, "P2-L") is None
    assert owed.of_person(desk.store, "P2") == []
    undo.undo_last(desk)
    assert reads.person(desk.store, "P2") is None
    assert {row.person for row in owed.of_person(desk.store, "P1")} == {"P1"}
