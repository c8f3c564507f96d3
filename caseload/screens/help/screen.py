"""The keys of the registry and the manual's page on the screen one came from; the others below."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from caseload.screens import keys
from caseload.screens.help.manual import ALWAYS, PAGES, TITLES
from caseload.screens.page import Page, bindings
from caseload.screens.widgets.foot import Foot
from caseload.screens.widgets.head import Head
from caseload.screens.widgets.tone import Piece, lines
from caseload.words.cells import wrapped


def told(first: str, width: int) -> list[list[Piece]]:
    """Keys and pages, the screen one came from first, in lines of at most `width` cells."""
    rows: list[list[Piece]] = []
    for screen in (first, *(name for name in PAGES if name != first)):
        rows.append([(TITLES[screen], "accent")])
        for paragraph in PAGES[screen]:
            rows += [[(line, "")] for line in wrapped(paragraph, width)]
        rows.append([])
        for key in keys.of(screen):
            rows += _entry(key.shown, key.help, width)
        rows.append([])
    rows.append([("On every screen", "accent")])
    for shown, said in ALWAYS:
        rows += _entry(shown, said, width)
    return rows


def _entry(shown: str, said: str, width: int) -> list[list[Piece]]:
    first, *rest = wrapped(said, max(width - 10, 10))
    return [[(f"  {shown:<8}", "strong"), (first, "")], *([(" " * 10 + line, "")] for line in rest)]


class HelpScreen(Page):
    """Everything there is to know, in one scroll."""

    NAME = keys.HELP
    CSS = "HelpScreen VerticalScroll { padding: 1 2; }"
    BINDINGS: ClassVar[list[Any]] = bindings(keys.HELP)

    def __init__(self, first: str) -> None:
        super().__init__()
        self._first = first

    def compose(self) -> ComposeResult:
        yield Head("Keys and help", TITLES[self._first])
        with VerticalScroll():
            yield Static("", id="told", markup=False)
        yield Foot(keys.HELP)

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()

    def on_resize(self) -> None:
        self.query_one("#told", Static).update(lines(told(self._first, min(max(self.size.width - 6, 30), 96))))

    def action_help(self) -> None:
        self.dismiss(None)
