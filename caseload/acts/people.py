"""A new person, a correction of their details, a change with a date."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from caseload.acts import facts
from caseload.acts.desk import Desk
from caseload.errors import Changed, Problem, Refused
from caseload.records.columns import columns
from caseload.records.people import Person
from caseload.rules import checks
from caseload.store import people


def add(desk: Desk, values: Mapping[str, Any]) -> Person:
    """Add a person from typed values of their columns. Raises Refused with every problem."""
    person, problems = checks.made(Person, values, desk.today)
    if person is None:
        raise Refused(problems)
    with desk.act("new person") as work:
        if people.person(desk.store, person.person) is not None:
            raise Refused([Problem(f"The reference {person.person[:60]} is used already.", "person")])
        work.add(person, person=person.person)
        work.touch(person.person)
    return person  # type: ignore[no-any-return]


def edit(desk: Desk, reference: str, version: int, values: Mapping[str, Any], reason: str = "") -> Person:
    """Change details of a person; `values`: the columns that change, None for blank.

    Site, clinician, sensation, foot-risk and circulation are first values here; what changes on a day is
    recorded with `change`. Raises Refused, or Changed when `version` is not the one on record.
    """
    on_record = people.person(desk.store, reference)
    if on_record is None:
        raise Refused([f"There is no person {reference[:60]}."])
    before, now = on_record
    wanted = {told.name: getattr(before, told.name) for told in columns(Person)} | dict(values)
    after, problems = checks.made(Person, wanted, desk.today)
    if after is None:
        raise Refused(problems)
    if after.person != reference:
        raise Refused([Problem("A reference is never changed.", "person")])
    if now != version:
        raise Changed(reference, replace(after), before)
    with desk.act("edit person", reason) as work:
        work.replace(before, after, version, person=reference)
        work.touch(reference, afresh=True)
    return after  # type: ignore[no-any-return]


def change(
    desk: Desk,
    person: str,
    on: date,
    what: str,
    to: str,
    *,
    until: date | None = None,
    reason: str = "",
) -> facts.Recorded:
    """Record a dated change: clinician, site, status, sensation, foot-risk, circulation concern.

    Discharge, a move or open access with anything of tier 1-2 not done needs a reason.
    """
    values = {"what": what, "to": to, "until": until, "reason": reason}
    draft = facts.Draft("change", on, values, person=person)
    return facts.record(desk, [draft], f"change of {what.replace('_', ' ')}")
