"""Reading the clinic's time: sessions, bookings, absences, closures, the protocols in use."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Any, TypeVar

from caseload.records.sessions import Absence, Booking, Closure, Session
from caseload.store.mapping import from_row, names
from caseload.store.values import day, instant, iso_day

if TYPE_CHECKING:
    from caseload.store.store import Store

_R = TypeVar("_R")


def sessions(store: Store, first: date, last: date) -> list[tuple[Session, int]]:
    """(session, version) of the sessions from a day to a day, in order of date and start."""
    return _read(
        store,
        Session,
        'sessions WHERE "on" BETWEEN ? AND ? ORDER BY "on", "starts", "session"',
        iso_day(first),
        iso_day(last),
    )


def session(store: Store, reference: str) -> tuple[Session, int] | None:
    """A session with its version, or None."""
    return next(iter(_read(store, Session, 'sessions WHERE "session" = ?', reference)), None)


def bookings(store: Store, *, session: str = "", person: str = "") -> list[tuple[Booking, int]]:
    """(booking, version) of one session, one person, or all."""
    if session:
        return _read(store, Booking, 'bookings WHERE "session" = ? ORDER BY "starts", "booking"', session)
    if person:
        return _read(store, Booking, 'bookings WHERE "person" = ? ORDER BY "on", "booking"', person)
    return _read(store, Booking, 'bookings ORDER BY "booking"')


def booking(store: Store, reference: str) -> tuple[Booking, int] | None:
    """A booking with its version, or None."""
    return next(iter(_read(store, Booking, 'bookings WHERE "booking" = ?', reference)), None)


def absences(store: Store, on: date | None = None) -> list[tuple[Absence, int]]:
    """(absence, version), of a day or all there are."""
    if on is None:
        return _read(store, Absence, 'absences ORDER BY "first", "who"')
    when = iso_day(on)
    return _read(
        store, Absence, 'absences WHERE "first" <= ? AND "last" >= ? ORDER BY "first", "who"', when, when
    )


def covered_by(store: Store, who: str, on: date) -> list[str]:
    """Whose lists a person looks after on a day besides their own."""
    return sorted({absence.who for absence, _ in absences(store, on) if absence.cover == who})


def closures(store: Store) -> list[tuple[Closure, int]]:
    """(closure, version), by day."""
    return _read(store, Closure, 'closures ORDER BY "on", "site"')


@dataclass(frozen=True, slots=True)
class Used:
    """A protocol that is or was in use."""

    version: str
    first_day: date
    text: str
    used_at: datetime
    used_by: str


def protocols(store: Store) -> list[Used]:
    """The protocols in use, in the order they were put in use, word for word."""
    return [
        Used(version, day(first), text, instant(at), by)
        for version, first, text, at, by in store.all(
            'SELECT "version", "first_day", "text", "used_at", "used_by" FROM protocols ORDER BY "id"'
        )
    ]


def _read(store: Store, record: type[_R], rest: str, *values: Any) -> list[tuple[_R, int]]:
    rows = store.all(f'SELECT {names(record)}, "version" FROM {rest}', *values)
    return [(from_row(record, row), row[-1]) for row in rows]
