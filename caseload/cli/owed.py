"""`owed`: the follow-ups in order of work."""

from __future__ import annotations

import argparse
import sys
from collections import Counter
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Any

from caseload import settings
from caseload.cli.arguments import WITHIN
from caseload.cli.place import at_desk, print_json, wants_json
from caseload.errors import Refused
from caseload.exchange.problems import did_you_mean, quoted
from caseload.plain import plain
from caseload.records.followups import FollowUp, State
from caseload.rules.order import late_days, relative_lateness, sort_key

if TYPE_CHECKING:
    from caseload.store.owed import Booked, Listed
    from caseload.store.store import Store

NOT_OWED = (State.DONE, State.CANCELLED)


def owed(asked: argparse.Namespace) -> None:
    """Print the follow-ups asked for."""
    with at_desk(asked) as desk:
        show(asked, desk.store, desk.today)
        if not desk.store.one("SELECT 1 FROM people LIMIT 1"):  # an empty list must not read as good news
            place = settings.database(getattr(asked, "db", None)).partition("?")[0].rpartition("@")[2]
            print(plain(f"Nobody is on record yet in {place}."), file=sys.stderr)


def show(asked: argparse.Namespace, store: Store, on: date) -> None:
    """Print the follow-ups of an open database; options that were not given stand at their defaults."""
    from caseload.store import owed as ledger

    rows = listed(asked, store, on)
    appointments = ledger.booked(store, on)
    if wants_json(asked):
        print_json([as_json(each.row, on, booked_for(each.row, appointments)) for each in rows])
        return
    _print(rows, appointments, store, on)


def listed(asked: argparse.Namespace, store: Store, on: date) -> list[Listed]:
    """The rows asked for, in order of work."""
    from caseload.store import owed as ledger

    state = getattr(asked, "state", None)
    everything = getattr(asked, "all", False) or state in [each.value for each in NOT_OWED]
    clinician = _clinician(store, getattr(asked, "clinician", ""))
    person = getattr(asked, "person", "").strip()
    if person:
        _must_be_known(store, person)
    rows = ledger.listed(
        store,
        on,
        clinicians=[clinician] if clinician else [],
        person=person,
        kind=getattr(asked, "kind", None) or "",
        opens_by=None if everything else on + timedelta(days=getattr(asked, "within", WITHIN)),
        ended_too=everything,
    )
    if state:
        rows = [each for each in rows if each.row.state(on).value == state]
    return sorted(rows, key=lambda each: sort_key(each.row, on, each.risk))


def _clinician(store: Store, typed: str) -> str:
    """The clinician as on record; an empty caseload has nobody, and an empty list."""
    from caseload.store import people

    if not typed.strip():
        return ""
    known = [name for name, _ in people.clinicians(store) if name]
    by_fold = {name.casefold(): name for name in known}
    found = by_fold.get(" ".join(typed.split()).casefold())
    if found is None and known:
        hint = did_you_mean(typed, known) or f", expected one of: {', '.join(known)}"
        raise Refused([f"{quoted(typed)} has nobody on their list{hint}"])
    return found or typed


def _must_be_known(store: Store, person: str) -> None:
    from caseload.store import people

    if people.person(store, person) is None and people.how_many(store):
        hint = did_you_mean(person, people.find_ids(store)) or ", expected a person's reference"
        raise Refused([f"{quoted(person)} is nobody on record{hint}"])


def booked_for(row: FollowUp, appointments: dict[str, list[Booked]]) -> date | None:
    """The day of the earliest appointment that is for this follow-up."""
    return next((each.on for each in appointments.get(row.person, ()) if each.is_for(row)), None)


def as_json(row: FollowUp, on: date, booked: date | None = None) -> dict[str, Any]:
    """A follow-up as data: the stable form, for scripts."""
    return {
        "person": row.person,
        "device": row.device,
        "kind": row.kind.value,
        "cause": row.cause,
        "started": row.started.isoformat(),
        "opens": row.opens.isoformat(),
        "due": row.due.isoformat(),
        "last_day": row.last_day.isoformat(),
        "done": row.done and row.done.isoformat(),
        "cancelled": row.cancelled and row.cancelled.isoformat(),
        "state": row.state(on).value,
        "tier": row.tier,
        "anchor": row.anchor.isoformat(),
        "late_days": late_days(row, on),
        "relative_lateness": round(relative_lateness(row, on), 6),
        "booked": booked and booked.isoformat(),
        "why": {
            "rule": row.why.rule,
            "anchor": row.why.anchor.isoformat(),
            "offset": row.why.offset,
            "proposes": [
                {
                    "rule": reason.rule,
                    "anchor": reason.anchor.isoformat(),
                    "offset": reason.offset,
                    "date": reason.proposes.isoformat(),
                }
                for reason in row.reasons
            ],
            "binding": row.why.rule,
        },
    }


def _print(rows: Sequence[Listed], appointments: dict[str, list[Booked]], store: Store, on: date) -> None:
    from caseload.cli.table import print_table
    from caseload.words import days
    from caseload.words.cautions import ALWAYS
    from caseload.words.owed import stands

    print(f"{days.full(on)}: {counted((each.row for each in rows), on)}")
    devices = named_devices(store)
    lines = []
    for each in rows:
        booked = booked_for(each.row, appointments)
        name = f"{each.name} ({each.row.person})"
        cells = (
            name,
            devices.get(each.row.device or "", ""),
            what_of(each.row),
            stands(each.row, on),
        )
        lines.append((*cells, f"booked {days.near(booked, on)}" if booked else ""))
    print_table(lines, give=0)
    if rows:
        print(ALWAYS)


def what_of(row: FollowUp) -> str:
    """What it is, with the area of a look or the request of an adjustment."""
    from caseload.words.owed import what_where

    return f"{what_where(row)}: {row.cause}" if row.kind.value == "adjustment" else what_where(row)


def named_devices(store: Store) -> dict[str, str]:
    """Side in full and orthosis of every device: LEFT AFO."""
    rows = store.all('SELECT "device", "side", "orthosis" FROM devices')
    return {device: f"{side.upper()} {orthosis}" for device, side, orthosis in rows}


def counted(rows: Iterable[FollowUp], on: date) -> str:
    """How many are missed, late, open and waiting; nought is not said."""
    states = Counter(row.state(on) for row in rows)
    order = (State.MISSED, State.LATE, State.OPEN, State.WAITING, State.DONE, State.CANCELLED)
    said = [f"{states[state]} {state.value}" for state in order if states[state]]
    return ", ".join(said) or "nothing is owed"
