"""The head of a screen: what it shows, and beside it whose; under it one line that sums it up."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.widget import Widget

from caseload.screens.widgets.tone import Piece, content
from caseload.words.cells import fitted, length


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
        space = width - length(self._title) - length(self._right)
        under = list(self._under)
        if space >= 2:
            first: list[Piece] = [(self._title, "strong"), (" " * space, ""), (self._right, "quiet")]
        else:  # no room beside it: it begins the line under it
            first = [(fitted(self._title, width), "strong")]
            under = [(f"{self._right} · " if under else self._right, "quiet"), *under]
        return Content("\n").join([content(first), content(under)]) if under else content(first)
