"""Forms made from the declarations: what stands in them, and how they are read."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from caseload.records.case import Case
from caseload.records.columns import columns
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, KINDS, Fact
from caseload.records.followups import FollowUp, FollowUpKind, Reason
from caseload.records.people import Person
from caseload.records.skin import Look
from caseload.words import entry, form

TODAY = date(2026, 11, 24)
PERSON = Person(person="P1", family_name="Marlow", given_name="Edith")
LEFT = Device(device="D1", person="P1", side="left", orthosis="AFO", delivered=date(2026, 3, 3))
RIGHT = Device(device="D2", person="P1", side="right", orthosis="AFO", delivered=date(2026, 3, 3))


def owed(kind: FollowUpKind, cause: str, device: str = "D1") -> FollowUp:
    why = Reason("rule", TODAY, "", TODAY)
    return FollowUp(kind, "P1", device, cause, TODAY, TODAY, TODAY, TODAY, None, None, 1, (why,), 0)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_fact_has_a_form_with_each_of_its_fields(kind: object) -> None:
    made = form.fact_form(kind, Case(PERSON, (LEFT, RIGHT), ()), TODAY)  # type: ignore[arg-type]
    names = [column.name for column in made.columns]
    assert {column.name for column in columns(kind.body)} <= set(names)  # type: ignore[attr-defined]
    assert {"on", "note"} <= set(names)
    assert made.texts["on"] == "today"


def test_no_side_is_chosen_when_there_are_two() -> None:
    made = form.fact_form(BY_NAME["fit check"], Case(PERSON, (LEFT, RIGHT), ()), TODAY)
    assert "device" not in made.texts
    assert [shown for _, shown in made.choices["device"]] == ["LEFT AFO", "RIGHT AFO"]
    assert form.read(made, made.texts, TODAY).problems["device"] == "Device is needed."


def test_the_only_device_is_filled_in() -> None:
    made = form.fact_form(BY_NAME["fit check"], Case(PERSON, (LEFT,), ()), TODAY)
    assert made.texts["device"] == "D1"


def test_a_device_that_ended_is_not_offered_beside_one_in_use() -> None:
    from dataclasses import replace

    ended = replace(RIGHT, ended=TODAY - timedelta(days=9))
    made = form.fact_form(BY_NAME["fit check"], Case(PERSON, (LEFT, ended), ()), TODAY)
    assert made.choices["device"] == (("D1", "LEFT AFO"),)


def test_a_look_from_a_follow_up_knows_device_and_area_and_judges_nothing() -> None:
    row = owed(FollowUpKind.SKIN_LOOK, "navicular", "D2")
    made = form.fact_form(BY_NAME["look"], Case(PERSON, (LEFT, RIGHT), ()), TODAY, row)
    assert (made.texts["device"], made.texts["area"]) == ("D2", "navicular")
    assert "how" not in made.texts
    assert form.first_to_fill(made, made.texts) == "how"
    found = form.read(made, {**made.texts, "how": "seen", "skin": "clear"}, TODAY)
    assert not found.problems
    assert found.values["on"] == TODAY
    assert found.said["on"] == "Tue 24 Nov, today"


def test_all_problems_are_found_at_once() -> None:
    made = form.fact_form(BY_NAME["look"], Case(PERSON, (LEFT,), ()), TODAY)
    found = form.read(made, {**made.texts, "on": "3/4/2026", "pain": "11", "how": "sen"}, TODAY)
    assert set(found.problems) == {"on", "pain", "how", "area", "skin"}
    assert "did you mean seen?" in found.problems["how"]


def test_a_walk_test_is_understood_and_shown() -> None:
    made = form.fact_form(BY_NAME["measure"], Case(PERSON, (LEFT,), ()), TODAY)
    found = form.read(made, {**made.texts, "measure": "gait speed", "value": "12.4 s / 10 m"}, TODAY)
    assert found.values["value"] == 0.81
    assert "0.81 m/s" in found.said["value"]


def test_an_entry_on_record_reads_back_as_itself() -> None:
    body = Look(
        area="heel",
        how="seen",
        skin="mark",
        fade_minutes=25,
        pain=2.5,
        signs=("numbness", "weakness"),
        stopped_wear=False,
    )
    fact = Fact("f1", "look", "P1", "D1", date(2026, 11, 3), body, at="09:30", note="a\nb")
    made = form.amended_form(fact, BY_NAME["look"], Case(PERSON, (LEFT,), (fact,)), TODAY)
    found = form.read(made, made.texts, TODAY)
    assert not found.problems
    assert {name: found.values[name] for name in ("on", "at", "note")} == {
        "on": fact.on,
        "at": "09:30",
        "note": "a\nb",
    }
    assert Look(**{column.name: found.values[column.name] for column in columns(Look)}) == body


@pytest.mark.parametrize(
    ("typed", "stored"),
    [("9:30", "09:30"), ("0930", "09:30"), ("9", "09:00"), ("2:05 pm", "14:05"), ("12am", "00:00")],
)
def test_times_as_people_type_them(typed: str, stored: str) -> None:
    at = next(column for column in form.ENVELOPE if column.name == "at")
    assert entry.read(at, typed, TODAY).value == stored


@pytest.mark.parametrize("typed", ["25:00", "9:75", "noon", "13pm"])
def test_what_is_no_time(typed: str) -> None:
    at = next(column for column in form.ENVELOPE if column.name == "at")
    assert entry.read(at, typed, TODAY).problem
