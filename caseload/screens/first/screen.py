"""An empty database offers three ways on: bring in a workbook, enter the first person, look at the demo."""

from __future__ import annotations

from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Button, Static

from caseload.screens import keys
from caseload.screens.first.load import LoadScreen
from caseload.screens.form import records
from caseload.screens.page import Page, Told, bindings
from caseload.screens.widgets.foot import Foot
from caseload.screens.widgets.head import Head
from caseload.screens.widgets.tone import lines

WAYS = (
    (
        "load",
        "Bring in a workbook",
        "your list as it is in a spreadsheet; it is checked before anything is written",
    ),
    ("person", "Enter the first person", "by hand, one form"),
    ("demo", "Look at the demo", "an invented clinic with dates around today; your own caseload stays empty"),
)


class FirstScreen(Page):
    """Shown while nobody is on record."""

    NAME = keys.FIRST
    CSS_PATH = "first.tcss"
    BINDINGS: ClassVar[list[Any]] = [
        *bindings(keys.FIRST),
        Binding("down,right", "app.focus_next", show=False),
        Binding("up,left", "app.focus_previous", show=False),
    ]

    def compose(self) -> ComposeResult:
        yield Head("An empty caseload", self.caseload.place)
        with Vertical(id="ways"):
            yield Static(lines([[("Nobody is on record yet. Three ways on:", "")]]), markup=False)
            for way, label, said in WAYS:
                yield Button(Content(label), id=way, compact=True)
                yield Static(lines([[(said, "quiet")]]), classes="said", markup=False)
        yield Told()
        yield Foot(keys.FIRST)

    def on_mount(self) -> None:
        self.query_one("#load", Button).focus()

    @on(Button.Pressed, "#load")
    def _load(self) -> None:
        self.app.push_screen(LoadScreen(), self._loaded)

    def _loaded(self, loaded: Any) -> None:
        if loaded:
            self.dismiss(None)

    @on(Button.Pressed, "#person")
    def _person(self) -> None:
        records.new_person(self)

    @on(Button.Pressed, "#demo")
    def _demo(self) -> None:
        self.app.exit("demo")
