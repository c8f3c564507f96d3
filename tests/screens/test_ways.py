"""Find, the first run, a workbook, help, the protocol, trouble with the database."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

import pytest

from caseload.screens import keys
from caseload.screens.help.manual import PAGES
from caseload.screens.help.screen import told
from caseload.store import open_store
from caseload.store.people import find


async def test_a_name_is_found_without_its_accent_and_opened(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("slash")
        page = await drive.on("FindScreen")
        await drive.type("asa")
        await drive.until(lambda: list(page.query_one("#found").keys) == ["P2"], "Åsa alone")
        await drive.until(lambda: "Lindqvist, Åsa" in drive.text, "her name")
        await drive.press("enter")
        page = await drive.on("PersonScreen")
        assert page.reference == "P2"


async def test_an_empty_database_offers_three_ways_on(tmp_path: Path, opened: Any) -> None:
    async with opened(str(tmp_path / "new.db")) as drive:
        await drive.on("FirstScreen")
        for way in ("Bring in a workbook", "Enter the first person", "Look at the demo"):
            assert way in drive.text
        await drive.press("down", "enter")
        form = await drive.on("FormScreen")
        form.field("family_name").put("Ünal")
        form.field("given_name").put("Bo")
        await drive.press("ctrl+s")
        await drive.on("PersonScreen")
        await drive.until(lambda: "Ünal, Bo" in drive.text, "the first person")
        await drive.press("escape")
        await drive.on("WeekScreen")
    with open_store(str(tmp_path / "new.db")) as store:
        assert [found.name for found in find(store, "")] == ["Ünal, Bo"]


async def test_the_demo_is_asked_for(tmp_path: Path, opened: Any) -> None:
    async with opened(str(tmp_path / "new.db")) as drive:
        await drive.on("FirstScreen")
        await drive.press("down", "down", "enter")
        await drive.until(lambda: drive.app.return_value == "demo", "the wish for the demo")


@pytest.fixture
def sheets(tmp_path: Path) -> Path:
    folder = tmp_path / "book"
    folder.mkdir()
    (folder / "people.csv").write_text(
        "person,family_name,given_name,clinician\nQ1,Roe,Pat,Imogen Vale\n", "utf-8"
    )
    devices = "device,person,side,orthosis,delivered,taken_over\nE1,Q1,left,AFO,2026-03-03,2026-11-20\n"
    (folder / "devices.csv").write_text(devices, "utf-8")
    return folder


async def test_a_workbook_is_looked_at_before_it_is_written(tmp_path: Path, sheets: Path, opened: Any) -> None:
    place = str(tmp_path / "new.db")
    async with opened(place, size=(120, 40)) as drive:
        await drive.on("FirstScreen")
        await drive.press("enter")
        page = await drive.on("LoadScreen")
        page.query_one("#field-path").put(str(sheets))
        await drive.press("enter")
        await drive.until(lambda: "Nothing is written yet" in drive.told, "the look")
        assert "Would be owed" in drive.text
        with open_store(place) as store:
            assert find(store, "") == []
        await drive.press("ctrl+s")
        await drive.on("WeekScreen")
        await drive.until(lambda: "Nothing owed before Fri 15 Jan 2027." in drive.text, "an honest empty list")
        assert "Everyone · 1 person" in drive.text


async def test_the_problems_of_a_workbook_are_all_shown_and_nothing_is_written(
    tmp_path: Path, sheets: Path, opened: Any
) -> None:
    (sheets / "devices.csv").write_text("device,person,side,orthosis\nE1,Q1,up,AFO\nE2,Q9,left,AFO\n", "utf-8")
    place = str(tmp_path / "new.db")
    async with opened(place, size=(120, 40)) as drive:
        await drive.on("FirstScreen")
        await drive.press("enter")
        page = await drive.on("LoadScreen")
        page.query_one("#field-path").put(str(sheets))
        await drive.press("ctrl+s")
        await drive.until(lambda: "nothing was written" in drive.told, "the refusal")
        assert "devices:2:side" in drive.text
        assert "devices:3:person" in drive.text
    with open_store(place) as store:
        assert find(store, "") == []


@pytest.mark.parametrize("screen", [keys.WEEK, keys.PERSON, keys.FIND, keys.FORM, keys.PROTOCOL])
def test_help_has_every_key_of_the_registry_and_a_page_on_each_screen(screen: str) -> None:
    text = " ".join("".join(piece for piece, _ in row).strip() for row in told(screen, 70))
    assert set(PAGES) == set(keys.EVERYWHERE)
    for key in keys.of(screen):
        assert key.help in " ".join(text.split())


async def test_every_key_of_the_registry_is_an_action_of_its_screen(place: str, opened: Any) -> None:
    from caseload.screens.find.screen import FindScreen
    from caseload.screens.form.screen import FormScreen
    from caseload.screens.help.screen import HelpScreen
    from caseload.screens.person.screen import PersonScreen
    from caseload.screens.protocol.screen import ProtocolScreen
    from caseload.screens.week.screen import WeekScreen

    for screen in (WeekScreen, PersonScreen, FindScreen, FormScreen, ProtocolScreen, HelpScreen):
        for key in keys.of(screen.NAME):
            if key.key != "enter":
                assert hasattr(screen, f"action_{key.action}"), (screen, key.action)


async def test_help_and_protocol_open_and_close(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("question_mark")
        await drive.on("HelpScreen")
        assert "Whom must I see or call" in drive.text
        await drive.press("escape", "o")
        await drive.on("ProtocolScreen")
        await drive.until(lambda: "improving" in drive.text, "the intervals by trajectory")
        assert "6 weeks" in drive.text


async def test_a_locked_database_is_said_plainly_and_the_form_is_kept(
    place: str, opened: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.app.lane.change(lambda store: store.run("PRAGMA busy_timeout = 10"))
        await drive.press("r")
        form = await drive.on("FormScreen")
        form.field("how").put("seen")
        form.field("skin").put("clear")
        other = sqlite3.connect(place, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        await drive.press("ctrl+s")
        await drive.until(lambda: "kept as a draft" in drive.told, "the trouble told")
        other.execute("ROLLBACK")
        other.close()
        await drive.press("ctrl+s")
        await drive.week()
        await drive.until(lambda: "Recorded" in drive.told, "the look recorded after all")
        assert form is not drive.app.screen


async def test_a_database_that_cannot_be_opened_is_said(tmp_path: Path, opened: Any) -> None:
    path = tmp_path / "notes.db"
    path.write_text("this is no database at all, only some text that is long enough to look like one")
    async with opened(str(path)) as drive:
        await drive.on("WeekScreen")
        await drive.until(lambda: drive.told, "what is wrong")
        assert path.read_text().startswith("this is no database")


async def test_an_absence_is_put_on_record(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("b")
        form = await drive.on("FormScreen")
        form.field("last").put("+1w")
        form.field("cover").put("Owen Pike")
        await drive.press("ctrl+s")
        await drive.week()
        await drive.until(lambda: "absence is on record" in drive.told, "the absence")


async def test_a_mistake_of_the_program_tells_nothing_about_people(
    place: str, opened: Any, capsys: Any
) -> None:
    def broken(seen: Any) -> None:
        raise RuntimeError("a mistake")

    with pytest.raises(Exception, match="a mistake"):
        async with opened(place) as drive:
            page = await drive.week()
            page._explain = broken
            await drive.press("down")
            await drive.until(lambda: drive.app._exception is not None, "the mistake")
    told = "".join(capsys.readouterr())
    assert "What was saved is saved" in told
    assert "Marlow" not in told
