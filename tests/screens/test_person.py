"""Person: what happened, where is this heading, what is owed?"""

from __future__ import annotations

from typing import Any

import pytest

from caseload.store import open_store
from caseload.store.cases import case


async def edith(drive: Any) -> Any:
    """Edith's page."""
    await drive.week()
    await drive.press("enter")
    page = await drive.on("PersonScreen")
    await drive.until(
        lambda: (page.seen is not None and "History" in drive.text) or page.query_one("#list").keys,
        "the person",
    )
    return page


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 60)])
async def test_course_owed_and_history(place: str, opened: Any, size: tuple[int, int]) -> None:
    async with opened(place, size=size) as drive:
        page = await edith(drive)
        assert "Marlow, Edith" in drive.text
        assert "|today|" in drive.text
        assert "├" in drive.text
        assert "LEFT AFO" in drive.text
        assert "RIGHT AFO" in drive.text
        assert "skin look, urgent" in drive.text
        kinds = [page._rows[key].kind for key in page.query_one("#list").keys if key.startswith("fact ")]
        assert kinds == ["look", "fit check", "fit check"]


async def test_notes_are_shown_as_typed(place: str, opened: Any) -> None:
    async with opened(place, size=(120, 40)) as drive:
        await edith(drive)
        await drive.until(lambda: "[b]loud[/b]" in drive.text, "the note with its brackets")


async def test_an_entry_is_opened_and_struck_out_only_with_a_reason(place: str, opened: Any) -> None:
    async with opened(place, size=(120, 40)) as drive:
        page = await edith(drive)
        key = next(key for key in page.query_one("#list").keys if key.startswith("fact "))
        page.query_one("#list").go_to(key)
        await drive.press("enter")
        await drive.on("Details")
        assert "Whitens when pressed" in drive.text
        await drive.press("escape", "x")
        await drive.on("Say")
        await drive.press("enter")
        assert drive.screen == "Say"
        await drive.type("wrong person")
        await drive.press("enter")
        await drive.until(lambda: "Struck out" in drive.told, "the strike")
        await drive.until(lambda: "struck out" in drive.text, "the entry shown struck")
    with open_store(place) as store:
        found = case(store, "P1")
        assert found is not None
        assert [fact.struck_reason for fact in found.facts if fact.struck_on] == ["wrong person"]


async def test_the_last_act_is_taken_back_after_asking(place: str, opened: Any) -> None:
    async with opened(place, size=(120, 40)) as drive:
        await drive.week()
        await drive.press("r")
        await drive.on("FormScreen")
        await drive.press("s", "enter", "c", "enter")
        await drive.week()
        await drive.press("u")
        await drive.on("Sure")
        await drive.press("enter")  # the first answer changes nothing
        await drive.week()
        await drive.press("u")
        await drive.on("Sure")
        await drive.press("right", "enter")
        await drive.until(lambda: "Taken back" in drive.told, "the undoing")
        await drive.until(
            lambda: "skin look, urgent" in drive.text.split("Okafor")[1] + drive.text, "the rub again"
        )
    with open_store(place) as store:
        found = case(store, "P1")
        assert found is not None
        assert [fact.struck_reason for fact in found.facts if fact.struck_on] == ["undone"]


async def test_the_visit_is_copied_as_plain_sentences(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await edith(drive)
        await drive.press("c")
        await drive.on("Details")
        text = drive.app.clipboard
        assert text.startswith("Marlow, Edith, Mon 23 Nov 2026.")
        assert "LEFT AFO: blister at the navicular, as told. [b]loud[/b]" in text


async def test_discharge_with_something_urgent_needs_a_reason(place: str, opened: Any) -> None:
    async with opened(place, size=(120, 40)) as drive:
        await edith(drive)
        await drive.press("m")
        await drive.on("Choose")
        await drive.type("status")
        await drive.press("enter")
        form = await drive.on("FormScreen")
        form.field("to").put("discharged")
        await drive.press("ctrl+s")
        await drive.until(lambda: "Say why it can be left" in " ".join(drive.text.split()), "the guard")
        form.field("reason").put("moved into a home with its own clinic")
        await drive.press("ctrl+s")
        await drive.on("PersonScreen")
        await drive.until(lambda: "discharged" in drive.told, "the discharge")


async def test_a_new_device_and_a_pause(place: str, opened: Any) -> None:
    async with opened(place, size=(120, 40)) as drive:
        page = await edith(drive)
        await drive.press("plus")
        form = await drive.on("FormScreen")
        assert form.field("side").text == ""
        form.field("side").put("left")
        form.field("orthosis").put("KAFO")
        form.field("ordered").put("yesterday")
        await drive.press("ctrl+s")
        await drive.on("PersonScreen")
        await drive.until(lambda: "New device on record" in drive.told, "the device")
        assert "Next: LEFT KAFO supply" in " ".join(drive.told.split())
        await drive.press("b")
        form = await drive.on("FormScreen")
        form.field("until").put("in 3 weeks")
        form.field("reason").put("in hospital")
        await drive.press("ctrl+s")
        await drive.on("PersonScreen")
        await drive.until(lambda: "paused until Tue 15 Dec" in drive.text, "the pause")
        assert page.seen is not None
