"""Choosing one or several words of a list, by letter, arrow or mouse, all of them in sight.

A typed letter or digit goes to the next word that begins with it, so the usual word is one key away; nothing
is chosen until somebody chooses.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from rich.cells import cell_len
from textual import events
from textual.binding import Binding
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from caseload.plain import plain


class Choice(Widget, can_focus=True):
    """Words to choose from, laid over as many lines as they need."""

    DEFAULT_CSS = """
    Choice { height: auto; width: 1fr; padding: 0 1; background: $surface; }
    Choice:focus { background: $surface-lighten-1; }
    """
    BINDINGS: ClassVar[list[Any]] = [
        Binding("right", "step(1)", show=False),
        Binding("left", "step(-1)", show=False),
        Binding("space", "take", show=False),
        Binding("backspace,delete", "clear", show=False),
    ]

    @dataclass
    class Changed(Message):
        """What is chosen is another."""

        choice: Choice

        @property
        def control(self) -> Choice:
            return self.choice

    def __init__(
        self,
        words: Sequence[tuple[str, str]],
        chosen: str = "",
        *,
        several: bool = False,
        id: str | None = None,
    ) -> None:
        """`words` as (value, how it is shown); `chosen` is a value, or values with `;` between them."""
        super().__init__(id=id)
        self._words = tuple((value, plain(shown)) for value, shown in words)
        self._several = several
        self._chosen: set[str] = {part.strip() for part in chosen.split(";")} if several else {chosen}
        self._at = next((at for at, (value, _) in enumerate(self._words) if value in self._chosen), 0)

    @property
    def text(self) -> str:
        """The chosen value, or the values with `; ` between them; empty when nothing is chosen."""
        return "; ".join(value for value, _ in self._words if value in self._chosen)

    def choose(self, value: str) -> None:
        """Choose a value, or take it back among several."""
        if self._several:
            self._chosen ^= {value}
        else:
            self._chosen = {value}
        self.refresh(layout=True)
        self.post_message(self.Changed(self))

    def replace(self, words: Sequence[tuple[str, str]]) -> None:
        """Offer other words; what was chosen stays if it is still among them."""
        self._words = tuple((value, plain(shown)) for value, shown in words)
        self._at = min(self._at, max(len(self._words) - 1, 0))
        self.refresh(layout=True)

    def on_key(self, event: events.Key) -> None:
        char = event.character
        if not char or not char.isprintable() or char == " " or len(char) != 1:
            return
        order = [*range(self._at + 1, len(self._words)), *range(self._at + 1)]
        if not self.text and not self._several:
            order = list(range(len(self._words)))
        for at in order:
            if self._begins(self._words[at][1], char):
                self._at = at
                if self._several:
                    self.refresh()
                else:
                    self.choose(self._words[at][0])
                event.stop()
                return

    @staticmethod
    def _begins(shown: str, char: str) -> bool:
        """Whether a word begins with what was typed; `5` is enough for `05`."""
        return shown.lower().lstrip("0 ").startswith(char.lower()) or shown.lower().startswith(char.lower())

    def action_step(self, by: int) -> None:
        if not self._words:
            return
        first = not self.text and not self._several
        self._at = 0 if first and by > 0 else (self._at + by) % len(self._words)
        if self._several:
            self.refresh()
        else:
            self.choose(self._words[self._at][0])

    def action_take(self) -> None:
        if self._words:
            self.choose(self._words[self._at][0])

    def action_clear(self) -> None:
        self._chosen = set()
        self.refresh(layout=True)
        self.post_message(self.Changed(self))

    def on_click(self, event: events.Click) -> None:
        here = event.get_content_offset(self)
        for at, column, line, width in self._places(self.content_size.width):
            if here is not None and line == here.y and column <= here.x < column + width:
                self._at = at
                self.choose(self._words[at][0])

    def _places(self, width: int) -> list[tuple[int, int, int, int]]:
        """Where each word stands: number, column, line, cells."""
        places, column, line = [], 0, 0
        for at, (_, shown) in enumerate(self._words):
            cells = cell_len(shown) + 2
            if column and column + cells > width:
                column, line = 0, line + 1
            places.append((at, column, line, cells))
            column += cells + 2
        return places

    def _look(self, at: int) -> tuple[str, str]:
        value, shown = self._words[at]
        on = value in self._chosen
        mark = ("■" if on else "□") if self._several else ("●" if on else "○")
        here = self.has_focus and at == self._at and (self._several or not self.text)
        style = "bold $primary" if on else "$text-muted"
        return f"{mark} {shown}", f"{style} underline" if here else style

    def render(self) -> Content:
        rows: list[list[tuple[str, str]]] = []
        column_before = 0
        for at, column, line, cells in self._places(self.content_size.width or 40):
            if line == len(rows):
                rows.append([])
                column_before = 0
            rows[line].append((" " * (column - column_before), ""))
            rows[line].append(self._look(at))
            column_before = column + cells
        return Content("\n").join(Content.assemble(*row) for row in rows)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        places = self._places(width)
        return places[-1][2] + 1 if places else 1
