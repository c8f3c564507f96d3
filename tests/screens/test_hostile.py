"""Names and notes that would like to be something else: shown as typed, and nothing more."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from caseload.acts import devices, facts, people
from caseload.acts.desk import Desk
from caseload.plain import plain
from caseload.store import open_store

from .conftest import TODAY, WHO, ago

HOSTILE = {
    "markup": "[bold red]Roe[/bold red] [@click=app.quit]x[/]",
    "unclosed": "[/] [b [",
    "escape": "Roe\x1b[2J\x1b]0;owned\x07",
    "control": "Roe\r\x08\x00\x85\x9b31m".replace("\x00", ""),
    "bidi": "Roe\u202eevil\u2066",
    "hebrew": "\u05e9\u05dc\u05d5\u05dd",
    "emoji": "👩\u200d👩\u200d👧\u200d👦 🇳🇴 e\u0301",
    "long": "Roe" + "x" * 9_990,
    "wide": "山田" * 40,
}


@pytest.mark.parametrize(("name", "size"), [*((name, (120, 40)) for name in HOSTILE), ("long", (80, 24))])
async def test_every_screen_stands_a_hostile_name_and_note(
    tmp_path: Path, opened: Any, name: str, size: tuple[int, int]
) -> None:
    text, place = HOSTILE[name], str(tmp_path / "hostile.db")
    with open_store(place, create=True) as store:
        desk = Desk(store, WHO, TODAY)
        person = {
            "person": "P1",
            "family_name": text,
            "given_name": "A",
            "clinician": WHO,
            "site": "S",
            "note": text,
        }
        people.add(desk, person)
        devices.add(
            desk, {"device": "D1", "person": "P1", "side": "left", "orthosis": "AFO", "delivered": ago(3)}
        )
        look = {"area": "heel", "how": "told", "skin": "blister"}
        facts.record(desk, [facts.Draft("look", ago(1), look, device="D1", note=text)])
    async with opened(place, size=size) as drive:
        await drive.week()
        seen = [drive.text]
        await drive.press("enter")
        page = await drive.on("PersonScreen")
        await drive.until(lambda: page.query_one("#list").keys, "the person")
        key = next(key for key in page.query_one("#list").keys if key.startswith("fact "))
        page.query_one("#list").go_to(key)
        await drive.until(lambda: page.under is not None, "the entry")
        seen.append(drive.text)
        for keys, screen in (
            (("enter",), "Details"),
            (("escape", "e"), "FormScreen"),
            (("escape", "c"), "Details"),
        ):
            await drive.press(*keys)
            await drive.on(screen)
            seen.append(drive.text)
        await drive.press("escape", "slash")
        page = await drive.on("FindScreen")
        await drive.until(lambda: page.query_one("#found").keys, "somebody")
        seen.append(drive.text)
        everything = "\n".join(seen)
        assert not [char for char in everything if char != "\n" and (ord(char) < 32 or 127 <= ord(char) < 160)]
        assert all(len(line) <= size[0] * 3 for line in everything.splitlines())
        if name == "markup":
            assert "[bold red]Roe[/bold" in everything
    with open_store(place) as store:
        from caseload.store.cases import case

        found = case(store, "P1")
        assert found is not None
        assert found.person.family_name == text


@pytest.mark.parametrize("name", HOSTILE)
def test_plain_text_holds_no_control_and_no_loose_direction(name: str) -> None:
    shown = plain(HOSTILE[name])
    assert not [char for char in shown if ord(char) < 32 or 127 <= ord(char) < 160]
    assert not {"\u202a", "\u202b", "\u202d", "\u202e"} & set(shown)
    assert shown.count("\u2068") == shown.count("\u2069")


def test_lines_are_kept_where_there_are_lines() -> None:
    assert plain("a\r\nb\nc", lines=True) == "a\nb\nc"
    assert plain("a\nb") == "a↵b"
    assert plain("abcdef", longest=4) == "abc…"
