"""Everything about one entry, to read."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Label

from caseload.screens.widgets.paragraphs import Paragraphs
from caseload.words.paragraph import Paragraph


class Details(ModalScreen[None]):
    """Closed by Esc or Enter; scrolled by the arrows."""

    CSS = """
    Details { align: center middle; background: $background 60%; }
    Details > VerticalScroll { width: 90; max-width: 96%; height: auto; max-height: 90%; background: $surface;
        padding: 1 1; border: round $primary; }
    Details Label { text-style: bold; padding: 0 1 1 1; }
    """
    BINDINGS: ClassVar[list[Any]] = [Binding("escape,enter,q", "dismiss(None)", show=False)]

    def __init__(self, title: str, told: Sequence[Paragraph]) -> None:
        super().__init__()
        self._title, self._told = title, told

    def compose(self) -> ComposeResult:
        with VerticalScroll():
            yield Label(self._title[:1].upper() + self._title[1:], markup=False)
            yield Paragraphs()

    def on_click(self) -> None:
        self.dismiss(None)

    def on_mount(self) -> None:
        self.query_one(Paragraphs).say(self._told)
        self.query_one(VerticalScroll).focus()
