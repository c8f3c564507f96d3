"""Short paragraphs with a heading in the margin, wrapped with a hanging indent."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from caseload.plain import plain
from caseload.screens.widgets.tone import Piece, content
from caseload.words.cells import wrapped
from caseload.words.paragraph import Paragraph

MARGIN = 9


class Paragraphs(Widget):
    """What is said about the line under the cursor."""

    DEFAULT_CSS = """
    Paragraphs { height: auto; padding: 0 1; }
    """

    def __init__(self, *, id: str | None = None, most: int = 0) -> None:
        """`most`: lines shown at the most; 0 for all."""
        super().__init__(id=id)
        self._said: Sequence[Paragraph] = ()
        self.most = most

    def say(self, said: Sequence[Paragraph]) -> None:
        """Say something else."""
        self._said = said
        self.refresh(layout=True)

    @property
    def said(self) -> str:
        """All of it as plain text."""
        return "\n".join(f"{paragraph.heading}: {paragraph.says}" for paragraph in self._said)

    def _lines(self, width: int) -> list[list[Piece]]:
        found: list[list[Piece]] = []
        indent = min(max((len(paragraph.heading) + 2 for paragraph in self._said), default=0), 24)
        indent = max(indent, MARGIN)
        for paragraph in self._said:
            head = f"{paragraph.heading:<{indent}}"
            told = [
                line
                for part in plain(paragraph.says, lines=True).split("\n")
                for line in wrapped(part, max(width - indent, 10))
            ]
            for number, line in enumerate(told):
                margin: Piece = (head, "accent") if number == 0 else (" " * indent, "")
                found.append([margin, (line, paragraph.role)])
        if self.most and len(found) > self.most:
            found = found[: self.most]
            found[-1] = [*found[-1][:-1], (found[-1][-1][0] + " …", found[-1][-1][1])]
        return found

    def render(self) -> Content:
        return Content("\n").join(content(line) for line in self._lines(self.content_size.width or 70))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return max(len(self._lines(width)), 1)
