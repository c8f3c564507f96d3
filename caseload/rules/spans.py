"""Spans of time as a protocol writes them, and how they are added to a day.

Days are local calendar dates. Months and years clamp to the last day of the month, always from the
anchor and never chained: 31 January + 1 month is 28 or 29 February, + 2 months is 31 March.
"""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, timedelta
from functools import cache
from typing import NamedTuple


class Unit:
    """What a span counts. Plain strings: an enum's hash is ten times slower, and dates are looked up by it."""

    DAYS = "days"
    WORKING_DAYS = "working days"
    WEEKS = "weeks"
    MONTHS = "months"
    YEARS = "years"


_UNITS = {
    "d": Unit.DAYS,
    "day": Unit.DAYS,
    "days": Unit.DAYS,
    "wd": Unit.WORKING_DAYS,
    "working day": Unit.WORKING_DAYS,
    "working days": Unit.WORKING_DAYS,
    "week": Unit.WEEKS,
    "weeks": Unit.WEEKS,
    "month": Unit.MONTHS,
    "months": Unit.MONTHS,
    "year": Unit.YEARS,
    "years": Unit.YEARS,
}
_ABOUT_DAYS = {
    Unit.DAYS: 1.0,
    Unit.WORKING_DAYS: 1.4,
    Unit.WEEKS: 7.0,
    Unit.MONTHS: 30.44,
    Unit.YEARS: 365.25,
}


class Span(NamedTuple):
    """A number of days, working days, weeks, months or years."""

    n: int
    unit: str
    """One of `Unit`."""

    def __str__(self) -> str:
        return _said(self)

    @property
    def about_days(self) -> float:
        """Roughly how many days it is: for ranges and for comparing intervals, never for a date."""
        return self.n * _ABOUT_DAYS[self.unit]


@cache
def _said(span: Span) -> str:
    return f"{span.n} {span.unit.removesuffix('s') if span.n == 1 else span.unit}"


def read_span(text: str) -> Span | None:
    """Read `2 working days`, `28 d`, `6 months`; None if it is no span."""
    match = re.fullmatch(r"\s*(\d{1,4})\s*([a-z ]+?)\s*", text.lower())
    if match is None or match[2] not in _UNITS:
        return None
    return Span(int(match[1]), _UNITS[match[2]])


def add_months(day: date, months: int) -> date:
    """The same day of the month `months` later (or earlier), or the month's last day if it has none."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    month += 1
    if day.day <= 28:
        return date(year, month, day.day)
    return date(year, month, min(day.day, monthrange(year, month)[1]))


def add_plain(day: date, span: Span, times: int = 1) -> date:
    """`day` plus (times=-1: minus) a span that counts no working days."""
    n = span.n * times
    if span.unit == Unit.DAYS:
        return day + timedelta(days=n)
    if span.unit == Unit.WEEKS:
        return day + timedelta(weeks=n)
    if span.unit == Unit.MONTHS:
        return add_months(day, n)
    if span.unit == Unit.YEARS:
        return add_months(day, 12 * n)
    raise ValueError("working days need a calendar")
