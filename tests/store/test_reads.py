"""Lists, searches and counts, alike on both engines."""

from datetime import date, timedelta

import pytest

from caseload.acts import facts, people
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.records.followups import State
from caseload.store import cases, owed
from caseload.store import people as reads
from tests.store.databases import TODAY, someone

AHEAD = date(2027, 12, 31)


def _named(desk: Desk, reference: str, family: str, given: str) -> None:
    people.add(desk, {"person": reference, "family_name": family, "given_name": given})


def test_search_as_you_type(desk: Desk) -> None:
    for reference, family, given in (
        ("H-07", "Åslund", "Sam"),
        ("H-08", "aslam", "Øyvind"),
        ("H-09", "Zimmer", "Asa_100%"),
        ("H-10", "De Groot", "Ann"),
    ):
        _named(desk, reference, family, given)
    assert [each.person for each in reads.find(desk.store, "")] == ["H-08", "H-07", "H-10", "H-09"]
    assert [each.person for each in reads.find(desk.store, "ASL")] == ["H-08", "H-07"]
    assert [each.person for each in reads.find(desk.store, "oyv asl")] == ["H-08"]
    assert [each.person for each in reads.find(desk.store, "de groot, ann")] == ["H-10"]
    assert [each.person for each in reads.find(desk.store, "h-09")] == ["H-09"]
    assert [each.person for each in reads.find(desk.store, "100%")] == ["H-09"]
    assert [each.person for each in reads.find(desk.store, "a_1")] == ["H-09"]
    assert reads.find(desk.store, "m_r") == []
    assert reads.find_ids(desk.store, "asl") == ["H-08", "H-07"]
    assert [each.person for each in reads.find(desk.store, "", limit=2, offset=1)] == ["H-07", "H-10"]
    assert reads.by_ids(desk.store, ["H-07", "H-99"])["H-07"].name == "Åslund, Sam"
    assert reads.free_reference(desk.store, "H") == "H-0001"


def test_a_week_holds_ones_own_and_every_first_tier_row_of_the_site(desk: Desk) -> None:
    someone(desk, "P1")
    someone(desk, "P2", clinician="sam")
    someone(desk, "P3", clinician="sam", site="Hill")
    blister = {"area": "heel", "how": "told", "skin": "blister"}
    for person in ("P2", "P3"):
        facts.record(desk, [Draft("look", TODAY, blister, device=f"{person}-L")])
    week = owed.week(desk.store, ["imogen"], TODAY, TODAY)
    assert {(each.row.person, each.row.kind.value) for each in week if each.row.tier == 1} == {
        ("P2", "skin look")
    }
    assert {each.row.person for each in week if each.row.tier > 1} == {"P1"}
    assert {each.name for each in week} == {"Lindqvist, Åsa"}
    both = owed.week(desk.store, ["imogen", "sam"], TODAY, AHEAD)
    assert sorted({each.row.person for each in both}) == ["P1", "P2", "P3"]
    assert len(both) == len({(each.row.person, each.row.kind, each.row.started) for each in both})


def test_narrowing(desk: Desk) -> None:
    someone(desk, "P1")
    someone(desk, "P2", clinician="sam", site="Hill")
    store = desk.store
    assert {each.row.person for each in owed.listed(store, TODAY, site="Hill")} == {"P2"}
    assert {each.row.person for each in owed.listed(store, TODAY, person="P1")} == {"P1"}
    assert {each.row.kind.value for each in owed.listed(store, TODAY, kind="fit check")} == {"fit check"}
    assert {each.row.kind.value for each in owed.listed(store, TODAY, due_by=date(2026, 11, 2))} == {
        "fit check"
    }
    assert len(owed.listed(store, TODAY, clinicians=["imogen", "sam"])) == len(owed.listed(store, TODAY))


def test_a_list_of_a_day_in_the_past_is_as_it_stood(desk: Desk) -> None:
    someone(desk)
    facts.record(desk, [Draft("fit check", date(2026, 11, 10), {"overall": "accepted"}, device="P1-L")])
    people.change(desk, "P1", date(2026, 11, 15), "foot_risk", "3")
    then, now = date(2026, 11, 4), TODAY
    assert "fit check" in {each.row.kind for each in owed.listed(desk.store, then)}
    assert "fit check" not in {each.row.kind for each in owed.listed(desk.store, now)}
    assert "fit check" in {each.row.kind for each in owed.listed(desk.store, now, ended_too=True)}
    assert {each.risk for each in owed.listed(desk.store, then)} == {(0, False)}
    assert {each.risk for each in owed.listed(desk.store, now)} == {(3, False)}


@pytest.mark.parametrize("days", range(0, 60, 7))
def test_counts_agree_with_the_states_of_the_rows(quick: Desk, days: int) -> None:
    for number in range(3):
        someone(quick, f"P{number}")
    blister = {"area": "heel", "how": "told", "skin": "blister"}
    facts.record(quick, [Draft("look", TODAY, blister, device="P1-L")])
    on = date(2026, 11, 2) + timedelta(days=days)
    by = on + timedelta(days=6)
    rows = [each.row for each in owed.listed(quick.store, on, clinicians=["imogen"])]
    counted = owed.counts(quick.store, ["imogen"], on, by)
    states = [row.state(on) for row in rows]
    assert counted.missed == states.count(State.MISSED)
    assert counted.late == states.count(State.LATE)
    assert counted.waiting == states.count(State.WAITING)
    assert counted.urgent == sum(row.tier == 1 for row in rows)
    assert counted.due == sum(on <= row.due <= by for row in rows)


def test_who_is_in_no_clock_and_who_is_paused(desk: Desk) -> None:
    someone(desk, "P1")
    people.add(desk, {"person": "P2", "family_name": "Ng", "given_name": "Li", "clinician": "imogen"})
    people.add(desk, {"person": "P3", "family_name": "Ek", "given_name": "Bo", "clinician": "imogen"})
    people.change(desk, "P3", TODAY, "status", "moved")
    facts.record(
        desk, [Draft("pause", TODAY, {"until": date(2026, 12, 6), "reason": "in hospital"}, person="P1")]
    )
    assert [each.person for each in reads.in_no_clock(desk.store, ["imogen"])] == ["P2"]
    assert reads.how_many(desk.store, ["imogen"]) == 2
    paused = reads.paused(desk.store, TODAY, ["imogen"])
    assert [(each.person, until) for each, until in paused] == [("P1", date(2026, 12, 6))]
    assert reads.paused(desk.store, date(2026, 12, 7)) == []
    assert reads.paused(desk.store, TODAY, ["sam"]) == []


def test_cases_come_whole_and_in_order(desk: Desk) -> None:
    for number in range(5):
        someone(desk, f"P{number}")
        facts.record(
            desk,
            [
                Draft("fall", TODAY, {}, person=f"P{number}"),
                Draft("fit check", TODAY, {"overall": "accepted"}, device=f"P{number}-L"),
            ],
        )
    every = [case for batch in cases.cases(desk.store) for case in batch]
    assert [case.person.person for case in every] == [f"P{number}" for number in range(5)]
    assert every == [cases.case(desk.store, f"P{number}") for number in range(5)]
    assert cases.case(desk.store, "P9") is None
    assert cases.free_reference(desk.store, "escalation", "E") == "E-0001"
