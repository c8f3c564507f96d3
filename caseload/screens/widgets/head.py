"""The head of a screen: what it shows, and beside it whose; under it one line that sums it up."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.widget import Widget

from caseload.screens.widgets.tone import Piece, content
from caseload.screens.words.cells import fitted, length


class Head(Widget):
    """Title on the left, subject on the right, and a line under them if there is something to say."""

    DEFAULT_CSS = """
    Head { height: auto; padding: 0 1; background: $surface; }
    """

    def __init__(self, title: str = "", right: str = "", under: Sequence[Piece] = ()) -> None:
        super().__init__()
        self._title, self._right, self._under = title, right, under

    def say(self, title: str, right: str = "", under: Sequence[Piece] = ()) -> None:
        """Say something else."""
        self._title, self._right, self._under = title, right, under
        self.refresh(layout=True)

    def render(self) -> Content:
        width = self.content_size.width or 78
        left: Piece = (self._title, "strong")
        space = width - length(self._title) - length(self._right)
        if space >= 2:
            first = [left, (" " * space, ""), (self._right, "quiet")]
        else:
            first = [(fitted(self._title, width), "strong")]
        head = content(first)
        return Content("\n").join([head, content(self._under)]) if self._under else head
