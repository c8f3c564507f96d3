"""Dates as people say and type them, always seen from a given today.

Shown: a near word (`today`, `Thu`, `in 3 weeks`) with the full date beside or under it. Read: what a person
types between two patients. A date that could be two dates is refused with both of them, never guessed.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

_WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_MONTHS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_UNITS = {"d": "days", "w": "weeks", "m": "months", "y": "years"}
_JUST_GONE = timedelta(days=31)
"""How far back a plan's `3 dec` may lie: a pause is often told of when it has begun."""
HOW = "type today, tue, 3 dec, -2d, +3w or 2026-12-03"


@dataclass(frozen=True, slots=True)
class Day:
    """What was understood of a typed date: a day, or why not."""

    day: date | None
    problem: str = ""
    """One sentence; empty when a day was understood, or nothing was typed."""


def weekday(day: date) -> str:
    """`Thu`."""
    return _WEEKDAYS[day.weekday()][:3].title()


def full(day: date, today: date | None = None) -> str:
    """`Thu 3 Dec 2026`; without the year when it is the year of `today`."""
    year = "" if today is not None and day.year == today.year else f" {day.year}"
    return f"{weekday(day)} {day.day} {_MONTHS[day.month - 1][:3].title()}{year}"


def short(day: date, today: date) -> str:
    """`3 Dec`, or `3 Dec 25` outside the year of `today`."""
    year = "" if day.year == today.year else f" {day.year % 100:02d}"
    return f"{day.day} {_MONTHS[day.month - 1][:3].title()}{year}"


def stretch(first: date, last: date) -> str:
    """`23-29 Nov`, or `30 Nov - 6 Dec`."""
    month = _MONTHS[last.month - 1][:3].title()
    if first.month == last.month:
        return f"{first.day}-{last.day} {month}"
    return f"{first.day} {_MONTHS[first.month - 1][:3].title()} - {last.day} {month}"


def near(day: date, today: date) -> str:
    """`today`, `tomorrow`, `Thu` (the six days ahead), `3 days ago`, `in 3 weeks`, `2 months ago`."""
    days = (day - today).days
    if days in (-1, 0, 1):
        return ("yesterday", "today", "tomorrow")[days + 1]
    if 1 < days < 7:
        return weekday(day)
    length = span(abs(days))
    return f"in {length}" if days > 0 else f"{length} ago"


def span(days: int) -> str:
    """A length of time in the unit a person would choose: `5 days`, `3 weeks`, `4 months`, `2 years`.

    `days` >= 0. Under a fortnight in days, under ten weeks in weeks, under two years in months.
    """
    if days < 14:
        return count(days, "day")
    if days < 70:
        return count(round(days / 7), "week")
    if days < 730:
        return count(round(days / 30.44), "month")
    return count(round(days / 365.25), "year")


def both(day: date, today: date) -> str:
    """`Thu 3 Dec, in 3 weeks`: the full date with the near word after it."""
    word = near(day, today)
    return full(day, today) if word == weekday(day) else f"{full(day, today)}, {word}"


def count(number: int, noun: str, plural: str = "") -> str:
    """`1 day`, `3 days`; `no days` is for the caller to say."""
    return f"{number} {noun if number == 1 else plural or noun + 's'}"


def read(text: str, today: date, *, ahead: bool = False) -> Day:
    """The day a person means by what they typed.

    `ahead` says that the date is a promise or a plan: a bare `tue` or `3 dec` is then the coming one (a `3 dec`
    of the last month still that one), and else the latest one, for a fact has happened. A weekday that is not
    the date's is refused. An empty text is no day and no problem.
    """
    typed = " ".join(text.strip().lower().replace(",", " ").split())
    if not typed:
        return Day(None)
    for reader in (_word, _step, _iso, _weekday, _spelled, _slashed, _human):
        found = reader(typed, today, ahead)
        if found is not None:
            return _allowed(found, today, ahead)
    return Day(None, f"'{text.strip()}' is no date; {HOW}.")


def _allowed(found: Day, today: date, ahead: bool) -> Day:
    if found.day is not None and found.day > today and not ahead:
        return Day(None, f"{full(found.day)} lies ahead, and this has not happened yet.")
    return found


def _word(typed: str, today: date, ahead: bool) -> Day | None:
    shift = {"today": 0, "now": 0, "t": 0, "yesterday": -1, "y": -1, "tomorrow": 1}.get(typed)
    return None if shift is None else Day(today + timedelta(days=shift))


def _step(typed: str, today: date, ahead: bool) -> Day | None:
    match = re.fullmatch(r"([+-])\s*(\d{1,4})\s*([dwmy])[a-z]*", typed)
    if not match:
        return None
    import arrow  # only when somebody types a step

    step: dict[str, Any] = {_UNITS[match[3]]: int(match[2]) * (1 if match[1] == "+" else -1)}
    try:
        return Day(arrow.Arrow.fromdate(today).shift(**step).date())
    except (OverflowError, ValueError):
        return Day(None, f"'{typed}' is too far away.")


