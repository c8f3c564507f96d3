"""Reading the audit: who did what, when, and how things stood before and after."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Any

from caseload.store.values import instant

if TYPE_CHECKING:
    from caseload.store.store import Store

UNDO = "undo"
_COLUMNS = (
    '"id", "deed", "at", "who", "act", "what", "ref", "person", "device", "before", "after", "why", "undoes"'
)


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that one act changed."""

    id: int
    deed: str
    """The act; several entries may share it."""
    at: datetime
    """UTC."""
    who: str
    act: str
    what: str
    """A kind of fact, or a table."""
    ref: str
    person: str | None
    device: str | None
    before: dict[str, Any] | None
    """None: it was not there."""
    after: dict[str, Any] | None
    """None: it was taken away."""
    why: str
    undoes: str | None


def entries(store: Store, *, person: str = "", limit: int = 200, older_than: int | None = None) -> list[Entry]:
    """Entries, newest first, of one person or of all; `older_than`: the id to go on from."""
    where, values = ["1 = 1"], list[Any]()
    if person:
        where.append('"person" = ?')
        values.append(person)
    if older_than is not None:
        where.append('"id" < ?')
        values.append(older_than)
    return _read(store, f'WHERE {" AND ".join(where)} ORDER BY "id" DESC LIMIT ?', *values, limit)


def deed(store: Store, name: str) -> list[Entry]:
    """The entries of one act, in order."""
    return _read(store, 'WHERE "deed" = ? ORDER BY "id"', name)


def last_deed(store: Store, who: str) -> list[Entry]:
    """The entries of the last act of a person that was not undone and undoes nothing; [] if none."""
    row = store.one(
        'SELECT a."deed" FROM audit a WHERE a."who" = ? AND a."undoes" IS NULL AND NOT EXISTS'
        ' (SELECT 1 FROM audit u WHERE u."who" = a."who" AND u."undoes" = a."deed")'
        ' ORDER BY a."id" DESC LIMIT 1',
        who,
    )
    return deed(store, row[0]) if row else []


def since(store: Store, entry: Entry) -> Entry | None:
    """The first thing done about the same person after an entry that still stands, or None."""
    if entry.person is None:
        return None
    found = _read(
        store,
        'AS a WHERE a."person" = ? AND a."id" > ? AND a."deed" <> ? AND a."undoes" IS NULL AND NOT EXISTS'
        ' (SELECT 1 FROM audit u WHERE u."undoes" = a."deed") ORDER BY a."id" LIMIT 1',
        entry.person,
        entry.id,
        entry.deed,
    )
    return found[0] if found else None


def _read(store: Store, rest: str, *values: Any) -> list[Entry]:
    return [_entry(*row) for row in store.all(f"SELECT {_COLUMNS} FROM audit {rest}", *values)]


def _entry(id_: int, deed: str, at: Any, who: str, act: str, what: str, ref: str, *row: Any) -> Entry:
    person, device, before, after, why, undoes = row
    return Entry(
        id_, deed, instant(at), who, act, what, ref, person, device, _state(before), _state(after), why, undoes
    )


def _state(text: str | None) -> dict[str, Any] | None:
    return None if text is None else json.loads(text)
