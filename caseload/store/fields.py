"""Field types of our own: what each takes, it takes strictly, and alike on both engines.

SQLite stores any text in a date column, and PostgreSQL hands back instants in the server's zone.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

import peewee

from caseload.records.columns import Column, Kind
from caseload.store import values


class Day(peewee.Field):
    """A local calendar date; anything else is refused, a datetime too."""

    field_type = "DATE"

    def db_value(self, value: Any) -> str | None:
        """ISO 8601, which both engines compare as dates."""
        return None if value is None else values.iso_day(value)

    def python_value(self, value: Any) -> date | None:
        """A `date`, whatever the driver made of it."""
        return None if value is None else values.day(value)


class Instant(peewee.Field):
    """A moment in time: aware going in, UTC and aware coming out."""

    field_type = "TIMESTAMPTZ"

    def db_value(self, value: Any) -> str | None:
        """ISO 8601 in UTC; a moment without a zone is refused."""
        return None if value is None else values.iso_instant(value)

    def python_value(self, value: Any) -> datetime | None:
        """The moment in UTC."""
        return None if value is None else values.instant(value)


class Text(peewee.TextField):
    """Text exactly as written; numbers and dates are refused rather than made into text."""

    def db_value(self, value: Any) -> str | None:
        """The text itself."""
        if value is not None and not isinstance(value, str):
            raise TypeError(f"text expected, not {type(value).__name__}")
        return None if value is None else str(value)


class Flag(peewee.SmallIntegerField):
    """Yes, no, or nobody said (NULL), as 1 and 0: the same in raw rows of both engines."""

    def db_value(self, value: Any) -> int | None:
        """1, 0 or None."""
        return None if value is None else int(value)

    def python_value(self, value: Any) -> bool | None:
        """True, False or None."""
        return None if value is None else bool(value)


def field(column: Column, **options: Any) -> peewee.Field:
    """The field that holds a column of a record."""
    blank = column.kind in (Kind.DAY, Kind.YES_NO, Kind.WHOLE, Kind.NUMBER) or bool(column.refers_to)
    options.setdefault("null", blank and not column.required)
    if column.kind is Kind.DAY:
        return Day(**options)
    if column.kind is Kind.YES_NO:
        return Flag(**options)
    if column.kind is Kind.WHOLE:
        return peewee.IntegerField(**options)
    if column.kind is Kind.NUMBER:
        return peewee.DoubleField(**options)
    return Text(**options)
