"""Whether every reference of a workbook leads somewhere: to a row of the workbook or to what is on record."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from caseload.exchange.layout import headings
from caseload.exchange.problems import Problem, did_you_mean, quoted
from caseload.exchange.rows import value_of
from caseload.exchange.workbook import Workbook
from caseload.records.columns import Kind
from caseload.records.sheets import SHEETS

_NAMES = {
    "people": "person",
    "devices": "device",
    "adjustment_requests": "adjustment request",
    "sessions": "session",
}
_HINTS = 20
"""Looking for the nearest of ten thousand references takes a moment; for so many problems it is worth it."""


@dataclass(slots=True)
class Known:
    """The references on record."""

    people: set[str] = field(default_factory=set)
    devices: dict[str, str] = field(default_factory=dict)
    """Whose each is."""
    requests: dict[str, str] = field(default_factory=dict)
    """Which device each is about."""
    sessions: set[str] = field(default_factory=set)

    def of(self, sheet: str) -> Any:
        """The references of the rows of a sheet."""
        return {
            "people": self.people,
            "devices": self.devices,
            "adjustment_requests": self.requests,
            "sessions": self.sessions,
        }[sheet]


def dangling(book: Workbook, known: Known) -> list[Problem]:
    """The cells that refer to nothing, and those that refer to the wrong person's device."""
    problems = list[Problem]()
    for sheet in SHEETS:
        rows = book.rows(sheet.name)
        for head in headings(sheet):
            target = head.column.refers_to
            there = book.keys.get(target, {}) if target else None
            if there is None or not rows:
                continue
            on_record = known.of(target)
            several = head.column.kind is Kind.LIST
            for row in rows:
                value = value_of(row, head)
                for reference in value if several else (value,):
                    if reference and reference not in there and reference not in on_record:
                        near = [*there, *on_record] if len(problems) < _HINTS else []
                        said = f"{quoted(reference)} is no {_NAMES[target]} of this workbook or on record"
                        expected = did_you_mean(reference, near) or ", expected one that is"
                        problems.append(Problem(sheet.name, row.row, head.name, said + expected))
    problems.extend(_of_somebody_else(book, known))
    return problems


def owners(book: Workbook, known: Known) -> dict[str, str]:
    """Whose each device is, on record or by the workbook."""
    return known.devices | {row.record.device: row.record.person for row in book.rows("devices")}


def subjects(book: Workbook, known: Known) -> dict[str, str]:
    """Which device each adjustment request is about, on record or by the workbook."""
    return known.requests | {row.body.request: row.subject for row in book.rows("adjustment_requests")}


def _of_somebody_else(book: Workbook, known: Known) -> Iterator[Problem]:
    owner = owners(book, known)
    for row in book.rows("devices"):
        if row.record.replaces == row.record.device:
            yield Problem("devices", row.row, "replaces", "is the device itself, expected the one before it")
    for row in book.rows("falls"):
        for device in row.body.devices_worn:
            if owner.get(device, row.subject) != row.subject:
                said = f"{quoted(device)} is another person's device, expected one of {quoted(row.subject)}"
                yield Problem("falls", row.row, "devices_worn", said)
    for row in book.rows("bookings"):
        device, person = row.record.device, row.record.person
        if device and owner.get(device, person) != person:
            said = f"{quoted(device)} is another person's device, expected one of {quoted(person)}"
            yield Problem("bookings", row.row, "device", said)
