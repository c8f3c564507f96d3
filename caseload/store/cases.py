"""Reading cases: one person with all devices and facts, or many in a few ordered reads."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from caseload.records.case import Case
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, Fact
from caseload.records.people import Person
from caseload.store.mapping import FACT_COLUMNS, fact_of, from_row, names

if TYPE_CHECKING:
    from caseload.store.store import Store

_AT_A_TIME = 400
"""People per read: enough for speed, few enough to hold."""


def case(store: Store, person: str) -> Case | None:
    """One case, or None if there is no such person."""
    row = store.one(f'SELECT {names(Person)} FROM people WHERE "person" = ?', person)
    if row is None:
        return None
    devices = store.all(f'SELECT {names(Device)} FROM devices WHERE "person" = ? ORDER BY "device"', person)
    facts = store.all(f'SELECT {FACT_COLUMNS} FROM facts WHERE "person" = ? ORDER BY "seq"', person)
    return Case(
        from_row(Person, row),
        tuple(from_row(Device, each) for each in devices),
        tuple(fact_of(each) for each in facts),
    )


def cases(store: Store) -> Iterator[list[Case]]:
    """All cases in order of reference, some hundred at a time."""
    after = ""
    while True:
        people = store.all(
            f'SELECT {names(Person)} FROM people WHERE "person" > ? ORDER BY "person" LIMIT ?',
            after,
            _AT_A_TIME,
        )
        if not people:
            return
        first, after = people[0][0], people[-1][0]
        devices: dict[str, list[Device]] = {}
        for row in store.each(
            f'SELECT {names(Device)} FROM devices WHERE "person" BETWEEN ? AND ? ORDER BY "device"',
            first,
            after,
        ):
            devices.setdefault(row[1], []).append(from_row(Device, row))
        facts: dict[str, list[Fact]] = {}
        for row in store.each(
            f'SELECT {FACT_COLUMNS} FROM facts WHERE "person" BETWEEN ? AND ? ORDER BY "person", "seq"',
            first,
            after,
        ):
            facts.setdefault(row[2], []).append(fact_of(row))
        yield [
            Case(from_row(Person, row), tuple(devices.get(row[0], ())), tuple(facts.get(row[0], ())))
            for row in people
        ]


def fact(store: Store, fact_id: str) -> Fact | None:
    """One fact by its id."""
    row = store.one(f'SELECT {FACT_COLUMNS} FROM facts WHERE "id" = ?', fact_id)
    return None if row is None else fact_of(row)


def facts_of_kind(store: Store, kind: str) -> list[Fact]:
    """All counting facts of one kind, in the order recorded; changes and pauses are found by an index."""
    # The kind stands in the text itself, and `+` before the order: only then is the partial index used.
    name = BY_NAME[kind].name
    rows = store.all(
        f'SELECT {FACT_COLUMNS} FROM facts WHERE "kind" = \'{name}\' AND "struck_on" IS NULL ORDER BY +"seq"'
    )
    return [fact_of(row) for row in rows]


def free_reference(store: Store, kind: str, like: str) -> str:
    """A reference for a new request or escalation that is not used yet: Q-0001, Q-0002 ..."""
    taken = {
        row[0]
        for row in store.all(
            'SELECT "reference" FROM facts WHERE "kind" = ? AND "reference" LIKE ?', kind, f"{like}-%"
        )
    }
    return next(ref for number in range(1, 10**9) if (ref := f"{like}-{number:04d}") not in taken)
