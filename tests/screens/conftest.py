"""A small invented clinic on file, and a way to wait for what is named rather than for a clock."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from caseload.acts import devices, facts, people
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.screens.app import Caseload
from caseload.screens.page import Told
from caseload.screens.widgets.lines import Lines
from caseload.store import open_store

TODAY = date(2026, 11, 24)
WHO = "Imogen Vale"


def ago(days: int) -> date:
    """So many days before today."""
    return TODAY - timedelta(days=days)


def furnish(desk: Desk) -> None:
    """Edith: two devices, an urgent rub. Åsa: a fit check late. Sam: a rub, of another list. Noor: nothing."""
    for ref, family, given, clinician in (
        ("P1", "Marlow", "Edith", WHO),
        ("P2", "Lindqvist", "Åsa", WHO),
        ("P3", "Okafor", "Sam", "Owen Pike"),
        ("P4", "Haddad", "Noor", WHO),
    ):
        values = {
            "person": ref,
            "family_name": family,
            "given_name": given,
            "clinician": clinician,
            "site": "Harbour",
        }
        people.add(desk, {**values, "sensation": "intact", "foot_risk": "1", "born": date(1951, 3, 3)})
    for device, person, side in (
        ("D1", "P1", "left"),
        ("D2", "P1", "right"),
        ("D3", "P2", "left"),
        ("D4", "P3", "right"),
    ):
        devices.add(
            desk, {"device": device, "person": person, "side": side, "orthosis": "AFO", "delivered": ago(10)}
        )
    facts.record(
        desk,
        [
            Draft("fit check", ago(10), {"overall": "accepted"}, device="D1"),
            Draft("fit check", ago(10), {"overall": "accepted"}, device="D2"),
            Draft(
                "look",
                ago(1),
                {"area": "navicular", "how": "told", "skin": "blister"},
                device="D1",
                note="[b]loud[/b]",
            ),
            Draft("look", ago(1), {"area": "heel", "how": "told", "skin": "broken"}, device="D4"),
        ],
    )


@pytest.fixture
def place(tmp_path: Path) -> str:
    """The clinic on file."""
    path = str(tmp_path / "clinic.db")
    with open_store(path, create=True) as store:
        furnish(Desk(store, WHO, TODAY))
    return path


class Driver:
    """The app under a pilot, with words for what a person sees and does."""

    def __init__(self, app: Caseload, pilot: Pilot[Any]) -> None:
        self.app, self.pilot = app, pilot

    async def until(self, condition: Callable[[], Any], what: str) -> Any:
        """Wait until something is so; say what was waited for when it never is."""
        for _ in range(400):
            await self.pilot.pause()
            if found := condition():
                return found
        raise AssertionError(f"waited in vain for {what}; on screen: {self.screen}\n{self.text}")

    async def press(self, *keys: str) -> None:
        await self.pilot.press(*keys)

    async def type(self, text: str) -> None:
        names = {" ": "space", "/": "slash", "-": "minus", ".": "full_stop", "+": "plus"}
        await self.pilot.press(*(names.get(char, char) for char in text))

    async def on(self, screen: str) -> Any:
        """Wait for a screen by the name of its class, until it has something to show."""
        await self.until(lambda: type(self.app.screen).__name__ == screen, f"the screen {screen}")
        return self.app.screen

    async def week(self) -> Any:
        """The first screen with its list and its why."""
        page = await self.on("WeekScreen")
        await self.until(lambda: page.case is not None or "Nothing" in self.text, "the list")
        return page

    @property
    def screen(self) -> str:
        return type(self.app.screen).__name__

    @property
    def text(self) -> str:
        """Everything on the screen as a person reads it."""
        strips = self.app.screen._compositor.render_strips()
        return "\n".join("".join(segment.text for segment in strip).rstrip() for strip in strips)

    @property
    def told(self) -> str:
        """What the line above the foot says."""
        found = [str(told.visual) for told in self.app.screen.query(Told) if told.display]
        return "\n".join(found)

    @property
    def cursor(self) -> str:
        return self.app.screen.query_one(Lines).key


@pytest.fixture
def opened(tmp_path: Path) -> Callable[..., Any]:
    """Open the screens on a database: `async with opened(place, size=(80, 24)) as drive`."""

    @asynccontextmanager
    async def open_app(
        place: str, *, size: tuple[int, int] = (80, 24), who: str = WHO
    ) -> AsyncIterator[Driver]:
        app = Caseload(place, who, TODAY, drafts=tmp_path / "drafts")
        async with app.run_test(size=size) as pilot:
            yield Driver(app, pilot)

    return open_app
