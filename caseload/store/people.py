"""Finding people and saying how they stand: search as you type, lists, who is in no clock."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from caseload.records import words
from caseload.records.devices import Device
from caseload.records.life import Pause
from caseload.records.people import Person
from caseload.store.folding import fold
from caseload.store.mapping import from_row, names, record_of
from caseload.store.values import day, iso_day
from caseload.store.writes import found

if TYPE_CHECKING:
    from caseload.store.store import Store


@dataclass(frozen=True, slots=True)
class Found:
    """A person as a list of people shows them."""

    person: str
    name: str
    born: date | None
    clinician: str
    """At present, as are site and status."""
    site: str
    status: str


_FOUND = (
    'SELECT "person", "family_name", "given_name", "born", "clinician_now", "site_now", "status_now"'
    " FROM people"
)


def find(store: Store, typed: str, limit: int = 128, offset: int = 0) -> list[Found]:
    """People whose folded names or reference hold every word typed, in order of names; all for ''."""
    where, values = _holds(typed)
    rows = store.all(
        f"{_FOUND}{where} ORDER BY {_by_name(store)} LIMIT ? OFFSET ?",
        *values,
        limit,
        offset,
    )
    return [_found(row) for row in rows]


def find_ids(store: Store, typed: str = "") -> list[str]:
    """The references of everyone `find` would give, in the same order."""
    where, values = _holds(typed)
    rows = store.all(f'SELECT "person" FROM people{where} ORDER BY {_by_name(store)}', *values)
    return [row[0] for row in rows]


def by_ids(store: Store, references: Sequence[str]) -> dict[str, Found]:
    """These people, for a window of a long list."""
    marks = ", ".join("?" * len(references))
    rows = store.all(f'{_FOUND} WHERE "person" IN ({marks})', *references) if references else []
    return {row[0]: _found(row) for row in rows}


def _by_name(store: Store) -> str:
    """Folded names, then reference, in the same order on both engines."""
    return f'"folded"{store.engine.in_byte_order}, "person"{store.engine.in_byte_order}'


def _holds(typed: str) -> tuple[str, list[str]]:
    parts = fold(typed.replace(",", " ")).split()
    values = ["%" + part.replace("!", "!!").replace("%", "!%").replace("_", "!_") + "%" for part in parts]
    where = " AND ".join(["\"folded\" LIKE ? ESCAPE '!'"] * len(parts))
    return (f" WHERE {where}" if parts else ""), values


def _found(row: Sequence[Any]) -> Found:
    person, family, given, born, clinician, site, status = row
    return Found(person, f"{family}, {given}".strip(", "), born and day(born), clinician, site, status)


def person(store: Store, reference: str) -> tuple[Person, int] | None:
    """A person with the version of their record, or None."""
    return found(store, Person, (reference,))


def device(store: Store, reference: str) -> tuple[Device, int] | None:
    """A device with the version of its record, or None."""
    return found(store, Device, (reference,))


def devices(store: Store, owner: str) -> list[Device]:
    """The devices of a person."""
    rows = store.all(f'SELECT {names(Device)} FROM devices WHERE "person" = ? ORDER BY "device"', owner)
    return [from_row(Device, row) for row in rows]


def how_many(store: Store, clinicians: Sequence[str] = ()) -> int:
    """People followed at present, on the lists of these clinicians or at all."""
    where, values = _followed(clinicians)
    row = store.one(f"SELECT COUNT(*) FROM people WHERE {where}", *values)
    return int(row[0]) if row else 0


def in_no_clock(store: Store, clinicians: Sequence[str] = ()) -> list[Found]:
    """People who are followed, and to whom nothing is owed: nobody would notice if they were lost."""
    where, values = _followed(clinicians)
    rows = store.all(
        f"{_FOUND} WHERE {where} AND NOT EXISTS (SELECT 1 FROM follow_ups f WHERE"
        ' f."person" = people."person" AND f."owed_until" = ?)'
        f" ORDER BY {_by_name(store)}",
        *values,
        iso_day(date.max),
    )
    return [_found(row) for row in rows]


def paused(store: Store, on: date, clinicians: Sequence[str] = ()) -> list[tuple[Found, date]]:
    """(person, last day of the pause) of people who are paused on a day."""
    theirs = f' AND p."clinician_now" IN ({", ".join("?" * len(clinicians))})' if clinicians else ""
    rows = store.all(
        'SELECT f."person", f."body" FROM facts f JOIN people p ON p."person" = f."person"'
        f' WHERE f."kind" = \'pause\' AND f."struck_on" IS NULL AND f."on" <= ?{theirs}',
        iso_day(on),
        *clinicians,
    )
    until: dict[str, date] = {}
    for person, body in rows:
        last = record_of(Pause, json.loads(body)).until
        if last >= on:
            until[person] = max(last, until.get(person, last))
    people = by_ids(store, list(until))
    return [(people[ref], last) for ref, last in sorted(until.items()) if people[ref].status not in words.GONE]


def clinicians(store: Store) -> list[tuple[str, int]]:
    """Every clinician who has people at present, with how many are followed."""
    where, values = _followed(())
    rows = store.all(
        f'SELECT "clinician_now", COUNT(*) FROM people WHERE {where} GROUP BY "clinician_now"', *values
    )
    return sorted((str(name), int(number)) for name, number in rows)


def free_reference(store: Store, like: str = "P") -> str:
    """A reference for a new person that is not used yet: P-0001, P-0002 ..."""
    taken = {row[0] for row in store.all('SELECT "person" FROM people WHERE "person" LIKE ?', f"{like}-%")}
    return next(ref for number in range(1, 10**9) if (ref := f"{like}-{number:04d}") not in taken)


def _followed(clinicians: Sequence[str]) -> tuple[str, list[str]]:
    marks = ", ".join("?" * len(words.GONE))
    where, values = f'"status_now" NOT IN ({marks})', list(words.GONE)
    if clinicians:
        where += f' AND "clinician_now" IN ({", ".join("?" * len(clinicians))})'
        values += clinicians
    return where, values
