"""How single values cross into the database and back, alike for rows, bodies and the field types.

A date is ISO 8601 text going in; drivers hand back text (SQLite) or dates (PostgreSQL).
"""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, date, datetime
from functools import cache
from typing import Any, ParamSpec, TypeVar, cast

from caseload.records.columns import Column, Kind

_P = ParamSpec("_P")
_R = TypeVar("_R")


def once(make: Callable[_P, _R]) -> Callable[_P, _R]:
    """`cache`, for functions of record classes, which mypy does not take for hashable."""
    return cast("Callable[_P, _R]", cache(make))


FOREVER = date.max
"""Stands for "no end yet", so that one comparison finds what is owed on a day."""


@cache  # a caseload of ten thousand people holds some thousand different days
def iso_day(value: date) -> str:
    """ISO 8601 of a date that is one; TypeError for a datetime or anything else."""
    if type(value) is not date:
        raise TypeError(f"a date expected, not {type(value).__name__}")
    return value.isoformat()


def day(value: str | date) -> date:
    """The date, from what either driver hands back."""
    return date.fromisoformat(value) if isinstance(value, str) else value


def iso_instant(value: datetime) -> str:
    """ISO 8601 in UTC; ValueError for a moment without a zone."""
    if value.tzinfo is None:
        raise ValueError("a moment needs a time zone")
    return value.astimezone(UTC).isoformat()


def instant(value: str | datetime) -> datetime:
    """The moment in UTC, from what either driver hands back."""
    moment = datetime.fromisoformat(value) if isinstance(value, str) else value
    return moment.astimezone(UTC)


to_json: Callable[[Any], str] = json.JSONEncoder(ensure_ascii=False, separators=(",", ":")).encode
"""Compact JSON, text as written. One encoder for all: making one costs more than a small text."""


def _flag(value: Any) -> int | None:
    if value is None or isinstance(value, bool):
        return None if value is None else int(value)
    raise TypeError(f"yes or no expected, not {type(value).__name__}")


def _text(value: Any) -> str:
    if isinstance(value, str):
        return str(value)
    raise TypeError(f"text expected, not {type(value).__name__}")


def encoder(column: Column) -> Callable[[Any], Any]:
    """What puts a value of the column into the database; strict about its type."""
    if column.kind is Kind.DAY:
        return lambda value: None if value is None else iso_day(value)
    if column.kind is Kind.YES_NO:
        return _flag
    if column.kind in (Kind.WORDS, Kind.LIST):
        return lambda value: to_json(list(value))
    if column.kind in (Kind.WHOLE, Kind.NUMBER):
        return lambda value: value
    if column.refers_to and not column.required:
        return lambda value: _text(value) or None
    return _text


def decoder(column: Column) -> Callable[[Any], Any] | None:
    """What takes it out again; None where it comes out as it is."""
    if column.kind is Kind.DAY:
        return lambda value: None if value is None else day(value)
    if column.kind is Kind.YES_NO:
        return lambda value: None if value is None else bool(value)
    if column.kind in (Kind.WORDS, Kind.LIST):
        return lambda value: tuple(json.loads(value))
    if column.refers_to and not column.required:
        return lambda value: value or ""
    return None
