"""The stored ledger: what the rules make of each case, kept so that lists are quick to read.

The facts are the truth; a rebuild always gives the same rows. Only what differs is written.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from caseload.errors import Cancelled
from caseload.records.case import Case
from caseload.records.devices import Device
from caseload.records.followups import FollowUp
from caseload.records.people import Person
from caseload.store.cases import cases as read_cases
from caseload.store.mapping import FOLLOW_UP_COLUMNS, follow_up_of, marks
from caseload.store.working_out import Batch, worked_out

if TYPE_CHECKING:
    from caseload.store.store import Store

Progress = Callable[[int, int], None]
"""Told how many people are done, of how many."""
_STORED = f'SELECT "id", {FOLLOW_UP_COLUMNS} FROM follow_ups'
_ADD = f"INSERT INTO follow_ups ({FOLLOW_UP_COLUMNS}) VALUES ({marks(FOLLOW_UP_COLUMNS)})"
_NOW = '"site_now", "clinician_now", "status_now", "foot_risk_now", "vulnerable_now"'
_SET_NOW = (
    'UPDATE people SET "site_now" = ?, "clinician_now" = ?, "status_now" = ?, "foot_risk_now" = ?,'
    ' "vulnerable_now" = ? WHERE "person" = ?'
)


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """The follow-ups of one person before and after an act."""

    after: tuple[FollowUp, ...]
    _stored: list[Any]

    @property
    def before(self) -> tuple[FollowUp, ...]:
        """Made when asked for: it costs as much as a third of the act, and a script does not ask."""
        return tuple(follow_up_of(row[1:]) for row in self._stored)


def rebuild(store: Store, case: Case) -> Rebuilt:
    """Rebuild the rows of one person, inside a write transaction."""
    person = case.person.person
    stored = store.all(f'{_STORED} WHERE "person" = ?', person)
    after, wanted, now = worked_out(case, store.rulebooks)
    gone, added = _difference(stored, wanted)
    if gone or added:
        _write(store, gone, added)
    if store.one(f'SELECT {_NOW} FROM people WHERE "person" = ?', person) != now:
        store.run(_SET_NOW, *now, person)
    return Rebuilt(after, stored)


def rebuild_all(
    store: Store,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> int:
    """Rebuild every row there is, inside a write transaction; how many rows were written anew.

    Raises Cancelled, and the transaction with it is undone, once `cancelled()` says so.
    """
    total = (store.one("SELECT COUNT(*) FROM people") or (0,))[0]
    done = written = 0
    for batch in read_cases(store):
        first, last = batch[0].person.person, batch[-1].person.person
        stored: dict[str, list[Any]] = {}
        for row in store.each(f'{_STORED} WHERE "person" BETWEEN ? AND ?', first, last):
            stored.setdefault(row[1], []).append(row)
        written += _rebuild_batch(store, batch, stored)
        done += len(batch)
        _tell(done, total, progress, cancelled)
    return written


def forget(store: Store, record: Any) -> None:
    """Take away the rows of a person or device that is about to be taken away: they stand on it."""
    if isinstance(record, Person):
        store.run('DELETE FROM follow_ups WHERE "person" = ?', record.person)
    elif isinstance(record, Device):
        store.run('DELETE FROM follow_ups WHERE "person" = ? AND "device" = ?', record.person, record.device)


def write_new(
    store: Store,
    worked: Iterable[Batch],
    total: int,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> None:
    """Write the rows of people who have none yet, as `batches` gives them; else as `rebuild_all`."""
    done = 0
    for batch in worked:
        _write(store, [], [row for _, rows, _ in batch for row in rows])
        store.many(_SET_NOW, [(*now, person) for person, _, now in batch])
        done += len(batch)
        _tell(done, total, progress, cancelled)


def _rebuild_batch(store: Store, batch: list[Case], stored: dict[str, list[Any]]) -> int:
    gone, added, nows = [], [], []
    for case in batch:
        _, wanted, now = worked_out(case, store.rulebooks)
        less, more = _difference(stored.get(case.person.person, []), wanted)
        gone += less
        added += more
        nows.append((*now, case.person.person))
    _write(store, gone, added)
    store.many(_SET_NOW, nows)
    return len(added)


def _difference(stored: list[Any], wanted: list[Any]) -> tuple[list[Any], list[Any]]:
    """(ids to remove, rows to add): equal rows stay where they are."""
    if not stored:
        return [], wanted
    missing = Counter(wanted)
    gone = []
    for id_, *values in stored:
        row = tuple(value.isoformat() if type(value) is date else value for value in values)
        if missing.get(row):
            missing[row] -= 1
        else:
            gone.append((id_,))
    return gone, list(missing.elements())


def _write(store: Store, gone: list[Any], added: list[Any]) -> None:
    if gone:
        store.many('DELETE FROM follow_ups WHERE "id" = ?', gone)
    if added:
        store.many(_ADD, added)


def _tell(done: int, total: int, progress: Progress | None, cancelled: Callable[[], bool] | None) -> None:
    if progress is not None:
        progress(done, total)
    if cancelled is not None and cancelled():
        raise Cancelled("Stopped; nothing was changed.")
