"""A form as plain data: which fields it asks, what stands in them to begin with, and how they are read.

Fields come from the declarations of `records`; what is filled in is only what is known (today, the person,
the device a follow-up is about, its request or area). What a clinician must judge is never filled in, and
with two devices in use no side is.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from caseload.records import words
from caseload.records.case import Case
from caseload.records.columns import Column, Kind, columns
from caseload.records.devices import Device
from caseload.records.facts import Fact, FactKind, Of
from caseload.records.followups import FollowUp
from caseload.records.sheets import ENVELOPE
from caseload.rules.known_words import as_known
from caseload.words import entry

_ENVELOPE = {column.name: column for column in ENVELOPE}
DEVICE = Column(
    "device",
    Kind.WORD,
    "Device",
    "LEFT or RIGHT, as it is worn.",
    (),
    "",
    True,
    None,
    None,
    "",
    "devices",
    False,
    False,
)


@dataclass(frozen=True, slots=True)
class Form:
    """What one form asks."""

    title: str
    columns: tuple[Column, ...]
    texts: Mapping[str, str]
    """What stands in the fields to begin with, by column name."""
    choices: Mapping[str, tuple[tuple[str, str], ...]] = field(default_factory=dict)
    """For fields that name a record: its references, and how each is shown."""
    several: frozenset[str] = frozenset()
    """Fields of `choices` of which several may be chosen."""


@dataclass(frozen=True, slots=True)
class Understood:
    """A form as it was read."""

    values: Mapping[str, Any]
    said: Mapping[str, str]
    problems: Mapping[str, str]
    """By column name, one sentence each; the form may be saved when there is none."""


def read(
    form: Form, texts: Mapping[str, str], today: date, offered: Mapping[str, Sequence[str]] | None = None
) -> Understood:
    """Read all fields; every problem is found, not only the first.

    `offered`: by field the words it is completed to; one of them in other capitals is that word.
    """
    values, said, problems = {}, {}, {}
    for column in form.columns:
        text = texts.get(column.name, "")
        if column.name in form.choices and text:
            parts = tuple(part.strip() for part in text.split(";") if part.strip())
            values[column.name] = parts if column.name in form.several else text
            continue
        found = entry.read(column, text, today, others=texts)
        value = found.value
        values[column.name] = (
            as_known(value, (offered or {}).get(column.name, ())) if isinstance(value, str) else value
        )
        if found.said:
            said[column.name] = found.said
        if found.problem:
            problems[column.name] = found.problem
    return Understood(values, said, problems)


def fact_form(kind: FactKind, case: Case, today: date, row: FollowUp | None = None) -> Form:
    """The form of one kind of fact about one person, begun from a follow-up or from nothing."""
    asked = list(columns(kind.body))
    on = dataclasses.replace(
        _ENVELOPE["on"], may_lie_ahead=kind.name == "pause", label=_DATED.get(kind.name, "Date")
    )
    head = [DEVICE, on] if kind.of is Of.DEVICE else [on]
    required = [column for column in asked if column.required]
    others = [column for column in asked if not column.required]
    form = Form(
        f"{kind.name[:1].upper()}{kind.name[1:]}",
        (*head, *required, *others, _ENVELOPE["at"], _ENVELOPE["note"]),
        {"on": "today", **_known(kind, case, row)},
        _choices(kind, case, today, row),
        frozenset({"devices_worn"}),
    )
    offered = form.choices.get("device", ())
    if len(offered) == 1:
        form = dataclasses.replace(form, texts={"device": offered[0][0], **form.texts})
    return form


def amended_form(fact: Fact, kind: FactKind, case: Case, today: date) -> Form:
    """The form of a fact on record, to correct it or to fill in how what began has ended."""
    form = fact_form(kind, case, today)
    body = {column.name: entry.typed(column, getattr(fact.body, column.name)) for column in columns(kind.body)}
    texts = {**body, "on": fact.on.isoformat(), "at": fact.at, "note": fact.note}
    kept = tuple(column for column in form.columns if column.name != "device")
    return dataclasses.replace(form, columns=kept, texts=texts)


def record_form(
    record: type[Any], title: str, *, filled: Mapping[str, str] | None = None, hidden: Sequence[str] = ()
) -> Form:
    """The form of a plain record: a person, a device, an absence."""
    asked = [column for column in columns(record) if column.name not in hidden]
    ordered = [column for column in asked if column.required] + [
        column for column in asked if not column.required
    ]
    return Form(title, tuple(ordered), dict(filled or {}))


def typed_of(record: Any) -> dict[str, str]:
    """A record on file as the texts of its form."""
    return {column.name: entry.typed(column, getattr(record, column.name)) for column in columns(type(record))}


def in_use(case: Case, today: date) -> tuple[Device, ...]:
    """The devices delivered and not ended, left before right."""
    worn = (
        device
        for device in case.devices
        if (device.delivered or device.taken_over or date.max) <= today
        and (device.ended is None or device.ended >= today)
    )
    return tuple(sorted(worn, key=lambda device: (device.side, device.device)))


def first_to_fill(form: Form, texts: Mapping[str, str]) -> str:
    """The first field that must be filled and is empty; empty when there is none."""
    return next(
        (column.name for column in form.columns if column.required and not texts.get(column.name, "").strip()),
        "",
    )


_DATED = {"away": "Left on", "pause": "From", "wear plan": "Begins on", "change": "From", "fall": "Fell on"}


def _known(kind: FactKind, case: Case, row: FollowUp | None) -> dict[str, str]:
    """What is known before anybody judges."""
    texts: dict[str, str] = {}
    if row is not None and row.device and kind.of is Of.DEVICE:
        texts["device"] = row.device
    if kind.name == "look" and row is not None and row.cause != words.NOT_STATED:
        texts["area"] = row.cause
    if kind.of is Of.REQUEST and row is not None:
        texts["request"] = row.cause
    if kind.name == "practice":
        practised = [fact.body.who for fact in case.counting() if fact.kind == "practice"]
        texts["who"] = practised[-1] if practised else words.WEARER
    if kind.name == "contact":
        texts["how"] = "phone"
    if kind.reference:
        before = sum(fact.kind == kind.name for fact in case.facts)
        texts[kind.reference] = f"{kind.letter}-{case.person.person}-{before + 1}"
    return texts


def _choices(
    kind: FactKind, case: Case, today: date, row: FollowUp | None
) -> dict[str, tuple[tuple[str, str], ...]]:
    worn = in_use(case, today) or case.devices
    if row is not None and row.device:  # a rub goes on after the end of its device
        worn = (
            *worn,
            *(device for device in case.devices if device.device == row.device and device not in worn),
        )
    devices = tuple((device.device, device_said(device, worn)) for device in worn)
    found: dict[str, tuple[tuple[str, str], ...]] = {}
    if kind.of is Of.DEVICE:
        found["device"] = devices
    for column in columns(kind.body):
        if column.refers_to == "devices":
            found[column.name] = devices
        elif column.refers_to == "adjustment_requests":
            found[column.name] = open_requests(case)
    return found


def device_said(device: Device, among: Sequence[Device]) -> str:
    """`LEFT AFO`; with its reference when two of them would read the same."""
    alike = sum(other.name == device.name for other in among) > 1
    return f"{device.name} ({device.device})" if alike else device.name


def open_requests(case: Case) -> tuple[tuple[str, str], ...]:
    """The adjustment requests neither done nor withdrawn, newest first, as choices."""
    ended = {
        fact.body.request
        for fact in case.counting()
        if fact.kind == "request withdrawal" or (fact.kind == "adjustment" and fact.body.outcome == words.DONE)
    }
    names = {device.device: device.name for device in case.devices}
    return tuple(
        (fact.body.request, f"{names.get(fact.device or '', '')} {fact.body.cause} ({fact.body.request})")
        for fact in reversed(case.counting())
        if fact.kind == "adjustment request" and fact.body.request not in ended
    )
