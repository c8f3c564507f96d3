"""`why`: every clock of a person or a device, with the dates that competed."""

from __future__ import annotations

import argparse

from caseload.cli.owed import as_json, booked_for, named_devices, what_of
from caseload.cli.place import at_desk, next_staffed, print_json, wants_json
from caseload.errors import Refused
from caseload.exchange.problems import did_you_mean, quoted
from caseload.plain import plain
from caseload.records.case import Case
from caseload.records.followups import FollowUp
from caseload.rules.attributes import Attributes
from caseload.rules.order import in_order


def why(asked: argparse.Namespace) -> None:
    """Print the follow-ups of a reference with their reasons; those that ended only with `--all`."""
    from caseload.store import cases, owed

    with at_desk(asked) as desk:
        store, on = desk.store, desk.today
        reference = asked.reference.strip()
        owner = store.one('SELECT "person" FROM devices WHERE "device" = ?', reference)
        case = cases.case(store, owner[0] if owner else reference)
        if case is None:
            known = [
                row[0] for row in store.all('SELECT "person" FROM people UNION SELECT "device" FROM devices')
            ]
            hint = did_you_mean(reference, known) or ", expected the reference of one on record"
            raise Refused([f"{quoted(reference)} is no person or device{hint}"])
        rows = [
            row for row in owed.of_person(store, case.person.person) if not owner or row.device == reference
        ]
        if not asked.all:
            rows = [row for row in rows if row.ended is None or row.ended > on]
        changes = sorted((f for f in case.counting() if f.kind == "change"), key=lambda f: (f.on, f.order))
        known_of = Attributes(case.person, changes)
        risk = (int(known_of.on("foot_risk", on) or 0), known_of.vulnerable(on))
        rows = in_order(rows, on, lambda person: risk)
        appointments = owed.booked(store, on, [case.person.person])
        if wants_json(asked):
            more = ({"moved": row.moved, "done_by": row.done_by} for row in rows)
            print_json(
                [
                    as_json(row, on, booked_for(row, appointments)) | extra
                    for row, extra in zip(rows, more, strict=True)
                ]
            )
            return
        _print(case, rows, desk, named_devices(store))


def _print(case: Case, rows: list[FollowUp], desk: object, devices: dict[str, str]) -> None:
    from caseload.acts.desk import Desk
    from caseload.words import cautions, days
    from caseload.words import owed as words

    assert isinstance(desk, Desk)
    on, protocol = desk.today, desk.protocol()
    print(plain(f"{case.person.name} ({case.person.person}), {days.full(on)}"))
    if not rows:
        print("Nothing is owed.")
    called = set[str]()
    for row in rows:
        device = f"{devices.get(row.device, '')} " if row.device else ""
        print()
        print(plain(f"{device}{what_of(row)}, {words.stands(row, on)}"))
        print(plain(f"  {words.dates(row, on)}"))
        print(plain(f"  counted from: {words.reason(row.why, on)}"))
        if row.moved:
            print(plain(f"  moved: {row.moved}"))
        for other in words.competing(row, on):
            print(plain(f"  {other}"))
        if row.ended is None:
            print(plain(f"  done by {words.done_by(row)}"))
            called |= cautions.of_row(row, case.facts, on)
    print()
    staffed = next_staffed(desk.store, case.person.person, on)
    for sentence in cautions.sentences(called, protocol, staffed, on):
        print(plain(sentence))
