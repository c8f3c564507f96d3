"""Two versions of one entry, in the words of its form: what is on record, and what was typed meanwhile."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from caseload.records.columns import Column
from caseload.words import entry


def both(theirs: Any, mine: Mapping[str, Any], asked: Sequence[Column], today: date) -> tuple[str, str]:
    """On record (a fact or a record) and as typed, of the fields in which they differ: `hours worn: 5 h`."""
    body = getattr(theirs, "body", None)
    held = {column.name: getattr(body, column.name, getattr(theirs, column.name, None)) for column in asked}
    differ = [
        column
        for column in asked
        if entry.typed(column, held[column.name]) != entry.typed(column, mine.get(column.name))
    ]
    if getattr(theirs, "struck_on", None) is not None:
        return "it is struck out.", _said(differ or asked, mine, today)
    return _said(differ, held, today), _said(differ, mine, today)


def _said(asked: Sequence[Column], values: Mapping[str, Any], today: date) -> str:
    parts = (
        f"{column.label.lower()}: {entry.said(column, values.get(column.name), today) or 'blank'}"
        for column in asked
    )
    return "; ".join(parts) or "the same"
