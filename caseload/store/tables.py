"""The tables, for building queries; the columns of a record are taken from its declaration.

They are bound to no database: a query is handed to a `Store`, which runs it. The migrations hold
frozen copies of their own.
"""

from __future__ import annotations

from typing import Any

import peewee

from caseload.records import sessions
from caseload.records.columns import columns
from caseload.records.devices import Device
from caseload.records.people import Person
from caseload.store.fields import Day, Flag, Instant, Text, field


class Table(peewee.Model):
    """What all tables share."""

    class Meta:
        legacy_table_names = False


def _table(name: str, record: type[Any], key: str | None, **more: peewee.Field) -> Any:
    """A table with one column per field of the record, and `more`."""
    fields = {told.name: field(told, primary_key=told.name == key) for told in columns(record)}
    meta = type("Meta", (), {"table_name": name, "legacy_table_names": False})
    return type(name.capitalize(), (Table,), {**fields, **more, "Meta": meta, "__doc__": record.__doc__})


People: Any = _table(
    "people",
    Person,
    "person",
    site_now=Text(),
    clinician_now=Text(),
    status_now=Text(),
    foot_risk_now=Text(),
    vulnerable_now=Flag(),
    folded=Text(),
    version=peewee.IntegerField(),
)
Devices: Any = _table("devices", Device, "device", version=peewee.IntegerField())
Sessions: Any = _table("sessions", sessions.Session, "session", version=peewee.IntegerField())
Bookings: Any = _table("bookings", sessions.Booking, "booking", version=peewee.IntegerField())
Absences: Any = _table("absences", sessions.Absence, None, version=peewee.IntegerField())
Closures: Any = _table("closures", sessions.Closure, None, version=peewee.IntegerField())


class Facts(Table):
    """All dated facts, each with its body as JSON."""

    seq = peewee.BigAutoField()
    """The order of recording."""
    id = Text(unique=True)
    kind = Text()
    person = Text()
    device = Text(null=True)
    on = Day()
    at = Text()
    order = peewee.IntegerField()
    by = Text()
    note = Text()
    typed_on = Day()
    struck_on = Day(null=True)
    struck_by = Text()
    struck_reason = Text()
    version = peewee.IntegerField()
    reference = Text(null=True)
    """The request's or escalation's own reference, or the one an adjustment or withdrawal is about."""
    body = Text()

    class Meta:
        table_name = "facts"


class FollowUps(Table):
    """The ledger: dates, never states. Written by `store.ledger` only."""

    id = peewee.BigAutoField()
    person = Text()
    device = Text(null=True)
    kind = Text()
    cause = Text()
    started = Day()
    opens = Day()
    due = Day()
    last_day = Day()
    done = Day(null=True)
    cancelled = Day(null=True)
    tier = peewee.SmallIntegerField()
    anchor = Day()
    reasons = Text()
    binding = peewee.SmallIntegerField()
    moved = Text()
    done_by = Text(null=True)
    owed_until = Day()
    """The day it was done or cancelled; the last day there is while it is owed."""
    clinician = Text()
    """The person's at present, as is `site`: whose list it stands on."""
    site = Text()

    class Meta:
        table_name = "follow_ups"


class Protocols(Table):
    """The protocols in use, in the words of their file."""

    id = peewee.AutoField()
    version = Text()
    first_day = Day()
    text = Text()
    used_at = Instant()
    used_by = Text()

    class Meta:
        table_name = "protocols"


class Audit(Table):
    """Who did what when; only ever added to."""

    id = peewee.BigAutoField()
    deed = Text()
    """One per act; an act that touches several things has several entries."""
    at = Instant()
    who = Text()
    act = Text()
    what = Text()
    ref = Text()
    person = Text(null=True)
    device = Text(null=True)
    before = Text(null=True)
    after = Text(null=True)
    why = Text()
    undoes = Text(null=True)
    """The deed this one undid."""

    class Meta:
        table_name = "audit"


class Basis(Table):
    """What the ledger was made under, so that another session notices when it has changed."""

    name = Text(primary_key=True)
    value = Text()

    class Meta:
        table_name = "basis"


ALL = (People, Devices, Facts, FollowUps, Sessions, Bookings, Absences, Closures, Protocols, Audit, Basis)
