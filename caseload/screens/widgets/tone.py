"""The tones of the screens: text in pieces, each with a role, drawn alike in lists and in running text.

A role only repeats in colour or weight what the words say. There is one accent; urgent and late have a tone
of their own; everything else is quiet.
"""

from __future__ import annotations

from collections.abc import Iterable

from textual.content import Content

Piece = tuple[str, str]
"""A stretch of text and its role; the empty role is plain."""

ROLES = ("strong", "quiet", "accent", "urgent", "late", "struck", "good")
STYLES = {
    "": "",
    "strong": "bold",
    "quiet": "$text-muted",
    "accent": "bold $primary",
    "urgent": "bold $error",
    "late": "$warning",
    "struck": "strike $text-muted",
    "good": "$success",
    "fact": "bold",
    "bad": "bold $error",
    "today": "bold $primary",
    "owed": "$primary",
    "date": "$text-muted",
}
"""Role to Textual style; `fact` to `date` are those of the course of a device."""


def content(pieces: Iterable[Piece]) -> Content:
    """The pieces as content of a Static; never parsed as markup."""
    return Content.assemble(*((text, STYLES[role]) for text, role in pieces))


def lines(rows: Iterable[Iterable[Piece]]) -> Content:
    """Several lines of pieces."""
    return Content("\n").join(content(row) for row in rows)


def length(pieces: Iterable[Piece]) -> int:
    """Cells taken, counting wide and combining characters as a terminal does."""
    from rich.cells import cell_len

    return sum(cell_len(text) for text, _ in pieces)


def fitted(text: str, width: int) -> str:
    """The text in exactly `width` cells, with an ellipsis where it is cut."""
    from rich.cells import cell_len, set_cell_size

    if cell_len(text) <= width:
        return text + " " * (width - cell_len(text))
    return set_cell_size(text, max(width - 1, 0)).rstrip().ljust(max(width - 1, 0)) + "…" if width > 0 else ""
