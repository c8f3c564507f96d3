"""The rows of a workbook as records, each with the row it stood in."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Any


@dataclass(slots=True)
class TableRow:
    """One person, device, session, booking, absence or closure."""

    record: Any
    row: int = field(default=0, compare=False)


@dataclass(slots=True)
class FactRow:
    """One fact, before it is known whose device or request it names."""

    subject: str
    """The reference of a person, a device or a request, as the kind of fact is `of`."""
    on: date
    body: Any
    at: str = ""
    by: str = ""
    note: str = ""
    typed_on: date | None = None
    struck_on: date | None = None
    struck_by: str = ""
    struck_reason: str = ""
    row: int = field(default=0, compare=False)