def _iso(typed: str, today: date, ahead: bool) -> Day | None:
    match = re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", typed)
    return _day(int(match[1]), int(match[2]), int(match[3]), typed) if match else None


def _weekday(typed: str, today: date, ahead: bool) -> Day | None:
    match = re.fullmatch(r"(?:(next|last|this)\s+)?([a-z]{3,9})", typed)
    number = _named(match[2], _WEEKDAYS) if match else None
    if match is None or number is None:
        return None
    this_week = today + timedelta(days=number - today.weekday())
    if match[1] == "this":
        return Day(this_week)
    if match[1] == "next":  # the one of the coming calendar week: a bare weekday already means this week's
        return Day(this_week + timedelta(days=7))
    if match[1] == "last":
        return Day(today - timedelta(days=(today.weekday() - number - 1) % 7 + 1))
    if ahead:
        return Day(today + timedelta(days=(number - today.weekday()) % 7))
    return Day(today - timedelta(days=(today.weekday() - number) % 7))


def _spelled(typed: str, today: date, ahead: bool) -> Day | None:
    named = re.match(r"(?:on\s+)?((?:mon|tue|wed|thu|fri|sat|sun)[a-z]*)\s+(?=.*\d)", typed)
    if named:
        return _on_weekday(_spelled(typed[named.end() :], today, ahead), named[1])
    match = re.fullmatch(r"(\d{1,2})(?:st|nd|rd|th)?[\s.-]*([a-z]{3,9})\.?(?:[\s-]+(\d{4}|\d{2}))?", typed)
    if match:
        day, month, year = match[1], match[2], match[3]
    else:
        match = re.fullmatch(r"([a-z]{3,9})\.?\s*(\d{1,2})(?:st|nd|rd|th)?(?:\s+(\d{4}|\d{2}))?", typed)
        if not match:
            return None
        month, day, year = match[1], match[2], match[3]
    number = _named(month, _MONTHS)
    if number is None:
        return None
    return _of_year(int(day), number + 1, year, typed, today, ahead)


def _on_weekday(found: Day | None, said: str) -> Day | None:
    """A date with its weekday before it: both must agree, for one of them is a slip."""
    number = _named(said, _WEEKDAYS)
    if number is None:
        return None
    if found is None or found.day is None or found.day.weekday() == number:
        return found
    is_a = _WEEKDAYS[found.day.weekday()].title()
    return Day(None, f"{full(found.day)[4:]} is a {is_a}, not a {_WEEKDAYS[number].title()}.")


def _slashed(typed: str, today: date, ahead: bool) -> Day | None:
    match = re.fullmatch(r"(\d{1,2})([/.])(\d{1,2})(?:\2(\d{4}|\d{2})?)?", typed)
    if not match:
        return None
    first, second, year = int(match[1]), int(match[3]), match[4]
    day_first = _of_year(first, second, year, typed, today, ahead)
    if match[2] == "." or first == second or first > 12:  # with points the day always comes first
        return day_first
    month_first = _of_year(second, first, year, typed, today, ahead)
    if day_first.day and month_first.day:
        return Day(
            None,
            f"{typed} may be {full(day_first.day)} or {full(month_first.day)};"
            f" type {first} {_MONTHS[second - 1][:3]} or {second} {_MONTHS[first - 1][:3]}.",
        )
    return month_first if month_first.day else day_first


def _human(typed: str, today: date, ahead: bool) -> Day | None:
    """`in 3 weeks`, `2 days ago`, `a week ago`, as arrow reads them."""
    if not (typed.startswith("in ") or typed.endswith(" ago")):
        return None
    import arrow

    try:
        return Day(arrow.Arrow.fromdate(today).dehumanize(typed, locale="en_us").date())
    except (ValueError, OverflowError):
        return None


def _of_year(day: int, month: int, year: str | None, typed: str, today: date, ahead: bool) -> Day:
    if year:
        return _day(int(year) + (2000 if len(year) == 2 else 0), month, day, typed)
    this = _day(today.year, month, day, typed)
    if this.day is None and (month, day) != (2, 29):
        return this
    years = range(today.year - 1, today.year + 9) if ahead else range(today.year, today.year - 9, -1)
    for candidate in years:
        found = _day(candidate, month, day, typed)
        if found.day and (found.day >= today - _JUST_GONE if ahead else found.day <= today):
            return found
    return this


def _day(year: int, month: int, day: int, typed: str) -> Day:
    try:
        return Day(date(year, month, day))
    except ValueError:
        return Day(None, f"There is no {typed} in the calendar; {HOW}.")


def _named(typed: str, names: tuple[str, ...]) -> int | None:
    """The one name that begins with what was typed (at least three letters: `tue`, `tues`, `sept`)."""
    return next((at for at, name in enumerate(names) if len(typed) >= 3 and name.startswith(typed)), None)
