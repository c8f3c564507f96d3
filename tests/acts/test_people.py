"""New people and devices, and changing them."""

from datetime import date

import pytest

from caseload.acts import devices, facts, people
from caseload.acts.desk import Desk
from caseload.errors import Changed, Refused
from caseload.store import audit, owed
from caseload.store import people as reads
from tests.store.databases import TODAY, someone


def test_a_person_is_kept_as_typed(desk: Desk) -> None:
    values = {
        "person": "P1",
        "family_name": "Øverås",
        "given_name": "Zoë",
        "born": date(2015, 2, 28),
        "interpreter": True,
        "days": ("mon", "tue-am"),
    }
    person = people.add(desk, values)
    assert reads.person(desk.store, "P1") == (person, 1)
    assert (person.born, person.interpreter, person.lives_alone, person.days) == (
        date(2015, 2, 28),
        True,
        None,
        ("mon", "tue-am"),
    )


def test_all_mistakes_at_once_each_at_its_field(quick: Desk) -> None:
    with pytest.raises(Refused) as refused:
        people.add(quick, {"person": "P1", "born": date(2027, 1, 1), "sensation": "numb", "colour": "red"})
    assert {problem.field for problem in refused.value.at} == {
        "family_name",
        "given_name",
        "born",
        "sensation",
        "colour",
    }
    assert reads.person(quick.store, "P1") is None


def test_a_reference_is_used_once(desk: Desk) -> None:
    someone(desk)
    with pytest.raises(Refused, match="used already"):
        people.add(desk, {"person": "P1", "family_name": "x", "given_name": "y"})
    with pytest.raises(Refused, match="used already"):
        someone_elses = {"device": "P1-L", "person": "P1", "side": "right", "orthosis": "FO"}
        devices.add(desk, someone_elses)
    with pytest.raises(Refused, match="no person"):
        devices.add(desk, {"device": "X", "person": "P2", "side": "right", "orthosis": "FO"})


def test_editing_rebuilds_and_a_lost_race_shows_both(desk: Desk) -> None:
    someone(desk)
    edited = people.edit(desk, "P1", 1, {"phone": "555 0142", "note": None})
    assert edited.phone == "555 0142"
    with pytest.raises(Changed) as changed:
        people.edit(desk, "P1", 1, {"phone": "555 0199"})
    assert (changed.value.yours.phone, changed.value.theirs.phone) == ("555 0199", "555 0142")
    with pytest.raises(Refused, match="never changed"):
        people.edit(desk, "P1", 2, {"person": "P9"})
    people.edit(desk, "P1", 2, {"family_name": "Ng"})
    assert [found.name for found in reads.find(desk.store, "ng")] == ["Ng, Åsa"]


def test_a_change_of_clinician_moves_the_whole_list(desk: Desk) -> None:
    someone(desk)
    people.change(desk, "P1", TODAY, "clinician", "sam")
    assert owed.week(desk.store, ["imogen"], TODAY, date(2026, 12, 31)) == []
    assert {row.clinician for row in owed.week(desk.store, ["sam"], TODAY, date(2026, 12, 31))} == {"sam"}
    assert reads.clinicians(desk.store) == [("sam", 1)]
    assert audit.last_deed(desk.store, "imogen")[0].act == "change of clinician"


def test_the_end_of_a_device_cancels_what_it_owed(desk: Desk) -> None:
    someone(desk)
    ended = devices.edit(desk, "P1-L", 1, {"ended": TODAY, "end_reason": "outgrown"})
    assert {row.cancelled for row in ended.after if row.done is None} == {TODAY}
    with pytest.raises(Refused, match="cannot end before"):
        devices.edit(desk, "P1-L", 2, {"ended": date(2026, 11, 1)})
    with pytest.raises(Changed):
        devices.edit(desk, "P1-L", 1, {"note": "late"})


def test_delivering_a_device_starts_its_clocks(desk: Desk) -> None:
    someone(desk)
    ordered = {
        "device": "P1-R",
        "person": "P1",
        "side": "right",
        "orthosis": "AFO",
        "ordered": date(2026, 10, 1),
    }
    assert [row.kind for row in devices.add(desk, ordered).new] == ["supply"]
    delivered = devices.edit(desk, "P1-R", 1, {"delivered": TODAY})
    assert [row.kind for row in delivered.done] == ["supply"]
    assert {row.kind for row in delivered.new} >= {"fit check", "donning practice", "reassessment"}


def test_after_a_death_no_status_is_taken_until_it_is_struck_out(desk: Desk) -> None:
    someone(desk)
    died = people.change(desk, "P1", TODAY, "status", "died", reason="told by the family")
    with pytest.raises(Refused, match="strike it out first"):
        people.change(desk, "P1", TODAY, "status", "active")
    facts.strike_out(desk, died.facts[0].id, 1, "another person of that name")
    people.change(desk, "P1", TODAY, "status", "discharged", reason="moved on")
