"""The list of any length: what it draws and fetches is what is in view."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import pytest
from textual.app import App, ComposeResult

from caseload.screens.widgets.lines import CHUNK, Lines

HEIGHT = 24


class Long(App[None]):
    """A list and nothing else."""

    def __init__(self) -> None:
        super().__init__()
        self.drawn: list[str] = []
        self.fetched: list[str] = []

    def compose(self) -> ComposeResult:
        yield Lines(self._draw, self._load)

    def on_mount(self) -> None:
        self.query_one(Lines).focus()

    def _draw(self, key: str, row: Any, width: int) -> Sequence[tuple[str, str]]:
        self.drawn.append(key)
        return [(f"{key} {row or '…'}", "strong")]

    async def _load(self, some: Sequence[str]) -> Mapping[str, Any]:
        self.fetched += some
        return {key: f"row {key}" for key in some}


@pytest.mark.parametrize("size", [200, 10_000, 200_000])
async def test_a_page_costs_the_same_in_a_list_of_any_length(size: int) -> None:
    app = Long()
    async with app.run_test(size=(80, HEIGHT)) as pilot:
        lines = app.query_one(Lines)
        lines.show([f"P{number}" for number in range(size)])
        await pilot.pause()
        await pilot.press("pagedown", "pagedown", "end")
        await pilot.pause()
        assert lines.key == f"P{size - 1}"
        assert lines.row(lines.key) == f"row P{size - 1}"
        app.drawn.clear()
        await pilot.press("pageup")
        await pilot.pause()
        assert len(app.drawn) <= 2 * HEIGHT + 2
        assert len(app.fetched) <= 4 * CHUNK


async def test_the_cursor_stays_on_its_key_when_the_list_is_read_again() -> None:
    app = Long()
    async with app.run_test(size=(80, HEIGHT)) as pilot:
        lines = app.query_one(Lines)
        lines.show(["a", "b", "c"])
        await pilot.press("down", "down")
        lines.show(["x", "c", "a"])
        assert lines.key == "c"
        lines.show(["x", "y"])
        assert lines.key == "y"
        lines.show([])
        assert lines.key == ""


async def test_headings_are_passed_over() -> None:
    app = Long()
    async with app.run_test(size=(80, HEIGHT)) as pilot:
        lines = app.query_one(Lines)
        lines.show(["h1", "a", "h2", "b", "h3"], fixed={"h1", "h2", "h3"})
        assert lines.key == "a"
        await pilot.press("down")
        assert lines.key == "b"
        await pilot.press("down")
        assert lines.key == "b"
        await pilot.press("home")
        assert lines.key == "a"
