"""Reading a date as a workbook holds it: ISO, or day and month first when the loader says which."""

from __future__ import annotations

import re
from datetime import date
from typing import Literal

from caseload.exchange.problems import Wrong, quoted

Order = Literal["iso", "dmy", "mdy"]
ORDERS: tuple[Order, ...] = ("iso", "dmy", "mdy")

FIRST_YEAR, LAST_YEAR = 1900, 2199
"""Outside these a year is a slip of the hand; within them every rule can still count years ahead."""

_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]00:00(?::00(?:\.0+)?)?)?")
_PARTS = re.compile(r"(\d{1,2})[-/.](\d{1,2})[-/.](\d{4}|\d{2})(?:[T ]00:00(?::00)?)?")
_SERIAL = re.compile(r"\d{4,6}(?:\.\d+)?")


def read_date(text: str, order: Order = "iso") -> date:
    """The date a cell holds.

    Raises `Wrong` with a sentence for anything else, and for `1/2/2026` while nobody said which comes first.
    """
    if match := _ISO.fullmatch(text):
        return _day(text, *(int(part) for part in match.groups()[:3]))
    if match := _PARTS.fullmatch(text):
        first, second, year = match.groups()
        if len(year) == 2:
            raise Wrong(f"{quoted(text)} has a year of two digits, expected four: 2026-02-01")
        if order == "iso":
            raise Wrong(
                f"{quoted(text)} may be two different days, expected a date like 2026-02-01; "
                "if the whole workbook is written so, load it with --dates dmy or --dates mdy"
            )
        day, month = (first, second) if order == "dmy" else (second, first)
        return _day(text, int(year), int(month), int(day))
    if _SERIAL.fullmatch(text):
        raise Wrong(f"{quoted(text)} is a number, expected a date like 2026-02-01: format the column as dates")
    raise Wrong(f"{quoted(text)} is no date, expected one like 2026-02-01")


def _day(text: str, year: int, month: int, day: int) -> date:
    try:
        found = date(year, month, day)
    except ValueError:
        raise Wrong(f"{quoted(text)} is a day that does not exist, expected a date like 2026-02-01") from None
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise Wrong(f"{quoted(text)} is outside {FIRST_YEAR} to {LAST_YEAR}, expected a date like 2026-02-01")
    return found
