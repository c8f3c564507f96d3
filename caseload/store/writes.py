"""Adding and changing rows, inside a write transaction. Whoever calls it writes the audit and rebuilds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from caseload.errors import Changed
from caseload.records import sheets
from caseload.records.columns import columns
from caseload.records.facts import Fact
from caseload.records.people import Person
from caseload.store.folding import folded_person
from caseload.store.mapping import FACT_COLUMNS, fact_row, fact_rows, from_row, marks, names, to_row
from caseload.store.values import once

if TYPE_CHECKING:
    from caseload.store.store import Store

TABLES = {sheet.record: sheet for sheet in sheets.SHEETS if sheet.fact is None}
"""Records that have a table of their own, with the sheet that names their key."""
_ADD_FACT = f"INSERT INTO facts ({FACT_COLUMNS}) VALUES ({marks(FACT_COLUMNS)})"
_SET_FACT = (
    "UPDATE facts SET "
    + ", ".join(f"{name} = ?" for name in FACT_COLUMNS.split(", "))
    + ' WHERE "id" = ? AND "version" = ?'
)


def key_of(record: Any) -> tuple[Any, ...]:
    """The values that name a record of a table."""
    return tuple(getattr(record, name) for name in TABLES[type(record)].key)


def reference(record: Any) -> str:
    """The key as one text, for the audit."""
    return " ".join(str(value) for value in key_of(record)).strip()


def add(store: Store, records: Sequence[Any]) -> None:
    """Add records of one kind that has a table of its own: people, devices, sessions ..."""
    if not records:
        return
    record = type(records[0])
    if record is Person:
        store.many(_adding(record, _PERSON_MORE), ([*to_row(each), *_of_person(each), 1] for each in records))
    else:
        store.many(_adding(record, ("version",)), ([*to_row(each), 1] for each in records))


_PERSON_MORE = (
    "folded",
    "site_now",
    "clinician_now",
    "status_now",
    "foot_risk_now",
    "vulnerable_now",
    "version",
)


def _of_person(person: Person) -> list[Any]:
    """What is kept beside a person's own columns; a rebuild brings it up to date with the changes."""
    folded = folded_person(person.family_name, person.given_name, person.person)
    return [folded, person.site, person.clinician, "active", person.foot_risk, 0]


@once
def _adding(record: type[Any], more: tuple[str, ...]) -> str:
    quoted = ", ".join([names(record), *(f'"{name}"' for name in more)])
    return f"INSERT INTO {TABLES[record].name} ({quoted}) VALUES ({marks(quoted)})"


def found(store: Store, record: type[Any], key: tuple[Any, ...]) -> tuple[Any, int] | None:
    """A record with its version, or None."""
    sheet = TABLES[record]
    row = store.one(
        f'SELECT {names(record)}, "version" FROM {sheet.name} WHERE {_where(sheet.key)}', *_encoded(key)
    )
    return None if row is None else (from_row(record, row), row[-1])


def replace(store: Store, record: Any, version: int) -> None:
    """Put a record in the place of the one of the same key, if that is still of this version.

    Raises Changed with both if somebody else was faster.
    """
    sheet = TABLES[type(record)]
    sets = [f'"{told.name}" = ?' for told in columns(type(record))]
    values = to_row(record)
    if isinstance(record, Person):
        sets.append('"folded" = ?')
        values.append(folded_person(record.family_name, record.given_name, record.person))
    done = store.run(
        f'UPDATE {sheet.name} SET {", ".join(sets)}, "version" = "version" + 1'
        f' WHERE {_where(sheet.key)} AND "version" = ?',
        *values,
        *_encoded(key_of(record)),
        version,
    )
    if not done:
        theirs = found(store, type(record), key_of(record))
        raise Changed(" ".join(map(str, key_of(record))), record, theirs and theirs[0])


def remove(store: Store, record: type[Any], key: tuple[Any, ...]) -> None:
    """Take a record away: only for undoing that it was added, or for plans that lie ahead."""
    sheet = TABLES[record]
    store.run(f"DELETE FROM {sheet.name} WHERE {_where(sheet.key)}", *_encoded(key))


def add_facts(store: Store, facts: Sequence[Fact]) -> None:
    """Add facts, in the order given."""
    store.many(_ADD_FACT, fact_rows(facts))


def replace_fact(store: Store, fact: Fact) -> None:
    """Put a fact in the place of the version before it; Changed if that is no longer the one on record."""
    from caseload.store.cases import fact as read_fact

    if not store.run(_SET_FACT, *fact_row(fact), fact.id, fact.version - 1):
        raise Changed(f"the {fact.kind} of {fact.on}", fact, read_fact(store, fact.id))


def _where(key: Sequence[str]) -> str:
    return " AND ".join(f'"{name}" = ?' for name in key)


def _encoded(key: Sequence[Any]) -> list[Any]:
    return [value if isinstance(value, str) else value.isoformat() for value in key]
