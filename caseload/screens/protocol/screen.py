"""The protocol in force, to read; it is edited as a file and put in force by the command line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult

from caseload.rules.protocol import Protocol
from caseload.screens import keys
from caseload.screens.page import Page, Told, bindings
from caseload.screens.protocol import drawing
from caseload.screens.widgets.foot import Foot
from caseload.screens.widgets.head import Head
from caseload.screens.widgets.lines import Lines
from caseload.screens.widgets.paragraphs import Paragraphs
from caseload.screens.widgets.tone import Piece
from caseload.words import days
from caseload.words.paragraph import Paragraph


class ProtocolScreen(Page):
    """Rules, sources, cautions, numbers."""

    NAME = keys.PROTOCOL
    CSS = "ProtocolScreen Paragraphs { border-top: solid $surface-lighten-2; }"
    BINDINGS: ClassVar[list[Any]] = bindings(keys.PROTOCOL)

    def __init__(self) -> None:
        super().__init__()
        self._rows: dict[str, str | drawing.Row] = {}

    def compose(self) -> ComposeResult:
        yield Head("Protocol")
        yield Lines(self._draw)
        yield Paragraphs()
        yield Told()
        yield Foot(keys.PROTOCOL)

    def on_mount(self) -> None:
        self.query_one(Lines).focus()
        self.reload()

    def reload(self) -> None:
        self.ask("protocol", self.caseload.today, then=self._show)

    def _show(self, found: tuple[Protocol, str]) -> None:
        protocol, region = found
        since = (
            "from the beginning" if protocol.first_day.year < 1950 else f"from {days.full(protocol.first_day)}"
        )
        holidays = f"public holidays: {region or 'none set'}"
        under = f"Version {protocol.version}, in force {since}; {holidays}. Local policy comes first."
        self.query_one(Head).say(
            protocol.title,
            "an example to replace" if protocol.title.startswith("Example") else "",
            [(under, "quiet")],
        )
        self._rows = {str(number): row for number, row in enumerate(drawing.rows(protocol))}
        fixed = {key for key, row in self._rows.items() if isinstance(row, str)}
        self.query_one(Lines).show(list(self._rows), fixed=fixed)

    def _draw(self, key: str, row: Any, width: int) -> Sequence[Piece]:
        return drawing.pieces(self._rows[key], width)

    @on(Lines.Moved)
    def _moved(self, event: Lines.Moved) -> None:
        row = self._rows.get(event.key)
        if isinstance(row, drawing.Row):
            told = [Paragraph("Rule", f"{row.name}: {row.value}")]
            self.query_one(Paragraphs).say(
                [*told, Paragraph("Source", row.source, "quiet")] if row.source else told
            )
