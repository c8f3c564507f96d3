"""Words that must be the right ones: areas, clinicians, references; and what a second window changed."""

from __future__ import annotations

from typing import Any

from caseload.acts import facts, people
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.screens.asking import next_reference
from caseload.store import open_store

from .conftest import TODAY, WHO, ago
from .test_record import on_record


async def test_enter_takes_the_only_area_that_goes_on_and_another_is_remarked_on(
    place: str, opened: Any
) -> None:
    async with opened(place, size=(100, 40)) as drive:
        await drive.week()
        await drive.press("f")
        await drive.on("Choose")
        await drive.type("look")
        await drive.press("enter")
        form = await drive.on("FormScreen")
        form.field("device").put("D2")
        form.field("area").take_focus()
        await drive.type("elbow")
        form.field("how").take_focus()
        await drive.until(lambda: "New here, and kept as it is written." in drive.text, "the remark")
        form.field("area").put("")
        form.field("area").take_focus()
        await drive.type("ach")
        await drive.press("enter")
        assert form.field("area").text == "achilles tendon"
        form.field("how").put("seen")
        form.field("skin").put("clear")
        form.field("area").put("Achilles  Tendon")
        await drive.press("ctrl+s")
        await drive.week()
    assert on_record(place, "P1", "look")[-1].body.area == "achilles tendon"


async def test_two_rubs_of_one_device_are_told_apart(place: str, opened: Any) -> None:
    with open_store(place) as store:
        body = {"area": "heel", "how": "seen", "skin": "mark", "fade_minutes": 25.0}
        facts.record(Desk(store, WHO, TODAY), [Draft("look", ago(0), body, device="D1")])
    async with opened(place) as drive:
        await drive.week()
        await drive.press("enter")
        await drive.on("PersonScreen")
        await drive.until(lambda: "skin look, watch: heel" in drive.text, "the second rub")
        assert "skin look, urgent: navic" in drive.text
        assert "LEFT AFO, navicular: urgent: blister" in drive.text


async def test_a_change_of_clinician_offers_those_there_are(place: str, opened: Any) -> None:
    async with opened(place, size=(100, 40)) as drive:
        await drive.week()
        await drive.press("enter")
        page = await drive.on("PersonScreen")
        await drive.until(lambda: page.seen is not None, "the person")
        await drive.press("m")
        await drive.on("Choose")
        await drive.press("enter")
        form = await drive.on("FormScreen")
        await drive.until(lambda: "Imogen Vale · Owen Pike" in drive.text, "the clinicians")
        await drive.type("Owen Pick")
        form.field("reason").take_focus()
        await drive.until(lambda: "did you mean Owen Pike?" in drive.text, "the remark")
        form.field("what").put("status")
        form.field("to").put("")
        form.field("to").take_focus()
        await drive.until(lambda: "active · open access · discharged · moved · died" in drive.text, "the words")
        assert "foot risk" in drive.text
        assert "foot_risk" not in drive.text


async def test_a_name_begun_is_saved_as_the_one_clinician_it_can_be(place: str, opened: Any) -> None:
    """`Owen` beside `Owen Pike` would be another clinician, and nobody's list would have the person."""
    async with opened(place) as drive:
        await drive.week()
        await drive.press("enter")
        page = await drive.on("PersonScreen")
        await drive.until(lambda: page.seen is not None, "the person")
        await drive.press("m")
        await drive.on("Choose")
        await drive.press("enter")
        await drive.on("FormScreen")
        await drive.until(lambda: "Imogen Vale · Owen Pike" in drive.text, "the clinicians")
        await drive.type("Owen")
        await drive.press("ctrl+s")
        await drive.on("PersonScreen")
        await drive.until(lambda: "clinician is now Owen Pike" in drive.text, "the change, by the whole name")


async def test_a_new_person_gets_the_next_reference_of_the_clinic(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("plus")
        form = await drive.on("FormScreen")
        assert form.field("person").text == "P5"
        form.field("family_name").put("Oyelaran")
        form.field("given_name").put("Ayo")
        await drive.press("ctrl+s")
        await drive.on("PersonScreen")
        await drive.press("plus")
        await drive.on("FormScreen")
        await drive.until(lambda: "neither ordered, delivered nor taken" in drive.text, "that it has no clock")


def test_the_next_reference() -> None:
    assert next_reference(["P0009", "P0064", "P0002", "X7"]) == "P0065"
    assert next_reference(["P-0999", "Q-1", "P-0001"]) == "P-1000"
    assert next_reference(["anna", "ben"]) == ""
    assert next_reference([]) == ""


async def test_an_absence_offers_the_clinicians(place: str, opened: Any) -> None:
    async with opened(place, who="night shift") as drive:
        await drive.week()
        await drive.press("b")
        form = await drive.on("FormScreen")
        assert form.field("who").text == ""
        await drive.until(lambda: "Imogen Vale · Owen Pike" in drive.text, "the clinicians")


async def test_what_is_taken_back_is_said_with_the_persons_name(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("u")
        await drive.on("Sure")
        assert "fit check and 3 more of Marlow, Edith (P1), recorded" in " ".join(drive.text.split())


async def test_what_another_window_did_is_there_on_coming_back(place: str, opened: Any) -> None:
    async with opened(place, size=(100, 40)) as drive:
        await drive.week()
        assert "Newcomer" not in drive.text
        with open_store(place) as store:
            desk = Desk(store, "Owen Pike", TODAY)
            values = {"person": "P9", "family_name": "Newcomer", "given_name": "Noa", "clinician": WHO}
            people.add(desk, values)
            facts.record(
                desk, [Draft("contact", ago(1), {"how": "phone", "outcome": "did not attend"}, person="P9")]
            )
        await drive.press("question_mark")
        await drive.on("HelpScreen")
        await drive.press("escape")
        await drive.until(lambda: "Newcomer, Noa" in drive.text, "what the other window recorded")


async def test_a_draft_keeps_the_day_it_was_typed_on(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("r")
        form = await drive.on("FormScreen")
        form.field("note").put("rang twice")
        await drive.until(lambda: drive.app.drafts.names(), "the draft")
        await drive.press("escape")
        await drive.week()
        kept = drive.app.drafts.of(drive.app.drafts.names()[0])
        assert (kept["on"], kept["note"]) == (f"{TODAY}", "rang twice")
