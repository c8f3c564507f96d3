"""Reading the ledger: what is owed, by list, person or kind. Order of work is the rules' business.

A row is owed on a day from its start until the day it is done or cancelled; so the lists are right for
any `on`, also one in the past.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from caseload.records.followups import FollowUp
from caseload.rules import checks
from caseload.rules.order import Risk
from caseload.store.cases import case as read_case
from caseload.store.mapping import FOLLOW_UP_COLUMNS, follow_up_of
from caseload.store.values import iso_day

if TYPE_CHECKING:
    from caseload.store.store import Store


@dataclass(frozen=True, slots=True)
class Listed:
    """A follow-up as a list needs it: with whose it is and what orders it."""

    row: FollowUp
    name: str
    """Family name first."""
    clinician: str
    """At present."""
    site: str
    risk: Risk
    """(foot-risk category, vulnerable skin) on the day."""


_FEW = 500
"""Up to so many people are asked for by name; for more it is simpler to read everybody's."""
_COLUMNS = ", ".join(f"f.{name}" for name in FOLLOW_UP_COLUMNS.split(", "))
_LISTED = (
    f'SELECT {_COLUMNS}, p."family_name", p."given_name", p."foot_risk_now", p."vulnerable_now"'
    ' FROM follow_ups f JOIN people p ON p."person" = f."person"'
)


def of_person(store: Store, person: str) -> list[FollowUp]:
    """Every row of one person there ever was, by due date."""
    rows = store.all(
        f'SELECT {FOLLOW_UP_COLUMNS} FROM follow_ups WHERE "person" = ? ORDER BY "due", "id"', person
    )
    return [follow_up_of(row) for row in rows]


def listed(
    store: Store,
    on: date,
    *,
    clinicians: Sequence[str] = (),
    site: str = "",
    person: str = "",
    kind: str = "",
    opens_by: date | None = None,
    due_by: date | None = None,
    ended_too: bool = False,
) -> list[Listed]:
    """The rows not ended on a day (`ended_too`: all there are), narrowed by what is given; in no order."""
    where: list[str] = []
    values: list[Any] = []
    for sql, value in (
        ('f."site" = ?', site),
        ('f."person" = ?', person),
        ('f."kind" = ?', kind),
        ('f."owed_until" > ?', None if ended_too else iso_day(on)),
        ('f."opens" <= ?', opens_by and iso_day(opens_by)),
        ('f."due" <= ?', due_by and iso_day(due_by)),
    ):
        if value:
            where.append(sql)
            values.append(value)
    if clinicians:
        where.append(f'f."clinician" IN ({", ".join("?" * len(clinicians))})')
        values += clinicians
    return _read(store, on, f"{_LISTED} WHERE {' AND '.join(where) or '1 = 1'}", values)


def week(store: Store, clinicians: Sequence[str], on: date, opens_by: date) -> list[Listed]:
    """What stands on the list of these clinicians: their rows open by a day, and every tier 1 row of
    the sites their people are at, whoever's it is. In no order.
    """
    own = listed(store, on, clinicians=clinicians, opens_by=opens_by)
    here = sites(store, clinicians)
    if not here:
        return own
    theirs = set(clinicians)
    marks = ", ".join("?" * len(here))
    first = _read(
        store,
        on,
        f'{_LISTED} WHERE f."site" IN ({marks}) AND f."tier" = 1 AND f."owed_until" > ?',
        [*here, iso_day(on)],
    )
    return own + [each for each in first if each.clinician not in theirs]


def sites(store: Store, clinicians: Sequence[str]) -> list[str]:
    """The sites at which people of these clinicians are."""
    marks = ", ".join("?" * len(clinicians))
    rows = store.all(f'SELECT DISTINCT "site_now" FROM people WHERE "clinician_now" IN ({marks})', *clinicians)
    return sorted(row[0] for row in rows)


@dataclass(frozen=True, slots=True)
class Counts:
    """How a list stands on a day, in rows."""

    urgent: int = 0
    """Tier 1, not done."""
    missed: int = 0
    late: int = 0
    due: int = 0
    """Due by the day asked for, and not late."""
    waiting: int = 0
    """Not open yet."""


