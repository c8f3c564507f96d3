"""One field of a form: what was typed, read as its declaration says, and a value as a person would type it.

Every field is text on the screen, so that a draft is text and nothing typed is ever lost; reading gives the
value, how it was understood, or one sentence why not. The record's declaration is all it needs.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from typing import Any

from caseload.records import words
from caseload.records.columns import Column, Kind
from caseload.words import days, numbers

BLANK: Mapping[Kind, Any] = {
    Kind.TEXT: "",
    Kind.WORD: "",
    Kind.OPEN_WORD: "",
    Kind.TIME: "",
    Kind.WORDS: (),
    Kind.LIST: (),
}


@dataclass(frozen=True, slots=True)
class Entry:
    """What was understood of one field."""

    value: Any
    """As the record wants it; the blank of its kind when nothing was typed or it was not understood."""
    said: str = ""
    """How it was understood, for the line under the field; empty when that is plain."""
    problem: str = ""
    """One sentence; empty when there is none."""


def read(column: Column, text: str, today: date, *, others: Mapping[str, str] | None = None) -> Entry:
    """Read what was typed into a field; `others` are the texts of the other fields of the form."""
    blank = BLANK.get(column.kind)
    if not text.strip():
        return Entry(blank, problem=f"{column.label} is needed." if column.required else "")
    if column.name == "value" and others is not None and others.get("measure") == words.GAIT_SPEED:
        return _number(numbers.read_walk(text))
    match column.kind:
        case Kind.DAY:
            return _day(text, today, column.may_lie_ahead)
        case Kind.TIME:
            return _time(text)
        case Kind.YES_NO:
            return _yes_no(text)
        case Kind.WHOLE | Kind.NUMBER:
            return _counted(column, text)
        case Kind.WORD:
            return _word(column, text.strip())
        case Kind.WORDS:
            return _words(column, text)
        case Kind.LIST:
            return Entry(tuple(_parts(text)))
        case _:
            return Entry(text if column.long else text.strip())


def typed(column: Column, value: Any) -> str:
    """A value as a person would type it; reading it again gives the same value."""
    if value is None or value == "" or value == ():
        return ""
    match column.kind:
        case Kind.DAY:
            return f"{value:%Y-%m-%d}"
        case Kind.YES_NO:
            return "yes" if value else "no"
        case Kind.NUMBER:
            return f"{value:g}"
        case Kind.WORDS | Kind.LIST:
            return "; ".join(value)
        case _:
            return str(value)


def said(column: Column, value: Any, today: date) -> str:
    """A value as it reads in a sentence, with its unit."""
    if value is None or value == "" or value == ():
        return ""
    match column.kind:
        case Kind.DAY:
            return days.full(value, today)
        case Kind.YES_NO:
            return "yes" if value else "no"
        case Kind.WORDS | Kind.LIST:
            return ", ".join(value)
        case Kind.WHOLE | Kind.NUMBER:
            return f"{value:g} {column.unit}".strip()
        case _:
            return f"{value} {words.LEVELS[value]}" if column.words == tuple(words.LEVELS) else str(value)


def choices(column: Column) -> tuple[tuple[str, str], ...]:
    """The words to choose from as (word, how it is shown); empty for a field that is typed."""
    if column.kind is Kind.YES_NO:
        return (("yes", "yes"), ("no", "no"))
    if column.words == tuple(words.LEVELS):
        return tuple((code, f"{code} {level}") for code, level in words.LEVELS.items())
    if column.words == tuple(words.MEASURES):
        return tuple((name, f"{name} ({unit})") for name, unit in words.MEASURES.items())
    return tuple((word, word.replace("_", " ")) for word in column.words)


def _day(text: str, today: date, ahead: bool) -> Entry:
    found = days.read(text, today, ahead=ahead)
    return Entry(found.day, days.both(found.day, today) if found.day else "", found.problem)


def _time(text: str) -> Entry:
    match = re.fullmatch(r"(\d{1,2})(?:[:.h]?(\d{2}))?\s*(am|pm)?", text.strip().lower())
    hour, minute = (int(match[1]), int(match[2] or 0)) if match else (99, 0)
    if match and match[3]:
        hour = hour % 12 + (12 if match[3] == "pm" else 0) if 1 <= hour <= 12 else 99
    if hour > 23 or minute > 59:
        return Entry("", problem=f"'{text.strip()}' is no time; type 9:30 or 14:05.")
    return Entry(f"{hour:02d}:{minute:02d}", f"{hour:02d}:{minute:02d}")


def _yes_no(text: str) -> Entry:
    said = text.strip().lower()
    if said in ("yes", "y", "no", "n"):
        return Entry(said[0] == "y")
    return Entry(None, problem=f"'{text.strip()}' is neither yes nor no.")


def _counted(column: Column, text: str) -> Entry:
    found = numbers.read(text, unit=column.unit, low=column.low, high=column.high)
    if found.value is not None and column.kind is Kind.WHOLE:
        if found.value != int(found.value):
            return Entry(None, problem=f"{found.value:g} is no whole number.")
        return Entry(int(found.value))
    return _number(found)


def _number(found: numbers.Number) -> Entry:
    return Entry(found.value, found.said, found.problem)


def _word(column: Column, text: str) -> Entry:
    if text in column.words:
        return Entry(text)
    near = _nearest(text, column.words)
    hint = f"; did you mean {near}?" if near else f"; one of {', '.join(column.words)}."
    return Entry("", problem=f"'{text}' is none of the words{hint}")


def _words(column: Column, text: str) -> Entry:
    chosen = _parts(text)
    wrong = [part for part in chosen if part not in column.words]
    if wrong:
        return Entry((), problem=f"'{wrong[0]}' is none of {', '.join(column.words)}.")
    return Entry(tuple(word for word in column.words if word in chosen))


def _nearest(text: str, among: Sequence[str]) -> str:
    begins = [word for word in among if word.lower().startswith(text.lower())]
    return next(iter(begins or get_close_matches(text, among, 1)), "")


def _parts(text: str) -> list[str]:
    return [part.strip() for part in text.split(";") if part.strip()]
