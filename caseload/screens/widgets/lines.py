"""A list of any length, drawn a line at a time.

It holds only keys; rows are fetched in chunks as they come into view and forgotten when many. A stock table
measures each cell of every row (1 s at 10,000 rows); this costs the same at two hundred lines and at ten
thousand. The cursor is kept by key, so it stays on the same person when the list is read again.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Awaitable, Callable, Container, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from caseload.screens.widgets.tone import ROLES, Piece

CHUNK = 128
KEPT = 16
"""Chunks kept: some two thousand rows, far more than any screen shows."""

Draw = Callable[[str, Any, int], Sequence[Piece]]
"""Key, row (None while it is being fetched) and width in cells -> the line."""
Load = Callable[[Sequence[str]], Awaitable[Mapping[str, Any]]]


class Lines(ScrollView, can_focus=True):
    """A virtual list with a cursor."""

    DEFAULT_CSS = """
    Lines {
        height: 1fr;
        background: $background;
        & > .lines--cursor { background: $surface-lighten-1; }
        & > .lines--held { background: $surface; }
        & > .lines--mark { color: $primary; text-style: bold; }
        & > .lines--strong { text-style: bold; }
        & > .lines--quiet { color: $text-muted; }
        & > .lines--accent { color: $primary; text-style: bold; }
        & > .lines--urgent { color: $error; text-style: bold; }
        & > .lines--late { color: $warning; }
        & > .lines--struck { color: $text-muted; text-style: strike; }
        & > .lines--good { color: $success; }
    }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "lines--cursor", "lines--held", "lines--mark", *(f"lines--{role}" for role in ROLES)
    }  # fmt: skip
    BINDINGS: ClassVar[list[Any]] = [
        Binding("up", "move(-1)", show=False),
        Binding("down", "move(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("pagedown", "page(1)", show=False),
        Binding("home", "jump(0)", show=False),
        Binding("end", "jump(-1)", show=False),
        Binding("enter", "choose", show=False),
    ]

    @dataclass
    class Moved(Message):
        """The cursor is on another line; `key` is empty when there is none."""

        lines: Lines
        key: str

        @property
        def control(self) -> Lines:
            return self.lines

    @dataclass
    class Chosen(Message):
        """Enter, or a second click, on a line."""

        lines: Lines
        key: str

        @property
        def control(self) -> Lines:
            return self.lines

    def __init__(self, draw: Draw, load: Load | None = None, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._draw, self._load = draw, load
        self._keys: Sequence[str] = ()
        self._at: dict[str, int] = {}
        self._fixed: Container[str] = ()
        self._cursor = -1
        self._chunks: OrderedDict[int, Mapping[str, Any]] = OrderedDict()
        self._asked: set[int] = set()
        self._strips: dict[tuple[str, int, bool, bool], Strip] = {}

    @property
    def key(self) -> str:
        """The key under the cursor; empty when there is none."""
        return self._keys[self._cursor] if 0 <= self._cursor < len(self._keys) else ""

    @property
    def keys(self) -> Sequence[str]:
        """All keys, in order."""
        return self._keys

    def show(
        self,
        keys: Sequence[str],
        rows: Mapping[str, Any] | None = None,
        *,
        fixed: Container[str] = (),
        at: str = "",
    ) -> None:
        """Show these keys; `fixed` ones are headings the cursor passes over.

        `rows` gives what is already known; others are fetched when they come into view. The cursor stays on
        its key (or goes to `at`), and else near where it was.
        """
        wanted, before = at or self.key, self._cursor
        self._keys, self._fixed = keys, fixed
        self._at = {key: number for number, key in enumerate(keys)}
        self._chunks.clear()
        self._asked.clear()
        self._strips.clear()
        self._known = rows
        self.virtual_size = Size(0, len(keys))
        self._cursor = self._at.get(wanted, min(max(before, 0), len(keys) - 1))
        self._cursor = self._free(self._cursor, 1)
        self.refresh()
        self.call_after_refresh(self._keep_in_view)
        self.post_message(self.Moved(self, self.key))

    _known: Mapping[str, Any] | None = None

    def go_to(self, key: str) -> None:
        """Put the cursor on a key, if the list has it."""
        if key in self._at:
            self._go(self._at[key])

    def row(self, key: str) -> Any:
        """The row of a key, or None while it is not here."""
        if self._known is not None and key in self._known:
            return self._known[key]
        number = self._at.get(key, 0) // CHUNK
        if number in self._chunks:
            self._chunks.move_to_end(number)
            return self._chunks[number].get(key)
        if self._load is not None and number not in self._asked:
            self._asked.add(number)
            self.run_worker(self._fetch(number), group=f"lines-{id(self)}-{number}", exit_on_error=False)
        return None

    async def _fetch(self, number: int) -> None:
        assert self._load is not None
        keys = self._keys
        rows = await self._load(keys[number * CHUNK : (number + 1) * CHUNK])
        if keys is not self._keys:
            return
        self._chunks[number] = rows
        self._asked.discard(number)
        while len(self._chunks) > KEPT:
            self._chunks.popitem(last=False)
        self._strips.clear()
        self.refresh()

    def render_line(self, y: int) -> Strip:
        number = y + self.scroll_offset.y
        width = self.scrollable_content_region.width
        base = self.rich_style
        if number >= len(self._keys):
            return Strip.blank(width, base)
        key = self._keys[number]
        here = number == self._cursor
        cached = (key, width, here, self.has_focus)
        strip = self._strips.get(cached)
        if strip is None:
            row = self.row(key)
            strip = self._line(key, row, width, here, base)
            if row is not None or self._load is None:
                if len(self._strips) > 1000:
                    self._strips.clear()
                self._strips[cached] = strip
        return strip

    def _line(self, key: str, row: Any, width: int, here: bool, base: Style) -> Strip:
        under = base
        if here:
            under = base + self.get_component_rich_style("lines--cursor" if self.has_focus else "lines--held")
        mark = Segment("▌" if here else " ", under + self.get_component_rich_style("lines--mark", partial=True))
        pieces = [mark]
        for text, role in self._draw(key, row, width - 1):
            style = self.get_component_rich_style(f"lines--{role}", partial=True) if role else Style.null()
            pieces.append(Segment(text, under + style))
        return Strip(pieces).adjust_cell_length(width, under)

    def action_move(self, by: int) -> None:
        self._go(self._free(self._cursor + by, by))

    def action_page(self, by: int) -> None:
        self._go(self._free(self._cursor + by * max(self.scrollable_content_region.height - 1, 1), by))

    def action_jump(self, to: int) -> None:
        self._go(self._free(0, 1) if to == 0 else self._free(len(self._keys) - 1, -1))

    def action_choose(self) -> None:
        if self.key:
            self.post_message(self.Chosen(self, self.key))

    def on_click(self, event: events.Click) -> None:
        at = event.get_content_offset(self)
        if at is None:
            return
        number = at.y + self.scroll_offset.y
        if 0 <= number < len(self._keys) and self._keys[number] not in self._fixed:
            if number == self._cursor or event.chain > 1:
                self.action_choose()
            else:
                self._go(number)

    def on_focus(self) -> None:
        self.refresh()

    def on_blur(self) -> None:
        self.refresh()

    def on_resize(self) -> None:
        self._strips.clear()
        self.call_after_refresh(self._keep_in_view)

    def notify_style_update(self) -> None:
        self._strips.clear()
        super().notify_style_update()

    def _free(self, number: int, by: int) -> int:
        """The nearest line at or beyond `number` that may hold the cursor, looking first in one direction."""
        number = min(max(number, 0), len(self._keys) - 1)
        for step in (1 if by > 0 else -1, -1 if by > 0 else 1):
            at = number
            while 0 <= at < len(self._keys):
                if self._keys[at] not in self._fixed:
                    return at
                at += step
        return -1

    def _go(self, number: int) -> None:
        if number == self._cursor or not 0 <= number < len(self._keys):
            return
        self._cursor = number
        self._keep_in_view()
        self.refresh()
        self.post_message(self.Moved(self, self.key))

    def _keep_in_view(self) -> None:
        if self._cursor >= 0:
            top = self._cursor
            while top > 0 and self._keys[top - 1] in self._fixed:
                top -= 1  # headings above the first line are shown with it
            self.scroll_to_region(Region(0, top, 1, self._cursor - top + 1), animate=False, force=True)
