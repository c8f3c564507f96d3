"""The questions the screens ask of the database: plain functions, run on its own thread.

Each gets the store first and gives back plain records, so that nothing of the database reaches a screen.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from caseload.records import words
from caseload.records.case import Case
from caseload.records.followups import FollowUp
from caseload.rules.calendar import Calendar
from caseload.rules.order import sort_key
from caseload.rules.protocol import Protocol
from caseload.store import audit, cases, clinic, owed, people
from caseload.store.owed import Booked
from caseload.words.list import Listed, Quiet, Section, sections

if TYPE_CHECKING:
    from caseload.store.store import Store

SOON = timedelta(days=14)
"""How far ahead a list shows what opens."""


@dataclass(frozen=True, slots=True)
class Whose:
    """Whose list: a clinician's, a site's, or everyone's when both are empty."""

    clinician: str = ""
    site: str = ""

    @property
    def name(self) -> str:
        return self.clinician or self.site or "Everyone"


@dataclass(frozen=True, slots=True)
class WeekSeen:
    """A list as it stands on a day."""

    whose: Whose
    people: int
    sections: tuple[Section, ...]
    rows: tuple[FollowUp, ...]
    """The follow-ups of the list itself, for the line of counts."""
    quiet: Quiet
    sites: tuple[str, ...]
    empty: bool
    """Whether there is nobody in the database at all."""


@dataclass(frozen=True, slots=True)
class Seen:
    """One person as a screen shows them, and what was in force when they were read."""

    case: Case
    version: int
    rows: tuple[FollowUp, ...]
    """Every follow-up there ever was, ended ones too."""
    booked: tuple[Booked, ...]
    protocol: Protocol
    staffed: date | None
    """The next working day, when tomorrow is none."""


def lists(store: Store) -> tuple[tuple[Whose, int], ...]:
    """The lists there are, with the people on each: clinicians, then sites, then everyone."""
    clinicians = people.clinicians(store)
    found = [(Whose(clinician=name), number) for name, number in clinicians if name]
    found += [(Whose(site=name), people_at(store, name)) for name in all_sites(store)]
    return (*found, (Whose(), people.how_many(store)))


def all_sites(store: Store) -> list[str]:
    """The sites at which people are at present."""
    table = store.tables.People
    rows = store.query(table.select(table.site_now).distinct().where(table.site_now != ""))
    return sorted(row[0] for row in rows)


def people_at(store: Store, site: str) -> int:
    """How many people are at a site."""
    table = store.tables.People
    followed = table.status_now.not_in(words.GONE)
    return len(store.query(table.select(table.person).where((table.site_now == site) & followed)))


def first_list(store: Store, who: str, demo: bool) -> Whose:
    """The list to begin with: one's own, in the demo the first clinician's, else everyone's."""
    names = [name for name, _ in people.clinicians(store) if name]
    own = next((name for name in names if name.casefold() == who.casefold()), "")
    return Whose(clinician=own or (names[0] if demo and names else ""))


def week(store: Store, whose: Whose | None, who: str, today: date, demo: bool = False) -> WeekSeen:
    """A list in order of work, with what makes an empty one honest."""
    if whose is None:
        whose = first_list(store, who, demo)
    clinicians = [whose.clinician, *clinic.covered_by(store, whose.clinician, today)] if whose.clinician else []
    soon = today + SOON
    if whose.clinician:
        found = owed.week(store, clinicians, today, soon)
    else:
        found = owed.listed(store, today, site=whose.site, opens_by=soon)
    ordered = sorted(found, key=lambda each: sort_key(each.row, today, each.risk))
    named = device_names(store, (each.row.device for each in ordered))
    booked = owed.booked(store, today, {each.row.person for each in ordered})
    seen = [
        Listed(
            each.row,
            each.name,
            named.get(each.row.device or "", ""),
            each.clinician,
            each.site,
            _first(booked, each.row),
        )
        for each in ordered
    ]
    sites = tuple(owed.sites(store, clinicians)) if whose.clinician else (whose.site,) if whose.site else ()
    own = tuple(each.row for each in ordered if not clinicians or each.clinician in clinicians)
    number = people_at(store, whose.site) if whose.site else people.how_many(store, clinicians)
    quiet = Quiet(
        number,
        _next_opens(store, whose, today),
        len(
            [
                found
                for found in people.in_no_clock(store, clinicians)
                if not whose.site or found.site == whose.site
            ]
        ),
        len(
            [
                each
                for each, _ in people.paused(store, today, clinicians)
                if not whose.site or each.site == whose.site
            ]
        ),
    )
    at = " and ".join(site for site in sites if site)
    return WeekSeen(whose, number, sections(seen, today, whose.name, at), own, quiet, sites, is_empty(store))


def is_empty(store: Store) -> bool:
    """Whether nobody is on record."""
    return store.one("SELECT 1 FROM people LIMIT 1") is None


def _first(booked: dict[str, list[Booked]], row: FollowUp) -> date | None:
    return next((each.on for each in booked.get(row.person, ()) if each.is_for(row)), None)


