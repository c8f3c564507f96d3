"""A short paragraph with a heading of a word, as the pane under a list shows it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A heading of a word, and what it says."""

    heading: str
    says: str
    role: str = ""
    """`urgent` for a caution, `quiet` for what is only good to know."""
