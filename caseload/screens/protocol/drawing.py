"""The rules in force as lines: the intervals by trajectory first, each number with its source."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from caseload.plain import plain
from caseload.rules.protocol.settings import Caution, Limit, Protocol, SkinLimit
from caseload.rules.spans import Span
from caseload.screens.widgets.tone import Piece
from caseload.words.cells import fitted

SECTIONS = (
    ("reassessment", "Reassessment: each rule proposes a date, the earliest binds"),
    ("skin", "Skin"),
    ("adjustment", "Adjustment"),
    ("fit_check", "Fit check"),
    ("donning", "Donning practice"),
    ("wear", "Wear-in"),
    ("people", "People"),
    ("supply", "Supply and the workshop"),
    ("away", "While the device is away"),
    ("ends", "Ends"),
    ("measures", "Measures"),
)
FIRST = ("improving", "stable", "declining", "no_trajectory")
"""The intervals by trajectory: the first thing seen."""


@dataclass(frozen=True, slots=True)
class Row:
    """One setting, or one caution."""

    name: str
    value: str
    source: str


def rows(protocol: Protocol) -> Iterator[str | Row]:
    """Headings and rows, in the order they are read."""
    for attribute, title in SECTIONS:
        yield title
        group = getattr(protocol, attribute)
        units = {field.name: field.metadata["setting"].unit for field in dataclasses.fields(group)}
        names = list(units)
        for name in (
            *(name for name in FIRST if name in names),
            *(name for name in names if name not in FIRST),
        ):
            yield _row(name, getattr(group, name), units[name])
    yield "Cautions, in the clinic's own words"
    for caution in protocol.cautions:
        yield _caution(caution, protocol)
    yield "Numbers to call"
    for name, number in protocol.phones.items():
        yield Row(name.replace("_", " "), number or "no number set", "")


def _row(name: str, value: Any, unit: str) -> Row:
    said = name.replace("_", " ")
    if isinstance(value, Limit):
        early = f"opens {value.early} before" if value.early else "opens at once"
        grace = f"grace {value.grace}" if value.grace else ""
        due = f"due after {value.due}" if value.due else "due on the date given"
        return Row(
            said, ", ".join(part for part in (due, early, grace, f"tier {value.tier}") if part), value.source
        )
    if isinstance(value, SkinLimit):
        told = f"told {value.told}, seen {value.seen}"
        vulnerable = f"vulnerable skin: told {value.told_vulnerable}, seen {value.seen_vulnerable}"
        return Row(said, f"{told}; {vulnerable}; grace {value.grace}, tier {value.tier}", value.source)
    if isinstance(value, tuple) and not isinstance(value, Span):
        return Row(said, ", ".join(_bare(part) for part in value), unit)
    return Row(said, f"{value} {unit if isinstance(value, int | float) else ''}".strip(), "")


def _bare(part: Any) -> str:
    return " to ".join(str(each) for each in part) if isinstance(part, tuple) else str(part)


def _caution(caution: Caution, protocol: Protocol) -> Row:
    number = protocol.phones.get(caution.call, "")
    call = f" [{caution.call.replace('_', ' ')} {number or 'no number set'}]" if caution.call else ""
    return Row(caution.id, caution.sentence + call, caution.source)


def pieces(row: str | Row, width: int) -> list[Piece]:
    """One line, cut to the width; the pane under the list has all of it."""
    if isinstance(row, str):
        return [(f" {row}", "accent")]
    value = max(width - 28, 10) if width < 120 else (width - 28) * 3 // 5
    out: list[Piece] = [
        ("  ", ""),
        (fitted(row.name, 24) + " ", "strong"),
        (fitted(plain(row.value), value) + " ", ""),
    ]
    if width >= 120:
        out.append((fitted(plain(row.source), max(width - 28 - value, 0)), "quiet"))
    return out
