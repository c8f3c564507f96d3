"""Bring in a workbook: looked at first, with every problem and what would be owed, then written as a whole."""

from __future__ import annotations

import dataclasses
import re
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

from caseload.acts.load import Loaded, load
from caseload.errors import CaseloadError, Refused
from caseload.plain import plain
from caseload.records.columns import Column, Kind
from caseload.screens import keys
from caseload.screens.page import Page, Told
from caseload.screens.widgets.choice import Choice
from caseload.screens.widgets.field import Field
from caseload.screens.widgets.foot import Foot
from caseload.screens.widgets.head import Head
from caseload.screens.widgets.tone import Piece, lines
from caseload.words import days

_PATH = Column(
    "path",
    Kind.TEXT,
    "Workbook",
    "An .xlsx, a zip, or a folder of CSV files.",
    (),
    "",
    True,
    None,
    None,
    "",
    "",
    False,
    False,
)
_DATES = dataclasses.replace(
    _PATH, name="dates", kind=Kind.WORD, label="Dates written as", help="", required=False
)
ORDERS = (("iso", "2026-12-03"), ("dmy", "day first, 3/12/2026"), ("mdy", "month first, 12/3/2026"))
HOW = "An .xlsx, a .zip or a folder of CSV files. Enter looks at it, writing nothing; ctrl+s then brings it in."
SHOWN = 200
"""Problems shown at once; a list of thousands helps nobody."""


class LoadScreen(Page):
    """Dismissed with True when a workbook was brought in."""

    NAME = keys.FORM
    CSS_PATH = "first.tcss"
    BINDINGS: ClassVar[list[Any]] = [
        Binding("escape", "back", show=False),
        Binding("ctrl+s", "save", show=False),
        Binding("question_mark", "help", show=False),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._checked = ""
        """The path and order that were looked at and found good; empty before."""

    def compose(self) -> ComposeResult:
        yield Head("Bring in a workbook")
        with VerticalScroll(id="asked", can_focus=False):
            yield Field(_PATH)
            yield Field(_DATES, "iso", choices=ORDERS)
        with VerticalScroll(id="told"):
            yield Static(lines([[(HOW, "quiet")]]), id="found", markup=False)
        yield Told()
        yield Foot(keys.FORM)

    def on_mount(self) -> None:
        self.query_one("#field-path", Field).take_focus()

    def _typed(self) -> tuple[str, str]:
        path = self.query_one("#field-path", Field).text.strip().strip("'\"")
        return path, self.query_one("#field-dates", Field).text or "iso"

    @on(Input.Submitted)
    def _look(self) -> None:
        self.action_go_on()

    def on_key(self, event: Any) -> None:
        if event.key == "enter" and isinstance(self.focused, Choice):
            self.action_go_on()
        elif event.key in ("down", "up") and not isinstance(self.focused, VerticalScroll):
            event.stop()
            self.focus_next() if event.key == "down" else self.focus_previous()

    def action_go_on(self) -> None:
        """Look at the workbook; nothing is written."""
        self._begin(check=True)

    def action_save(self) -> None:
        """Bring it in, once it was looked at."""
        path, order = self._typed()
        self._begin(check=self._checked != f"{order} {path}")

    def _begin(self, *, check: bool) -> None:
        path, _ = self._typed()
        if not path:
            self.query_one("#field-path", Field).tell(problem="Workbook is needed.")
            return
        self.tell([(f"{'Looking at' if check else 'Bringing in'} {plain(path)} …", "quiet")])
        self.caseload.run_worker(self._carry_out(check), group="acts", exit_on_error=True)

    async def _carry_out(self, check: bool) -> None:
        path, order = self._typed()
        self._checked = ""
        try:
            loaded = await self.caseload.act(_load, path, order, check, self._progress)
        except Refused as error:
            self._problems(error)
        except (CaseloadError, OSError) as error:
            self._say([[(line, "urgent")] for line in str(error).splitlines()], [("Nothing was written.", "")])
        else:
            if check:
                self._checked = f"{order} {path}"
                self._say(
                    checked(loaded), [("Nothing is written yet. ", "strong"), ("ctrl+s brings it in.", "")]
                )
            elif self.is_current:
                self.dismiss(True)

    def _progress(self, what: str, done: int, total: int) -> None:
        """Called on the thread of the database."""
        of = f", {done:,} of {total:,}" if total else ""
        self.app.call_from_thread(self.tell, [(f"{what}{of}", "quiet")])

    def _problems(self, error: Refused) -> None:
        problems = error.problems
        shown: list[list[Piece]] = [[(plain(_on_screen(problem)), "")] for problem in problems[:SHOWN]]
        if len(problems) > SHOWN:
            shown.append([(f"and {len(problems) - SHOWN:,} more.", "quiet")])
        self._say(shown, [(f"{days.count(len(problems), 'problem')}; nothing was written.", "urgent")])

    def _say(self, shown: list[list[Piece]], told: list[Piece]) -> None:
        if self.is_mounted:
            self.query_one("#found", Static).update(lines(shown))
            self.tell(told)

    def action_help(self) -> None:
        self.caseload.open_help(keys.FORM)


def _on_screen(problem: str) -> str:
    """A problem as the command line tells it, with what the screen has in place of an option."""
    return re.sub(r"load it with --dates dmy\s+or --dates mdy", "say above how they are written", str(problem))


def _load(desk: Any, path: str, order: Any, check: bool, progress: Any) -> Loaded:
    return load(desk, path, dates=order, check=check, progress=progress)


def checked(loaded: Loaded) -> list[list[Piece]]:
    """What a workbook holds and what would be owed, as lines."""
    shown: list[list[Piece]] = []
    for sheet, counts in loaded.counts.items():
        parts = ", ".join(f"{number:,} {what}" for what, number in counts.items() if number)
        if parts:
            shown.append([(f"{sheet.replace('_', ' '):<22}", "strong"), (parts, "")])
    if loaded.forecast is not None:
        found = loaded.forecast
        states = ", ".join(
            f"{found.states[state]} {state}"
            for state in ("missed", "late", "open", "waiting")
            if found.states.get(state)
        )
        about = f" on {days.full(found.on)}, to {days.count(found.people, 'person', 'people')}"
        shown += [[], [("Would be owed", "accent"), (f"{about}: {states or 'nothing'}.", "")]]
        if found.taken_over:
            taken = f"{days.count(found.taken_over, 'device')} taken over"
            shown.append([(f"{taken}: their reviews are spread over the next weeks.", "quiet")])
        for monday, number in found.weeks:
            if number:
                shown.append(
                    [
                        (f"  week of {days.full(monday)[4:]:<12} {number:>4}  ", "quiet"),
                        ("▪" * min(number, 40), ""),
                    ]
                )
    shown += [[(plain(warning), "late")] for warning in loaded.warnings[:SHOWN]]
    return shown
