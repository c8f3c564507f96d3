"""Find a person: every word typed must be in a name or the reference; accents do not matter."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.widgets import Input

from caseload.plain import plain
from caseload.screens import keys
from caseload.screens.page import Page, Told, bindings
from caseload.screens.widgets.foot import Foot
from caseload.screens.widgets.head import Head
from caseload.screens.widgets.lines import Lines
from caseload.screens.widgets.tone import Piece
from caseload.words import days
from caseload.words.cells import fitted


class FindScreen(Page):
    """Dismissed with the reference that was chosen, or None."""

    NAME = keys.FIND
    CSS_PATH = "find.tcss"
    BINDINGS: ClassVar[list[Any]] = [
        *bindings(keys.FIND),
        Binding("down", "move(1)", show=False, priority=True),
        Binding("up", "move(-1)", show=False, priority=True),
        Binding("pagedown", "page(1)", show=False, priority=True),
        Binding("pageup", "page(-1)", show=False, priority=True),
    ]

    def compose(self) -> ComposeResult:
        yield Head("Find a person")
        yield Input(placeholder="part of a name or reference; accents do not matter", compact=True, id="typed")
        yield Lines(self._draw, self._load, id="found")
        yield Told()
        yield Foot(keys.FIND)

    def on_mount(self) -> None:
        self.query_one("#typed", Input).focus()
        self.reload()

    def reload(self) -> None:
        self.ask("find", self.query_one("#typed", Input).value, then=self._show, group="find")

    @on(Input.Changed, "#typed")
    def _typed(self) -> None:
        self.reload()

    def _show(self, found: list[str]) -> None:
        self.query_one(Lines).show(found, at=found[0] if found else "")
        typed = self.query_one("#typed", Input).value.strip()
        said = (
            days.count(len(found), "person", "people")
            if found
            else "Nobody on record has that in name or reference; + adds a person."
        )
        self.query_one(Head).say(
            "Find a person", f"{said}" if found else "", [] if found or not typed else [(said, "late")]
        )

    async def _load(self, some: Sequence[str]) -> Mapping[str, Any]:
        people: Mapping[str, Any] = await self.caseload.answer("by_ids", some)
        return people

    def _draw(self, key: str, row: Any, width: int) -> Sequence[Piece]:
        if row is None:
            return [(f"   {plain(key)} …", "quiet")]
        born = f"born {days.full(row.born)[4:]}" if row.born else ""
        rest = " · ".join(
            part
            for part in (plain(row.clinician), plain(row.site), "" if row.status == "active" else row.status)
            if part
        )
        name = max(min(width // 3, 40), 20)
        return [
            ("  ", ""),
            (fitted(plain(row.name, longest=200), name) + " ", "strong"),
            (fitted(plain(row.person, longest=40), 12) + " ", "quiet"),
            (fitted(born, 18), "quiet"),
            (fitted(rest, max(width - name - 34, 0)), ""),
        ]

    def action_move(self, by: int) -> None:
        self.query_one(Lines).action_move(by)

    def action_page(self, by: int) -> None:
        self.query_one(Lines).action_page(by)

    @on(Input.Submitted, "#typed")
    def _entered(self) -> None:
        if key := self.query_one(Lines).key:
            self.dismiss(key)

    @on(Lines.Chosen)
    def _chosen(self, event: Lines.Chosen) -> None:
        self.dismiss(event.key)

    def action_new(self) -> None:
        from caseload.screens.form import records

        records.new_person(self)
