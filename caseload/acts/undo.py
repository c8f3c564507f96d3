"""Undoing the last act of whoever sits at the desk, by an act that takes it back; both stay in the audit."""

from __future__ import annotations

from datetime import date
from typing import Any

from caseload.acts.desk import Desk
from caseload.acts.facts import leaning_on, struck
from caseload.acts.recorded import Recorded, recorded
from caseload.errors import Refused
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, Fact
from caseload.records.people import Person
from caseload.records.sessions import Closure, Session
from caseload.store import audit, basis, cases, writes
from caseload.store.audit import UNDO, Entry
from caseload.store.mapping import record_of, said
from caseload.store.work import Work, snapshot

_FINAL = {
    "load": "Bringing in a workbook cannot be undone; strike out or amend what is wrong.",
    "use protocol": "A protocol in use cannot be undone; put another one in use.",
}
_RECORD = {sheet.name: record for record, sheet in writes.TABLES.items()}


def last(desk: Desk) -> list[Entry]:
    """What `undo_last` would take back: the entries of the act, or none."""
    return audit.last_deed(desk.store, desk.who)


def undo_last(desk: Desk, deed: str = "") -> Recorded:
    """Take back the last act of this person. `deed`: the act they were shown, if they were.

    Raises Refused when there is none, when it cannot be undone, or when something was built on it since.
    """
    entries = last(desk)
    if not entries:
        raise Refused(["There is nothing of yours to undo."])
    first = entries[0]
    if deed and deed != first.deed:
        raise Refused(["Something else was done meanwhile; look again before undoing."])
    if first.act in _FINAL:
        raise Refused([_FINAL[first.act]])
    with desk.act(UNDO, f"{first.act} undone", first.deed) as work:
        for entry in entries:
            if built := audit.since(desk.store, entry):
                done = f"{built.who} did more about {entry.person} since ({built.act}, {built.what})"
                raise Refused([f"{done}: too late to undo."])
        facts = [fact for entry in reversed(entries) if (fact := _take_back(desk, work, entry))]
    return recorded(work, facts)


def _take_back(desk: Desk, work: Work, entry: Entry) -> Fact | None:
    if entry.what in BY_NAME:
        return _fact_back(desk, work, entry)
    record = _RECORD.get(entry.what)
    if record is None:
        raise Refused([f"This cannot be undone: {entry.act}."])
    _record_back(work, entry, record)
    return None


def _fact_back(desk: Desk, work: Work, entry: Entry) -> Fact:
    """A fact recorded is struck out; one amended or struck out is as it was."""
    now = cases.fact(desk.store, entry.ref)
    if now is None or snapshot(now) != entry.after:
        raise Refused([f"The {entry.what} was changed since: too late to undo."])
    work.case(now.person)
    if entry.before is None:
        if leaning := leaning_on(work, now):
            raise Refused([leaning])
        then = struck(desk, now, "undone")
    else:
        then = _as_it_was(now, entry.before)
    work.replace_fact(now, then)
    return then


def _as_it_was(now: Fact, before: dict[str, Any]) -> Fact:
    def day(name: str) -> date | None:
        return date.fromisoformat(before[name]) if before.get(name) else None

    return now._replace(
        on=date.fromisoformat(before["on"]),
        at=before.get("at", ""),
        by=before.get("by", ""),
        note=before.get("note", ""),
        struck_on=day("struck_on"),
        struck_by=before.get("struck_by", ""),
        struck_reason=before.get("struck_reason", ""),
        body=record_of(BY_NAME[now.kind].body, dict(before["body"])),
        version=now.version + 1,
    )


def _record_back(work: Work, entry: Entry, record: type[Any]) -> None:
    """A record added is taken away, one changed is as it was, one taken away is there again."""
    before = None if entry.before is None else record_of(record, dict(entry.before))
    after = None if entry.after is None else record_of(record, dict(entry.after))
    about = {"person": entry.person, "device": entry.device}
    on_record = writes.found(work.store, record, writes.key_of(after or before))
    if (None if on_record is None else said(on_record[0])) != entry.after:
        raise Refused([f"{entry.ref} was changed since: too late to undo."])
    if before is None:
        if leaning := _in_use(work, after):
            raise Refused([leaning])
        work.remove(after, **about)
    elif after is None or on_record is None:
        work.add(before, **about)
    else:
        work.replace(after, before, on_record[1], **about)
    if record is Closure:
        basis.changed(work.store)
        work.everyone = True
    elif entry.person and record in (Person, Device):
        work.touch(entry.person, afresh=True)


_LEANING: dict[type[Any], tuple[str, ...]] = {
    Person: (
        'SELECT 1 FROM devices WHERE "person" = ?',
        'SELECT 1 FROM facts WHERE "person" = ?',
        'SELECT 1 FROM bookings WHERE "person" = ?',
    ),
    Device: (
        'SELECT 1 FROM facts WHERE "device" = ?',
        'SELECT 1 FROM bookings WHERE "device" = ?',
        'SELECT 1 FROM devices WHERE "replaces" = ?',
    ),
    Session: ('SELECT 1 FROM bookings WHERE "session" = ?',),
}


def _in_use(work: Work, record: Any) -> str:
    """'' or why a record that was added cannot be taken away: something is on record about it."""
    key = writes.key_of(record)
    queries = _LEANING.get(type(record), ())
    if any(work.store.one(query, key[0]) for query in queries):
        return f"More is on record about {key[0]} by now: too late to undo."
    return ""
