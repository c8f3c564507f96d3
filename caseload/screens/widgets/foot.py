"""The foot of a screen: the keys that hold here, as many as fit, each to press or to click."""

from __future__ import annotations

from rich.cells import cell_len
from textual import events
from textual.content import Content
from textual.widget import Widget

from caseload.screens import keys


class Foot(Widget):
    """One line of keys from the registry."""

    DEFAULT_CSS = """
    Foot { height: 1; dock: bottom; padding: 0 1; background: $surface; color: $text-muted; }
    """

    def __init__(self, screen: str) -> None:
        super().__init__()
        self._keys = tuple(key for key in keys.of(screen) if key.foot)

    def _places(self) -> list[tuple[int, int, keys.Key]]:
        """(first column, cells, key) of the keys that fit; help and back are always among them."""
        room = self.content_size.width
        kept = list(self._keys)
        dropped = [key for key in reversed(kept) if key.action not in ("help", "back")]
        while kept and sum(self._cells(key) for key in kept) - 3 > room and dropped:
            kept.remove(dropped.pop(0))
        places, column = [], 0
        for key in kept:
            places.append((column, self._cells(key) - 3, key))
            column += self._cells(key)
        return places

    @staticmethod
    def _cells(key: keys.Key) -> int:
        return cell_len(key.shown) + 1 + cell_len(key.label) + 3

    def render(self) -> Content:
        pieces: list[tuple[str, str]] = []
        for _, _, key in self._places():
            pieces += [(key.shown, "bold $foreground"), (f" {key.label}   ", "")]
        return Content.assemble(*pieces)

    async def on_click(self, event: events.Click) -> None:
        at = event.get_content_offset(self)
        for column, cells, key in self._places():
            if at is not None and column <= at.x < column + cells:
                await self.screen.run_action(key.action)
