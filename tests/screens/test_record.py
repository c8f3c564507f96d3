"""Record: from a follow-up to the form of what does it, and what is told when it is saved."""

from __future__ import annotations

from typing import Any

from caseload.acts import facts
from caseload.acts.desk import Desk
from caseload.screens.widgets.field import Field
from caseload.store import open_store
from caseload.store.cases import case

from .conftest import TODAY, WHO, ago


def on_record(place: str, person: str, kind: str) -> list[Any]:
    with open_store(place) as store:
        found = case(store, person)
        assert found is not None
        return [fact for fact in found.facts if fact.kind == kind]


async def test_a_look_in_five_keys_does_the_follow_up_and_says_what_is_next(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("r")
        await drive.on("FormScreen")
        await drive.press("s", "enter", "c", "enter")
        await drive.week()
        await drive.until(
            lambda: "Done: LEFT AFO skin look, urgent" in " ".join(drive.told.split()), "what was done"
        )
        assert "Next for them: LEFT AFO donning practice, 1 day late." in " ".join(drive.told.split())
    look = on_record(place, "P1", "look")[-1]
    assert (look.on, look.device, look.body.how, look.body.skin, look.body.area) == (
        TODAY,
        "D1",
        "seen",
        "clear",
        "navicular",
    )
    assert len(on_record(place, "P1", "contact")) == 0


async def test_the_grade_and_its_caution_are_shown_while_typing(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("r")
        form = await drive.on("FormScreen")
        await drive.press("s", "enter", "m")
        await drive.until(lambda: "Grade watch" in drive.text, "the grade of a mark nobody timed")
        form.field("fade_minutes").take_focus()
        await drive.type("45")
        await drive.until(
            lambda: "Grade stop: mark lasting 45 min" in drive.text, "the grade of a mark of 45 min"
        )
        assert "off until seen" in drive.text


async def test_mistakes_are_said_at_the_field_and_nothing_is_lost(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("r")
        form = await drive.on("FormScreen")
        form.field("on").put("3/4/2026")
        form.field("note").put("said on the phone")
        await drive.press("ctrl+s")
        await drive.until(lambda: "Not saved" in drive.told, "the refusal")
        assert "may be Fri 3 Apr 2026 or Wed 4 Mar 2026" in " ".join(drive.text.split())
        assert len(on_record(place, "P1", "look")) == 1
        await drive.press("escape")
        await drive.week()
        await drive.press("r")
        form = await drive.on("FormScreen")
        assert form.field("note").text == "said on the phone"
        assert "draft" in drive.told
        await drive.press("ctrl+n")
        await drive.until(
            lambda: (
                drive.screen == "FormScreen" and drive.app.screen is not form and drive.app.screen.query(Field)
            ),
            "a new form",
        )
        assert drive.app.screen.field("note").text == ""


async def test_a_draft_outlives_the_program(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("r")
        form = await drive.on("FormScreen")
        form.field("note").put("kept")
        await drive.until(lambda: drive.app.drafts.names(), "the draft")
    async with opened(place) as drive:
        await drive.week()
        await drive.press("r")
        form = await drive.on("FormScreen")
        assert form.field("note").text == "kept"


async def test_with_two_devices_no_side_is_chosen(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("f")
        await drive.on("Choose")
        await drive.type("fit")
        await drive.press("enter")
        form = await drive.on("FormScreen")
        assert form.field("device").text == ""
        assert "○ LEFT AFO" in drive.text
        assert "○ RIGHT AFO" in drive.text
        await drive.press("r", "enter", "a", "enter")
        await drive.week()
        await drive.until(lambda: "RIGHT AFO fit accepted" in drive.told, "the fit check of the right")
    assert [fact.device for fact in on_record(place, "P1", "fit check")] == ["D1", "D2", "D2"]


async def test_a_lost_race_shows_both_and_keeps_what_was_typed(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("enter")
        page = await drive.on("PersonScreen")
        await drive.until(lambda: page.seen is not None, "the person")
        fact = next(fact for fact in page.seen.case.facts if fact.kind == "look")
        drive.app.screen.query_one("#list").go_to(f"fact {fact.id}")
        await drive.press("e")
        form = await drive.on("FormScreen")
        form.field("skin").put("mark")
        with open_store(place) as store:
            facts.amend(Desk(store, "Owen Pike", TODAY), fact.id, 1, {"pain": 4.0}, "he told me later")
        await drive.press("ctrl+s")
        await drive.on("Say")
        await drive.type("wrong word")
        await drive.press("enter")
        await drive.on("Sure")
        said = " ".join(drive.text.split())
        assert "Another version was saved meanwhile." in said
        assert "On record now: skin: blister; pain: 4" in said
        assert "Yours: skin: mark; pain: blank" in said
        await drive.press("enter")
        await drive.on("FormScreen")
        assert form.field("skin").text == "mark"
    assert on_record(place, "P1", "look")[0].body.skin == "blister"


async def test_an_answered_escalation_is_filled_in_where_it_stands(place: str, opened: Any) -> None:
    with open_store(place) as store:
        draft = facts.Draft(
            "escalation",
            ago(1),
            {"escalation": "E1", "to": "the vascular clinic", "why": "pale foot"},
            person="P2",
        )
        facts.record(Desk(store, WHO, TODAY), [draft])
    async with opened(place) as drive:
        page = await drive.week()
        page.query_one("#list").go_to("P2")
        await drive.until(lambda: page.case.case.person.person == "P2", "why for P2")
        await drive.press("r")
        form = await drive.on("FormScreen")
        assert [column.name for column in form.form.columns] == ["answered_on", "answered_by"]
        await drive.press("ctrl+s")
        await drive.week()
        await drive.until(lambda: "Done: escalation" in drive.told, "the answer")
    assert on_record(place, "P2", "escalation")[0].body.answered_on == TODAY


async def test_a_walk_is_shown_as_it_was_understood(place: str, opened: Any) -> None:
    async with opened(place, size=(120, 40)) as drive:
        page = await drive.week()
        page.query_one("#list").go_to("P2")
        await drive.until(lambda: page.case.case.person.person == "P2", "why for P2")
        await drive.press("f")
        await drive.on("Choose")
        await drive.type("measure")
        await drive.press("enter")
        form = await drive.on("FormScreen")
        form.field("measure").put("gait speed")
        form.field("value").take_focus()
        await drive.type("12.4 s / 10 m")
        await drive.until(lambda: "10 m in 12.4 s is 0.81 m/s" in drive.text, "the speed")
        await drive.press("ctrl+s")
        await drive.week()
        await drive.until(lambda: "gait speed 0.81 m/s" in drive.told, "the measure recorded")


async def test_the_words_offered_are_in_sight_and_the_first_is_taken_with_an_arrow(
    place: str, opened: Any
) -> None:
    async with opened(place, size=(120, 40)) as drive:
        await drive.week()
        await drive.press("f")
        await drive.on("Choose")
        await drive.type("look")
        await drive.press("enter")
        form = await drive.on("FormScreen")
        assert form.form.title == "Look"
        form.field("area").take_focus()
        await drive.until(lambda: "fibular head" in drive.text, "the landmarks")
        await drive.type("fib")
        await drive.until(lambda: "enter takes fibular head" in drive.text, "the one that goes on")
        await drive.until(lambda: form.field("area").editor._suggestion, "the completion")
        await drive.press("right")
        assert form.field("area").text == "fibular head"
