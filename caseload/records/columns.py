"""How one field of a record is declared: once, for the workbook, the store, the forms and the manual.

A record is a frozen dataclass whose fields are made by `column`; `columns(record)` lists them in order.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from enum import StrEnum
from typing import Any


class Kind(StrEnum):
    """What a cell holds, and so how it is read, checked, stored and asked for."""

    TEXT = "text"
    DAY = "day"
    """A local calendar date; `datetime.date` in Python, ISO 8601 outside the screens."""
    TIME = "time"
    """HH:MM, kept as text."""
    YES_NO = "yes or no"
    """`bool`; None means nobody said."""
    WHOLE = "whole number"
    NUMBER = "number"
    WORD = "one of a list"
    """One of `words`, exactly."""
    OPEN_WORD = "word"
    """One of `words` as a rule; any other word is kept as written."""
    WORDS = "several of a list"
    """A tuple of `words`; written with `;` between them."""
    LIST = "several"
    """A tuple of free entries; written with `;` between them."""


@dataclass(frozen=True, slots=True)
class Column:
    """One field of a record."""

    name: str
    kind: Kind
    label: str
    """As it stands on a form: a few words, no capital but the first."""
    help: str
    """One sentence for the form and the manual."""
    words: tuple[str, ...]
    """The words allowed (WORD, WORDS) or offered (OPEN_WORD)."""
    offered: str
    """`areas` when the words offered are the landmarks of the protocol in force; else empty."""
    required: bool
    low: float | None
    """Smallest number allowed; None for no limit."""
    high: float | None
    unit: str
    refers_to: str
    """The sheet whose reference this column holds (`people`, `devices`, ...); empty for none."""
    may_lie_ahead: bool
    """A date that is a promise, a plan or an agreement, and so may be in the future."""
    long: bool
    """Text that may run over several lines."""


def column(
    kind: Kind,
    label: str,
    help: str = "",
    *,
    words: tuple[str, ...] = (),
    offered: str = "",
    required: bool = False,
    low: float | None = None,
    high: float | None = None,
    unit: str = "",
    refers_to: str = "",
    may_lie_ahead: bool = False,
    long: bool = False,
    default: Any = None,
) -> Any:
    """Declare one field; blank unless `required`. Lists are blank as the empty tuple, texts as ''."""
    if default is None and kind in (Kind.WORDS, Kind.LIST):
        default = ()
    elif default is None and kind in (Kind.TEXT, Kind.WORD, Kind.OPEN_WORD, Kind.TIME):
        default = ""
    told = Column(
        "", kind, label, help, words, offered, required, low, high, unit, refers_to, may_lie_ahead, long
    )
    if required:
        return dataclasses.field(metadata={"column": told})
    return dataclasses.field(default=default, metadata={"column": told})


def columns(record: type[Any]) -> tuple[Column, ...]:
    """The declared columns of a record class, in order; fields without a declaration are left out."""
    if record not in _KNOWN:
        _KNOWN[record] = _declared(record)
    return _KNOWN[record]


_KNOWN: dict[type[Any], tuple[Column, ...]] = {}


def _declared(record: type[Any]) -> tuple[Column, ...]:
    return tuple(
        dataclasses.replace(field.metadata["column"], name=field.name)
        for field in dataclasses.fields(record)
        if "column" in field.metadata
    )
