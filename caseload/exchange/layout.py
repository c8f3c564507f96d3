"""Which headings a sheet has, in which order, and to which part of a row each belongs."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from caseload.records.columns import Column, Kind, columns
from caseload.records.facts import Of
from caseload.records.sheets import BY_NAME, ENVELOPE, RENAMED, Sheet


class Part(StrEnum):
    """Where the value of a heading goes."""

    RECORD = "record"
    """A field of the record of the sheet: the person, the device, the body of a fact ..."""
    SUBJECT = "subject"
    """Whom a fact is of: the reference of a device or a person."""
    ENVELOPE = "envelope"
    """What every fact has: the day, who recorded it, a note ..."""


@dataclass(frozen=True, slots=True)
class Heading:
    """One heading of a sheet."""

    name: str
    """As it is written in the first row."""
    column: Column
    part: Part


def headings(sheet: Sheet) -> tuple[Heading, ...]:
    """The headings of a sheet in the order they are written: reference, subject and day first."""
    return _headings(sheet.name)


@cache
def _headings(name: str) -> tuple[Heading, ...]:
    sheet = BY_NAME[name]
    renamed = RENAMED.get(sheet.name, {})
    own = [Heading(renamed.get(c.name, c.name), c, Part.RECORD) for c in columns(sheet.record)]
    if sheet.fact is None:
        return tuple(own)
    envelope = [Heading(c.name, c, Part.ENVELOPE) for c in ENVELOPE]
    if sheet.fact.of is Of.REQUEST:
        return (own[0], envelope[0], *own[1:], *envelope[1:])
    first = 1 if sheet.fact.reference else 0
    return (*own[:first], _subject(sheet.fact.of), envelope[0], *own[first:], *envelope[1:])


def _subject(of: Of) -> Heading:
    column = dataclasses.replace(
        ENVELOPE[1],
        name=of.value,
        kind=Kind.TEXT,
        label=of.value.capitalize(),
        help="",
        required=True,
        refers_to="devices" if of is Of.DEVICE else "people",
    )
    return Heading(of.value, column, Part.SUBJECT)
