"""The clinic's time: sessions and bookings, who is absent and who covers, when the clinic is closed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, TypeVar

from caseload.acts.desk import Desk
from caseload.errors import Changed, Problem, Refused
from caseload.records.columns import columns
from caseload.records.sessions import Absence, Booking, Closure, Session
from caseload.rules import checks
from caseload.store import basis, cases, writes
from caseload.store.ledger import Progress

_R = TypeVar("_R", Session, Booking, Absence, Closure)
_NAMED = {Session: "session", Booking: "booking", Absence: "absence", Closure: "closure"}


def add_session(desk: Desk, values: Mapping[str, Any]) -> Session:
    """Add a session. Raises Refused with every problem."""
    return _add(desk, Session, values)


def edit_session(desk: Desk, session: str, version: int, values: Mapping[str, Any]) -> Session:
    """Change a session. Raises Refused, or Changed when `version` is not the one on record."""
    return _edit(desk, Session, (session,), version, values)


def cancel_session(desk: Desk, session: str, version: int, reason: str) -> Session:
    """Cancel a session; its bookings stay until they are moved or cancelled."""
    if not reason.strip():
        raise Refused([Problem("Cancelling a session needs a reason.", "cancelled_reason")])
    return edit_session(desk, session, version, {"cancelled_on": desk.today, "cancelled_reason": reason})


def add_booking(desk: Desk, values: Mapping[str, Any]) -> Booking:
    """Offer or confirm an appointment. Raises Refused with every problem."""
    return _add(desk, Booking, values)


def edit_booking(desk: Desk, booking: str, version: int, values: Mapping[str, Any]) -> Booking:
    """Move, confirm or cancel an appointment. Raises Refused, or Changed on a lost race."""
    return _edit(desk, Booking, (booking,), version, values)


def add_absence(desk: Desk, values: Mapping[str, Any]) -> Absence:
    """Say that somebody will be absent, and who looks after their list."""
    return _add(desk, Absence, values)


def remove_absence(desk: Desk, absence: Absence) -> None:
    """Take an absence back."""
    with desk.act("remove absence") as work:
        if writes.found(desk.store, Absence, writes.key_of(absence)) is None:
            raise Changed(f"the absence of {absence.who}", absence, None)
        work.remove(absence)


def add_closure(desk: Desk, values: Mapping[str, Any], progress: Progress | None = None) -> Closure:
    """Close the clinic, or a site, on a day; every date is worked out again."""
    return _add(desk, Closure, values, progress)


def remove_closure(desk: Desk, closure: Closure, progress: Progress | None = None) -> None:
    """Open again on a day; every date is worked out again."""
    with desk.act("remove closure") as work:
        if writes.found(desk.store, Closure, writes.key_of(closure)) is None:
            raise Changed(f"the closure on {closure.on}", closure, None)
        work.remove(closure)
        work.everyone, work.progress = True, progress
        basis.changed(desk.store)


def problems_of(desk: Desk, record: Any) -> list[Problem]:
    """What is wrong with a record of the clinic's time beyond its single values."""
    if isinstance(record, Absence):
        wrong = record.last < record.first
        return [Problem("An absence cannot end before it begins.", "last")] if wrong else []
    if isinstance(record, Session):
        wrong = (record.kept_free or 0) > record.minutes
        return [Problem("No more can be kept free than there is.", "kept_free")] if wrong else []
    if isinstance(record, Booking):
        return _of_booking(desk, record)
    return []


def _of_booking(desk: Desk, booking: Booking) -> list[Problem]:
    found = []
    if not booking.session and booking.on is None:
        found.append(Problem("A booking needs a session or a date.", "on"))
    if booking.session and writes.found(desk.store, Session, (booking.session,)) is None:
        found.append(Problem(f"There is no session {booking.session[:60]}.", "session"))
    case = cases.case(desk.store, booking.person)
    if case is None:
        return [*found, Problem(f"There is no person {booking.person[:60]}.", "person")]
    if booking.device and booking.device not in {device.device for device in case.devices}:
        found.append(Problem(f"{booking.device[:60]} is no device of {booking.person}.", "device"))
    asked = {fact.body.request for fact in case.counting() if fact.kind == "adjustment request"}
    if booking.request and booking.request not in asked:
        found.append(Problem(f"{booking.request[:60]} is no request of {booking.person}.", "request"))
    return found


def _add(desk: Desk, record: type[_R], values: Mapping[str, Any], progress: Progress | None = None) -> _R:
    made, problems = checks.made(record, values, desk.today)
    if made is None:
        raise Refused(problems)
    with desk.act(f"new {_NAMED[record]}") as work:
        problems = problems_of(desk, made)
        if writes.found(desk.store, record, writes.key_of(made)) is not None:
            key = writes.TABLES[record].key[0]
            problems.append(Problem(f"There is a {_NAMED[record]} {writes.reference(made)[:60]} already.", key))
        if problems:
            raise Refused(problems)
        work.add(made, person=getattr(made, "person", None), device=getattr(made, "device", None) or None)
        if record is Closure:
            work.everyone, work.progress = True, progress
            basis.changed(desk.store)
    return made  # type: ignore[no-any-return]


def _edit(desk: Desk, record: type[_R], key: tuple[Any, ...], version: int, values: Mapping[str, Any]) -> _R:
    on_record = writes.found(desk.store, record, key)
    if on_record is None:
        raise Refused([f"There is no {_NAMED[record]} {key[0]}."])
    before, now = on_record
    wanted = {told.name: getattr(before, told.name) for told in columns(record)} | dict(values)
    after, problems = checks.made(record, wanted, desk.today)
    if after is None:
        raise Refused(problems)
    if writes.key_of(after) != key:
        raise Refused([Problem("A reference is never changed.", writes.TABLES[record].key[0])])
    if now != version:
        raise Changed(f"the {_NAMED[record]} {key[0]}", replace(after), before)
    with desk.act(f"edit {_NAMED[record]}") as work:
        if problems := problems_of(desk, after):
            raise Refused(problems)
        work.replace(before, after, version, person=getattr(after, "person", None))
    return after  # type: ignore[no-any-return]
