"""The tables of the first version. Frozen: nothing here follows what the application becomes."""

from typing import Any

import peewee as pw

from caseload.store.engines import append_only

TEXTS = {
    "people": "family_name given_name phone language transport days carer note site clinician sensation"
    " foot_risk circulation_concern site_now clinician_now status_now foot_risk_now folded",
    "devices": "side orthosis design material make diagnosis orthotist end_reason insole footwear sock note",
}


class Day(pw.Field):
    field_type = "DATE"


class Instant(pw.Field):
    field_type = "TIMESTAMPTZ"


def table(db: Any, name: str, /, *, indexes: Any = (), **fields: Any) -> Any:
    for text in TEXTS.get(name, "").split():
        fields[text] = pw.TextField()
    options = {"database": db, "table_name": name, "legacy_table_names": False, "indexes": indexes}
    return type(name, (pw.Model,), {**fields, "Meta": type("Meta", (), options)})


def link(model: Any, **options: Any) -> Any:
    """A foreign key named as the column it holds."""
    name = options.pop("column_name")
    return pw.ForeignKeyField(model, column_name=name, backref="+", index=False, **options)


def up(migrator: Any, db: Any) -> None:
    people = table(
        db,
        "people",
        person=pw.TextField(primary_key=True),
        born=Day(null=True),
        interpreter=pw.SmallIntegerField(null=True),
        lives_alone=pw.SmallIntegerField(null=True),
        vulnerable_now=pw.SmallIntegerField(),
        version=pw.IntegerField(),
    )
    devices = table(
        db,
        "devices",
        device=pw.TextField(primary_key=True),
        person=link(people, column_name="person"),
        ordered=Day(null=True),
        promised=Day(null=True),
        delivered=Day(null=True),
        taken_over=Day(null=True),
        last_review=Day(null=True),
        ended=Day(null=True),
        replaces=pw.TextField(null=True),
        life_months=pw.IntegerField(null=True),
        version=pw.IntegerField(),
        indexes=((("person", "device"), False),),
    )
    facts = table(
        db,
        "facts",
        seq=pw.BigAutoField(),
        id=pw.TextField(unique=True),
        kind=pw.TextField(),
        person=link(people, column_name="person"),
        device=link(devices, column_name="device", null=True),
        on=Day(),
        at=pw.TextField(),
        order=pw.IntegerField(),
        by=pw.TextField(),
        note=pw.TextField(),
        typed_on=Day(),
        struck_on=Day(null=True),
        struck_by=pw.TextField(),
        struck_reason=pw.TextField(),
        version=pw.IntegerField(),
        reference=pw.TextField(null=True),
        body=pw.TextField(),
        indexes=((("person", "seq"), False),),
    )
    follow_ups = table(
        db,
        "follow_ups",
        id=pw.BigAutoField(),
        person=link(people, column_name="person"),
        device=link(devices, column_name="device", null=True),
        kind=pw.TextField(),
        cause=pw.TextField(),
        started=Day(),
        opens=Day(),
        due=Day(),
        last_day=Day(),
        done=Day(null=True),
        cancelled=Day(null=True),
        tier=pw.SmallIntegerField(),
        anchor=Day(),
        reasons=pw.TextField(),
        binding=pw.SmallIntegerField(),
        moved=pw.TextField(),
        done_by=pw.TextField(null=True),
        owed_until=Day(),
        clinician=pw.TextField(),
        site=pw.TextField(),
        indexes=((("person", "due"), False),),
    )
    sessions = table(
        db,
        "sessions",
        session=pw.TextField(primary_key=True),
        on=Day(),
        starts=pw.TextField(),
        minutes=pw.IntegerField(),
        kept_free=pw.IntegerField(null=True),
        site=pw.TextField(),
        who=pw.TextField(),
        purpose=pw.TextField(),
        cancelled_on=Day(null=True),
        cancelled_reason=pw.TextField(),
        version=pw.IntegerField(),
        indexes=((("on", "starts"), False),),
    )
    bookings = table(
        db,
        "bookings",
        booking=pw.TextField(primary_key=True),
        session=link(sessions, column_name="session", null=True),
        on=Day(null=True),
        starts=pw.TextField(),
        person=link(people, column_name="person"),
        minutes=pw.IntegerField(),
        device=link(devices, column_name="device", null=True),
        request=pw.TextField(null=True),
        kind=pw.TextField(),
        status=pw.TextField(),
        answer_by=Day(null=True),
        outcome=pw.TextField(),
        version=pw.IntegerField(),
        indexes=((("person",), False), (("session",), False)),
    )
    absences = table(
        db,
        "absences",
        id=pw.AutoField(),
        who=pw.TextField(),
        first=Day(),
        last=Day(),
        cover=pw.TextField(),
        version=pw.IntegerField(),
        indexes=((("who", "first"), True),),
    )
    closures = table(
        db,
        "closures",
        id=pw.AutoField(),
        on=Day(),
        site=pw.TextField(),
        reason=pw.TextField(),
        version=pw.IntegerField(),
        indexes=((("on", "site"), True),),
    )
    protocols = table(
        db,
        "protocols",
        id=pw.AutoField(),
        version=pw.TextField(),
        first_day=Day(),
        text=pw.TextField(),
        used_at=Instant(),
        used_by=pw.TextField(),
    )
    audit = table(
        db,
        "audit",
        id=pw.BigAutoField(),
        deed=pw.TextField(),
        at=Instant(),
        who=pw.TextField(),
        act=pw.TextField(),
        what=pw.TextField(),
        ref=pw.TextField(),
        person=pw.TextField(null=True),
        device=pw.TextField(null=True),
        before=pw.TextField(null=True),
        after=pw.TextField(null=True),
        why=pw.TextField(),
        undoes=pw.TextField(null=True),
        indexes=((("person", "id"), False), (("deed",), False)),
    )
    basis = table(db, "basis", name=pw.TextField(primary_key=True), value=pw.TextField())
    db.create_tables(
        [people, devices, facts, follow_ups, sessions, bookings, absences, closures, protocols, audit, basis],
        safe=False,
    )
    for index in INDEXES:
        db.execute_sql(index)
    append_only(db, "audit")


INDEXES = (
    # One list and its counts without touching the table: what is owed on a day is owed_until > day.
    "CREATE INDEX follow_ups_of_clinician ON follow_ups"
    " (clinician, owed_until, due, opens, last_day, kind, tier)",
    # The rows that stand on top of every list of a site.
    "CREATE INDEX follow_ups_of_site ON follow_ups (site, tier, owed_until)",
    # Over what is owed only: done rows outnumber owed ones many times over.
    "CREATE INDEX follow_ups_last_day ON follow_ups (last_day) WHERE owed_until = '9999-12-31'",
    # A reference is used once, but a struck-out fact does not hold on to its own.
    "CREATE UNIQUE INDEX facts_reference ON facts (kind, reference)"
    " WHERE struck_on IS NULL AND kind IN ('adjustment request', 'escalation')",
    # The few facts that are asked for as such, of all people at once.
    """CREATE INDEX facts_changes ON facts ("on") WHERE kind = 'change'""",
    """CREATE INDEX facts_pauses ON facts ("on") WHERE kind = 'pause'""",
    # What an adjustment or a withdrawal is about.
    "CREATE INDEX facts_about ON facts (reference) WHERE reference IS NOT NULL",
    "CREATE INDEX audit_undoes ON audit (undoes) WHERE undoes IS NOT NULL",
    "CREATE INDEX people_of_clinician ON people (clinician_now, status_now)",
)