def _next_opens(store: Store, whose: Whose, today: date) -> date | None:
    """The first day after today on which something of the list opens."""
    table = store.tables.FollowUps
    query = table.select(table.opens).where((table.opens > today) & (table.owed_until > today))
    if whose.clinician:
        query = query.where(table.clinician == whose.clinician)
    if whose.site:
        query = query.where(table.site == whose.site)
    rows = store.query(query.order_by(table.opens).limit(1))
    return date.fromisoformat(str(rows[0][0])) if rows else None


def device_names(store: Store, devices: Iterable[str | None]) -> dict[str, str]:
    """`LEFT AFO` by reference, read a few hundred at a time."""
    wanted = sorted({device for device in devices if device})
    table = store.tables.Devices
    found: dict[str, str] = {}
    for begin in range(0, len(wanted), 400):
        some = wanted[begin : begin + 400]
        rows = store.query(table.select(table.device, table.side, table.orthosis).where(table.device.in_(some)))
        found |= {device: f"{side.upper()} {orthosis}" for device, side, orthosis in rows}
    return found


def person(store: Store, reference: str, today: date) -> Seen | None:
    """All there is to show of one person, or None if they are not on record."""
    case = cases.case(store, reference)
    known = people.person(store, reference)
    if case is None or known is None:
        return None
    book = next(
        (book for book in reversed(store.rulebooks) if book.protocol.first_day <= today), store.rulebooks[0]
    )
    return Seen(
        case,
        known[1],
        tuple(owed.of_person(store, reference)),
        tuple(owed.booked(store, today, [reference]).get(reference, ())),
        book.protocol,
        next_staffed(book.calendar, today, _site(case, today)),
    )


def next_staffed(calendar: Calendar, today: date, site: str) -> date | None:
    """The next working day, when tomorrow is none; None when somebody is there tomorrow."""
    tomorrow = today + timedelta(days=1)
    return None if calendar.is_working(tomorrow, site) else calendar.add(today, 1, site)


def _site(case: Case, today: date) -> str:
    from caseload.rules.attributes import Attributes

    changes = sorted((fact for fact in case.counting() if fact.kind == "change"), key=lambda fact: fact.on)
    return Attributes(case.person, changes).on("site", today)


def find(store: Store, typed: str) -> list[str]:
    """The references that fit what was typed, in order of names."""
    return people.find_ids(store, typed)


def by_ids(store: Store, references: Sequence[str]) -> dict[str, Any]:
    """The people of a stretch of a long list."""
    return people.by_ids(store, references)


def names(store: Store) -> dict[str, tuple[str, ...]]:
    """The names in use: `clinician`, `site`."""
    clinicians = tuple(name for name, _ in people.clinicians(store) if name)
    return {"clinician": clinicians, "site": tuple(all_sites(store))}


def for_new_person(store: Store) -> tuple[str, dict[str, tuple[str, ...]]]:
    """A free reference, and the clinicians and sites there are."""
    return next_reference(people.find_ids(store)) or people.free_reference(store), names(store)


def next_reference(taken: Sequence[str]) -> str:
    """The reference after the last, in the clinic's own way of writing them: P0065 after P0064; or empty.

    A second way of writing beside the first (P-0001 beside P0001) would make two people easy to mistake.
    """
    parts = [match.groups() for reference in taken if (match := re.fullmatch(r"(.*?)(\d{1,9})", reference))]
    if not parts:
        return ""
    (before, width), _ = Counter((before, len(number)) for before, number in parts).most_common(1)[0]
    last = max(int(number) for start, number in parts if start == before)
    return f"{before}{last + 1:0{width}d}"


def device_version(store: Store, reference: str) -> int:
    """The version of a device on record; 0 when there is none."""
    known = people.device(store, reference)
    return known[1] if known else 0


def protocol(store: Store, today: date) -> tuple[Protocol, str]:
    """The protocol in force on a day, and the region whose holidays count."""
    book = next(
        (book for book in reversed(store.rulebooks) if book.protocol.first_day <= today), store.rulebooks[0]
    )
    return book.protocol, store.holidays or book.protocol.region


def last_deed(store: Store, who: str) -> tuple[str, str] | None:
    """The last act of a person that could be taken back: its name, and what it was in words."""
    entries = audit.last_deed(store, who)
    if not entries:
        return None
    first = entries[0]
    more = f" and {len(entries) - 1} more" if len(entries) > 1 else ""
    known = people.person(store, first.person) if first.person else None
    about = f" of {known[0].name} ({first.person})" if known else ""
    what = _TABLES.get(first.what, first.what.replace("_", " "))
    return first.deed, f"{what}{more}{about}, {_DEEDS.get(first.act.split()[0], first.act)}"


_TABLES = {"people": "details", "devices": "device", "absences": "absence", "closures": "closure"}
_DEEDS = {
    "record": "recorded",
    "amend": "corrected",
    "complete": "completed",
    "strike": "struck out",
    "new": "entered",
    "edit": "changed",
    "remove": "removed",
    "load": "brought in",
}
"""What an act did, by its first word."""
