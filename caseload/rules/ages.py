"""Age on a day, in whole years as people count it."""

from __future__ import annotations

from datetime import date

from caseload.rules.spans import add_months


def under(years: int, born: date | None, day: date) -> bool:
    """Whether somebody is under so many years old on the day; False if the birth date is not on record."""
    return born is not None and add_months(born, 12 * years) > day
