"""Week: whom must I see or call, in what order, and why?"""

from __future__ import annotations

from typing import Any

import pytest


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 60)])
async def test_one_line_a_person_and_why_for_the_first(place: str, opened: Any, size: tuple[int, int]) -> None:
    async with opened(place, size=size) as drive:
        await drive.week()
        text = drive.text
        assert "Tue 24 Nov 2026" in text
        assert "Imogen Vale" in text
        assert text.count("Marlow, Edith") == 1
        assert "skin look, urgent" in text
        assert "Urgent at Harbour" in text
        assert "Why" in text
        assert "not on again" in text
        assert "judgement of the clinician" in " ".join(text.split())
        assert "? keys" in text


async def test_the_urgent_of_the_site_stands_on_top_whoevers_it_is(place: str, opened: Any) -> None:
    async with opened(place, size=(120, 40)) as drive:
        await drive.week()
        rows = [line for line in drive.text.splitlines() if "Okafor, Sam" in line]
        assert len(rows) == 1
        assert "Owen Pike" in rows[0]
        assert drive.text.index("Okafor") < drive.text.index("Owed now")


async def test_who_is_in_no_clock_is_said(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        assert "1 person of this list is in no clock" in " ".join(drive.text.split())


async def test_an_empty_list_says_so_honestly(place: str, opened: Any) -> None:
    async with opened(place, who="Imogen Vale") as drive:
        page = await drive.week()
        page.action_narrow()
        await drive.type("zzz")
        await drive.until(lambda: "Nobody on this list fits" in drive.text, "the empty list")
        await drive.press("escape")
        await drive.until(lambda: "Marlow" in drive.text, "the whole list")


async def test_the_list_narrows_as_one_types(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("n")
        await drive.type("linq")
        await drive.until(lambda: "Marlow" not in drive.text, "a list without Marlow")
        await drive.press("backspace")
        await drive.type("d")
        await drive.until(lambda: "Lindqvist" in drive.text, "Lindqvist")


async def test_another_list_is_chosen_by_key(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        page = await drive.week()
        await drive.press("w")
        await drive.on("Choose")
        await drive.type("owen")
        await drive.press("enter")
        await drive.until(
            lambda: page.whose.clinician == "Owen Pike" and "Owen Pike ·" in drive.text, "Owen's list"
        )


async def test_somebody_without_a_list_sees_everyone(place: str, opened: Any) -> None:
    async with opened(place, who="somebody") as drive:
        await drive.week()
        assert "Everyone" in drive.text


async def test_the_mouse_moves_and_opens(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        row = next(number for number, line in enumerate(drive.text.splitlines()) if "Lindqvist" in line)
        await drive.pilot.click(offset=(10, row))
        await drive.until(lambda: drive.cursor == "P2", "the cursor on Lindqvist")
        await drive.pilot.click(offset=(10, row))
        await drive.on("PersonScreen")


async def test_the_foot_is_pressed_with_the_mouse(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        column = drive.text.splitlines()[-1].index("/ find")
        await drive.pilot.click(offset=(column + 1, 23))
        await drive.on("FindScreen")


async def test_the_list_is_copied_as_it_stands(place: str, opened: Any) -> None:
    async with opened(place) as drive:
        await drive.week()
        await drive.press("c")
        await drive.on("Details")
        assert "- Marlow, Edith (P1): LEFT AFO, skin look, urgent" in drive.app.clipboard


async def test_a_new_day_is_taken_over(place: str, opened: Any) -> None:
    from datetime import date

    async with opened(place) as drive:
        await drive.week()
        drive.app._fixed = date(2026, 11, 27)
        drive.app.look_at_the_day()
        await drive.until(
            lambda: "Fri 27 Nov 2026" in drive.text and "missed by 4 days" in drive.text, "Friday's list"
        )