def counts(store: Store, clinicians: Sequence[str], on: date, due_by: date) -> Counts:
    """The counts of the lists of these clinicians, without reading the rows."""
    marks = ", ".join("?" * len(clinicians))
    row = store.one(
        'SELECT SUM(CASE WHEN "tier" = 1 THEN 1 ELSE 0 END),'
        ' SUM(CASE WHEN "last_day" < ? THEN 1 ELSE 0 END),'
        ' SUM(CASE WHEN "due" < ? AND "last_day" >= ? THEN 1 ELSE 0 END),'
        ' SUM(CASE WHEN "due" >= ? AND "due" <= ? THEN 1 ELSE 0 END),'
        ' SUM(CASE WHEN "opens" > ? THEN 1 ELSE 0 END)'
        f' FROM follow_ups WHERE "clinician" IN ({marks}) AND "owed_until" > ?',
        *[iso_day(day) for day in (on, on, on, on, due_by, on)],
        *clinicians,
        iso_day(on),
    )
    return Counts(*(int(value or 0) for value in row or ()))


@dataclass(frozen=True, slots=True)
class Booked:
    """An appointment on or after a day that is not cancelled."""

    person: str
    device: str
    request: str
    kind: str
    on: date
    starts: str
    status: str

    def is_for(self, row: FollowUp) -> bool:
        """Whether it is what this follow-up waits for."""
        if self.person != row.person:
            return False
        if self.request:
            return row.kind == "adjustment" and row.cause == self.request
        return (not self.kind or self.kind == row.kind) and (not self.device or self.device == row.device)


def booked(store: Store, on: date, persons: Iterable[str] | None = None) -> dict[str, list[Booked]]:
    """The appointments from a day on by person, each list earliest first; of those persons at least."""
    from caseload.store.values import day

    few = None if persons is None else sorted(set(persons))
    if few is not None and len(few) > _FEW:
        few = None
    theirs = "" if few is None else f' AND b."person" IN ({", ".join("?" * len(few))})'
    rows = store.all(
        'SELECT b."person", b."device", b."request", b."kind", COALESCE(b."on", s."on") AS day,'
        ' CASE WHEN b."starts" <> \'\' THEN b."starts" ELSE COALESCE(s."starts", \'\') END AS hour, b."status"'
        ' FROM bookings b LEFT JOIN sessions s ON s."session" = b."session"'
        ' WHERE b."status" <> \'cancelled\' AND b."outcome" = \'\' AND COALESCE(b."on", s."on") >= ?'
        f' AND s."cancelled_on" IS NULL{theirs} ORDER BY day, hour, b."booking"',
        iso_day(on),
        *(few or ()),
    )
    found: dict[str, list[Booked]] = {}
    for person, device, request, kind, when, starts, status in rows:
        appointment = Booked(person, device or "", request or "", kind, day(when), starts, status)
        found.setdefault(person, []).append(appointment)
    return found


def risks(store: Store, on: date) -> dict[str, Risk]:
    """The risk of those for whom it is another at present than on the day."""
    later = store.all(
        'SELECT "person" FROM facts WHERE "kind" = \'change\' AND "on" > ? AND "struck_on" IS NULL',
        iso_day(on),
    )
    found = {}
    for person in dict.fromkeys(row[0] for row in later):
        case = read_case(store, person)
        if case is not None:
            known = checks.attributes(case)
            found[person] = (int(known.on("foot_risk", on) or 0), known.vulnerable(on))
    return found


def _read(store: Store, on: date, sql: str, values: Sequence[Any]) -> list[Listed]:
    then = risks(store, on)
    return [
        Listed(
            follow_up_of(row),
            f"{row[19]}, {row[20]}".strip(", "),
            row[17],
            row[18],
            then.get(row[0]) or (int(row[21] or 0), bool(row[22])),
        )
        for row in store.all(sql, *values)
    ]
