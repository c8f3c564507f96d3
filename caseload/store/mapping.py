"""Records to rows and back, by plain loops over what the records declare."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from datetime import date
from operator import attrgetter
from typing import Any

from caseload.records.columns import Kind, columns
from caseload.records.facts import BY_NAME, KINDS, Fact
from caseload.records.followups import FollowUp, FollowUpKind, Reason
from caseload.store.values import FOREVER, day, decoder, encoder, iso_day, once, to_json

FACT_COLUMNS = (
    '"id", "kind", "person", "device", "on", "at", "order", "by", "note", "typed_on", "struck_on",'
    ' "struck_by", "struck_reason", "version", "reference", "body"'
)
FOLLOW_UP_COLUMNS = (
    '"person", "device", "kind", "cause", "started", "opens", "due", "last_day", "done", "cancelled",'
    ' "tier", "anchor", "reasons", "binding", "moved", "done_by", "owed_until", "clinician", "site"'
)


def marks(sql_columns: str) -> str:
    """One `?` for each column of a list."""
    return ", ".join("?" * (sql_columns.count(",") + 1))


@once
def names(record: type[Any], of: str = "") -> str:
    """The columns of a record for SQL, quoted; `of`: the table's short name."""
    prefix = f"{of}." if of else ""
    return ", ".join(f'{prefix}"{told.name}"' for told in columns(record))


@once
def _encoders(record: type[Any]) -> tuple[tuple[str, Callable[[Any], Any]], ...]:
    return tuple((told.name, encoder(told)) for told in columns(record))


@once
def _decoders(record: type[Any]) -> tuple[tuple[str, Callable[[Any], Any] | None], ...]:
    return tuple((told.name, decoder(told)) for told in columns(record))


def to_row(record: Any) -> list[Any]:
    """The values of a record in the order of its columns; TypeError for a value of a wrong type."""
    return [encode(getattr(record, name)) for name, encode in _encoders(type(record))]


def from_row(record: type[Any], row: Sequence[Any]) -> Any:
    """The record a row holds; columns beyond its own are left out."""
    values = zip(_decoders(record), row, strict=False)
    return record(**{name: value if decode is None else decode(value) for (name, decode), value in values})


_REFERENCE = {
    kind.name: "request" if any(told.name == "request" for told in columns(kind.body)) else kind.reference
    for kind in KINDS
}


@once
def _converted(record: type[Any]) -> tuple[tuple[str, Callable[[Any], Any]], ...]:
    """The columns whose values JSON does not hold as they are."""
    return tuple(
        (told.name, day if told.kind is Kind.DAY else tuple)
        for told in columns(record)
        if told.kind in (Kind.DAY, Kind.WORDS, Kind.LIST)
    )


@once
def _getter(record: type[Any]) -> tuple[tuple[str, ...], Callable[[Any], Any]]:
    told = tuple(column.name for column in columns(record))
    if len(told) > 1:
        return told, attrgetter(*told)
    return told, lambda one: (getattr(one, told[0]),)


def said(record: Any) -> dict[str, Any]:
    """What a record says, as JSON can hold it; blanks are left out."""
    told, values_of = _getter(type(record))
    pairs = zip(told, values_of(record), strict=True)
    values = {name: value for name, value in pairs if value is not None and value != "" and value != ()}
    for name, convert in _converted(type(record)):
        if name in values:
            values[name] = iso_day(values[name]) if convert is day else list(values[name])
    return values


def record_of(record: type[Any], values: dict[str, Any]) -> Any:
    """The record that says this; the inverse of `said`."""
    for name, convert in _converted(record):
        if name in values:
            values[name] = convert(values[name])
    return record(**values)


def reference_of(fact: Fact) -> str | None:
    """The request or escalation a fact is, or is about."""
    name = _REFERENCE[fact.kind]
    return getattr(fact.body, name) if name else None


def fact_rows(facts: Sequence[Fact]) -> Iterator[tuple[Any, ...]]:
    """`fact_row` of many. Loading makes equal bodies one object: each is put into JSON once."""
    said_by_id: dict[int, str] = {}  # by identity: hashing a body costs more than its JSON
    for fact in facts:
        body = fact.body
        text = said_by_id.get(id(body))
        if text is None:
            text = said_by_id[id(body)] = to_json(said(body))
        yield fact_row(fact, text)


def fact_row(fact: Fact, body: str | None = None) -> tuple[Any, ...]:
    """In the order of FACT_COLUMNS; `body`: as JSON, if that is at hand."""
    if fact.typed_on is None:
        raise TypeError("the day a fact is typed is set before it is saved")
    return (
        fact.id,
        fact.kind,
        fact.person,
        fact.device,
        iso_day(fact.on),
        fact.at,
        fact.order,
        fact.by,
        fact.note,
        iso_day(fact.typed_on),
        None if fact.struck_on is None else iso_day(fact.struck_on),
        fact.struck_by,
        fact.struck_reason,
        fact.version,
        reference_of(fact),
        to_json(said(fact.body)) if body is None else body,
    )


def fact_of(row: Sequence[Any]) -> Fact:
    """The fact a row of FACT_COLUMNS holds."""
    (id_, kind, person, device, on, at, order, by, note, typed, struck, struck_by, why, version, _, body) = row
    return Fact(
        id_,
        kind,
        person,
        device,
        day(on),
        record_of(BY_NAME[kind].body, json.loads(body)),
        order,
        at,
        by,
        note,
        day(typed),
        None if struck is None else day(struck),
        struck_by,
        why,
        version,
    )


def follow_up_row(row: FollowUp, clinician: str, site: str) -> tuple[Any, ...]:
    """In the order of FOLLOW_UP_COLUMNS."""
    reasons = [[why.rule, iso_day(why.anchor), why.offset, iso_day(why.proposes)] for why in row.reasons]
    return (
        row.person,
        row.device,
        row.kind.value,
        row.cause,
        iso_day(row.started),
        iso_day(row.opens),
        iso_day(row.due),
        iso_day(row.last_day),
        row.done and iso_day(row.done),
        row.cancelled and iso_day(row.cancelled),
        row.tier,
        iso_day(row.anchor),
        to_json(reasons),
        row.binding,
        row.moved,
        row.done_by,
        iso_day(row.ended or FOREVER),
        clinician,
        site,
    )


def follow_up_of(row: Sequence[Any]) -> FollowUp:
    """The follow-up a row of FOLLOW_UP_COLUMNS holds."""
    person, device, kind, cause, started, opens, due, last, done, cancelled, tier, _, why = row[:13]
    return FollowUp(
        FollowUpKind(kind),
        person,
        device,
        cause,
        day(started),
        day(opens),
        day(due),
        day(last),
        done and day(done),
        cancelled and day(cancelled),
        tier,
        tuple(
            Reason(rule, date.fromisoformat(anchor), offset, date.fromisoformat(proposes))
            for rule, anchor, offset, proposes in json.loads(why)
        ),
        *row[13:16],
    )
