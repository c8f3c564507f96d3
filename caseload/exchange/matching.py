"""Which rows of a workbook are on record already, which complete what is, which contradict it, which are new.

A blank cell says nothing. Facts without a reference of their own are held together by subject, day and what
their kind declares as alike; within such a group each row takes one fact, the one it agrees with best.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from caseload.exchange.layout import Heading, Part, headings
from caseload.exchange.rows import value_of
from caseload.exchange.told import FactRow
from caseload.records.facts import Fact, FactKind, Of
from caseload.records.sheets import BY_NAME, Sheet

_BLANK = (None, "", ())


@dataclass(slots=True)
class Differing:
    """A row that says more than, or something other than, what is on record."""

    row: Any
    on_record: Any
    filled: list[Heading]
    """Blank on record, and said by the row."""
    contrary: list[Heading]
    """On record as something else than the row says."""


@dataclass(slots=True)
class Matched:
    """What the rows about facts of one kind come to."""

    new: list[FactRow] = field(default_factory=list)
    differing: list[Differing] = field(default_factory=list)
    same: int = 0


def compare(row: Any, on_record: Any, sheet: Sheet) -> Differing:
    """Hold a row against a record or a fact, cell by cell."""
    found = Differing(row, on_record, [], [])
    for head in headings(sheet):
        said = value_of(row, head)
        if said in _BLANK:
            continue
        kept = _kept(on_record, head)
        if kept in _BLANK:
            found.filled.append(head)
        elif kept != said:
            found.contrary.append(head)
    return found


def match(rows: Sequence[FactRow], facts: Iterable[Fact], kind: FactKind) -> Matched:
    """Hold the rows of one kind against the facts of that kind on record; all of one person, or of many."""
    found = Matched()
    groups: dict[Any, tuple[list[FactRow], list[Fact]]] = {}
    for row in rows:
        groups.setdefault(_group(kind, row.subject, row), ([], []))[0].append(row)
    for fact in facts:
        group = groups.get(_group(kind, _subject(kind, fact), fact))
        if group is not None:
            group[1].append(fact)
    for alike, kept in groups.values():
        if kept:
            _match_group(alike, kept, kind, found)
        else:
            found.new.extend(alike)
    return found


def merged(found: Differing, sheet: Sheet) -> Any:
    """The record or fact as it is with what the row says filled in and put right."""
    changes = {Part.RECORD: {}, Part.ENVELOPE: {}, Part.SUBJECT: {}}  # type: dict[Part, dict[str, Any]]
    for head in (*found.filled, *found.contrary):
        changes[head.part][head.column.name] = value_of(found.row, head)
    if sheet.fact is None:
        return replace(found.on_record, **changes[Part.RECORD])
    body = replace(found.on_record.body, **changes[Part.RECORD])
    version = found.on_record.version + 1
    return found.on_record._replace(body=body, version=version, **changes[Part.ENVELOPE])


def _match_group(rows: list[FactRow], facts: list[Fact], kind: FactKind, found: Matched) -> None:
    """Rows that say most choose first; an agreeing fact before one to complete, before one to put right."""
    sheet = BY_NAME[kind.sheet]
    left = sorted(facts, key=lambda fact: not fact.counts)
    waiting = sorted(rows, key=lambda row: -_how_much(row, sheet))
    for acceptable in (_agrees, _completes, _contradicts):
        still = []
        for row in waiting:
            tries = [compare(row, fact, sheet) for fact in left]
            best = min(
                (each for each in tries if acceptable(each)), key=lambda each: len(each.contrary), default=None
            )
            if best is None:
                still.append(row)
                continue
            left.remove(best.on_record)
            if best.filled or best.contrary:
                found.differing.append(best)
            else:
                found.same += 1
        waiting = still
    taken = {id(row) for row in waiting}
    found.new.extend(row for row in rows if id(row) in taken)


def _agrees(found: Differing) -> bool:
    return not found.filled and not found.contrary


def _completes(found: Differing) -> bool:
    return not found.contrary


def _contradicts(found: Differing) -> bool:
    """A fact struck out counts for nothing, so a row that says otherwise is a new fact."""
    return bool(found.on_record.counts)


def _how_much(row: FactRow, sheet: Sheet) -> int:
    return sum(value_of(row, head) not in _BLANK for head in headings(sheet))


def _group(kind: FactKind, subject: str | None, of: FactRow | Fact) -> Any:
    if kind.reference:
        return getattr(of.body, kind.reference)
    return (subject, of.on, *(getattr(of.body, name) for name in kind.alike))


def _subject(kind: FactKind, fact: Fact) -> str | None:
    if kind.of is Of.PERSON:
        return fact.person
    return str(fact.body.request) if kind.of is Of.REQUEST else fact.device


def _kept(on_record: Any, head: Heading) -> Any:
    """What is on record under a heading; for a fact its subject is the device or person itself."""
    if not isinstance(on_record, Fact):
        return getattr(on_record, head.column.name)
    if head.part is Part.RECORD:
        return getattr(on_record.body, head.column.name)
    return getattr(on_record, head.column.name if head.part is Part.ENVELOPE else head.name)
