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
