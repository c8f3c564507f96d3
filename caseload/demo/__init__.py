"""The invented clinic, as a workbook in the package; made by `scripts/make_demo`, never edited by hand."""

from __future__ import annotations

from datetime import date
from pathlib import Path

WORKBOOK = Path(__file__).with_name("clinic.zip")
REFERENCE_FILE = "day.txt"
"""The file within the zip that holds, as an ISO date, the day around which its dates are laid."""


def laid_around(today: date, reference: date, day: date) -> date:
    """The day as far from `today` as it was from `reference`, counted in weekdays.

    So what happened on a weekday happens on one whatever day the demo is opened, nothing changes its order,
    and a distance in days is off by two at most. On a weekend, the Friday before stands for today.
    """
    return _weekday(_number(day) - _number_of_today(reference) + _number_of_today(today))


def _number(day: date) -> int:
    """How many weekdays lie before the day; those of a weekend count as the Monday after it."""
    weeks, rest = divmod(day.toordinal() - 1, 7)
    return 5 * weeks + min(rest, 5)


def _number_of_today(day: date) -> int:
    weeks, rest = divmod(day.toordinal() - 1, 7)
    return 5 * weeks + min(rest, 4)


def _weekday(number: int) -> date:
    weeks, rest = divmod(number, 5)
    return date.fromordinal(7 * weeks + rest + 1)
