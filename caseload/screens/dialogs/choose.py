"""Choose one of a list, by arrow, by typing part of it, or by mouse."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Label

from caseload.plain import plain
from caseload.screens.widgets.lines import Lines
from caseload.screens.widgets.tone import Piece
from caseload.words.cells import fitted


@dataclass(frozen=True, slots=True)
class Option:
    """One thing to choose."""

    key: str
    label: str
    help: str = ""


class Choose(ModalScreen[str | None]):
    """The key of what was chosen, or None."""

    CSS = """
    Choose { align: center middle; background: $background 60%; }
    Choose > Vertical { width: 76; max-width: 96%; height: auto; max-height: 90%; background: $surface;
        padding: 1 1 0 1; border: round $primary; }
    Choose Label { text-style: bold; padding: 0 1; }
    Choose Input { margin: 0 0 1 0; }
    Choose Lines { height: auto; max-height: 16; background: $surface; }
    """
    BINDINGS: ClassVar[list[Any]] = [
        Binding("escape", "dismiss(None)", show=False),
        Binding("down", "move(1)", show=False, priority=True),
        Binding("up", "move(-1)", show=False, priority=True),
    ]

    def __init__(self, title: str, options: Sequence[Option], at: str = "") -> None:
        super().__init__()
        self._title, self._options, self._first = title, {option.key: option for option in options}, at

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Label(self._title, markup=False)
            yield Input(placeholder="type to narrow, enter to choose, esc to leave", compact=True)
            yield Lines(self._draw)

    def on_mount(self) -> None:
        self._show("")
        self.query_one(Input).focus()

    def _draw(self, key: str, row: Any, width: int) -> Sequence[Piece]:
        option = self._options[key]
        left = min(30, width)
        if not option.help:
            return [(fitted(plain(option.label), width), "")]
        return [
            (fitted(plain(option.label), left), ""),
            (" " + fitted(plain(option.help), width - left - 1), "quiet"),
        ]

    @on(Input.Changed)
    def _narrow(self, event: Input.Changed) -> None:
        self._show(event.value)

    def _show(self, typed: str) -> None:
        wanted = typed.strip().casefold()
        begins = [key for key, option in self._options.items() if option.label.casefold().startswith(wanted)]
        among = [
            key
            for key, option in self._options.items()
            if key not in begins and wanted in f"{option.label} {option.help}".casefold()
        ]
        lines = self.query_one(Lines)
        lines.styles.height = max(min(len(begins) + len(among), 16), 1)
        lines.show([*begins, *among], at=self._first if not wanted else (begins or among or [""])[0])

    def action_move(self, by: int) -> None:
        self.query_one(Lines).action_move(by)

    @on(Input.Submitted)
    def _entered(self) -> None:
        key = self.query_one(Lines).key
        if key:
            self.dismiss(key)

    @on(Lines.Chosen)
    def _chosen(self, event: Lines.Chosen) -> None:
        self.dismiss(event.key)
