"""The sheets of a workbook, in order, each naming the record that declares its columns."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from caseload.records import facts, sessions
from caseload.records.columns import Column, Kind, column, columns
from caseload.records.devices import Device
from caseload.records.people import Person


@dataclass(frozen=True, slots=True)
class Sheet:
    """One worksheet, or one CSV file."""

    name: str
    record: type[Any]
    """The record of a row; for a fact, the body of it."""
    key: tuple[str, ...]
    """Columns that name a row uniquely; empty for facts without a reference of their own."""
    fact: facts.FactKind | None = None


_TABLES = (
    Sheet("people", Person, ("person",)),
    Sheet("devices", Device, ("device",)),
)
_CLINIC = (
    Sheet("sessions", sessions.Session, ("session",)),
    Sheet("bookings", sessions.Booking, ("booking",)),
    Sheet("absences", sessions.Absence, ("who", "first")),
    Sheet("closures", sessions.Closure, ("on", "site")),
)
_CHANGES, *_FACTS = (
    Sheet(kind.sheet, kind.body, (kind.reference,) if kind.reference else (), kind) for kind in facts.KINDS
)
SHEETS = (_TABLES[0], _CHANGES, *_TABLES[1:], *_FACTS, *_CLINIC)
BY_NAME = {sheet.name: sheet for sheet in SHEETS}

RENAMED = {"absences": {"first": "from", "last": "to"}}
"""Headings that are no Python names; everywhere else the heading is the field's name."""


@dataclass(frozen=True, slots=True)
class _Envelope:
    """Columns every fact sheet may have beside its own."""

    on: Any = column(Kind.DAY, "Date", "The day it happened.", required=True)
    at: str = column(Kind.TIME, "Time")
    by: str = column(Kind.TEXT, "By")
    note: str = column(Kind.TEXT, "Note", long=True)
    typed_on: Any = column(Kind.DAY, "Typed on")
    struck_on: Any = column(Kind.DAY, "Struck out on")
    struck_by: str = column(Kind.TEXT, "Struck out by")
    struck_reason: str = column(Kind.TEXT, "Why struck out")


ENVELOPE: tuple[Column, ...] = columns(_Envelope)
"""`on`, `at`, `by`, `note`, `typed_on`, `struck_on`, `struck_by`, `struck_reason`."""
