"""The ledger: every follow-up of a person, from facts, protocol and calendar. There is no today in here.

facts + protocol + clinic calendar  ->  follow-ups
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from caseload.records.case import Case
from caseload.records.followups import FollowUp
from caseload.rules.calendar import Calendar
from caseload.rules.clocks.adjustment import adjustments
from caseload.rules.clocks.donning import donning_practices
from caseload.rules.clocks.fit_check import fit_checks
from caseload.rules.clocks.people import escalations, open_access_endings, rebookings
from caseload.rules.clocks.reassessment import reassessments
from caseload.rules.clocks.review_rules import ReviewRules
from caseload.rules.clocks.skin import skin_looks
from caseload.rules.clocks.supply import replacements, supplies, workshops
from caseload.rules.clocks.wear import wear_in
from caseload.rules.contacts import contacts, is_waited_for
from caseload.rules.protocol.settings import Protocol
from caseload.rules.reading import DeviceReading, PersonReading
from caseload.rules.rows import Dater
from caseload.rules.rubs import glances
from caseload.rules.wear_days import stops


@dataclass(frozen=True, slots=True)
class Rulebook:
    """A protocol with the calendar that goes with it; in force from the protocol's first day."""

    protocol: Protocol
    calendar: Calendar


def follow_ups(case: Case, rulebooks: Sequence[Rulebook]) -> tuple[FollowUp, ...]:
    """Everything that is or was owed to a person.

    Args:
        case: the person with devices and facts, in any order.
        rulebooks: in order of first day; a row that ended or missed its last day before the first day of
            a later one keeps what the earlier one gave it.
    """
    reading = PersonReading(case)
    first, *later = rulebooks
    rows = _under(reading, first)
    for rulebook in later:
        rows = _keep_the_past(rows, _under(reading, rulebook), rulebook.protocol.first_day)
    return tuple(rows)


def _under(person: PersonReading, rulebook: Rulebook) -> list[FollowUp]:
    """All rows under one rulebook alone."""
    protocol = rulebook.protocol
    dater = Dater(rulebook.calendar, protocol.away, person.of("pause"))
    met = contacts(person) if is_waited_for(person) else []
    rows = [
        *rebookings(person, met, protocol.people, dater),
        *escalations(person, protocol.people, dater),
        *open_access_endings(person, met, protocol.people, dater),
    ]
    for device in person.devices:
        rows += _of_device(device, protocol, dater)
    return rows


def _of_device(device: DeviceReading, protocol: Protocol, dater: Dater) -> list[FollowUp]:
    rows = [*supplies(device, protocol.supply, dater), *workshops(device, protocol.supply, dater)]
    if device.delivered is None:
        return rows
    looks = glances(device, protocol.skin)
    skin, rubs = skin_looks(device, looks, protocol.skin, dater)
    adjusted = adjustments(device, looks, protocol.adjustment, dater)
    wearing = wear_in(device, looks, stops(device, rubs, adjusted), protocol, dater)
    review = ReviewRules(device, rubs, protocol.reassessment, protocol.measures, dater)
    return [
        *rows,
        *fit_checks(device, adjusted, protocol.fit_check, dater),
        *donning_practices(device, protocol.donning, dater),
        *wearing.rows,
        *skin,
        *adjusted,
        *reassessments(device, review, dater),
        *replacements(device, protocol.supply, dater),
    ]


def _keep_the_past(old: list[FollowUp], new: list[FollowUp], first_day: date) -> list[FollowUp]:
    """Rows of the old protocol that were over before the new one began, and the new one's for the rest.

    A row is the same under both when it is of the same kind and subject, for the same cause, started on
    the same day, and of several such the same one in their order (two practices on one day start two rows).
    What the new protocol would have begun and ended in the past never happened.
    """
    over = {which: row for which, row in _identified(old) if _was_over(row, first_day)}
    fresh = [row for which, row in _identified(new) if which not in over and not _ended_before(row, first_day)]
    return [*over.values(), *fresh]


def _identified(rows: list[FollowUp]) -> Iterator[tuple[tuple[object, ...], FollowUp]]:
    """Each row with what makes it the same row under another protocol."""
    seen: Counter[tuple[object, ...]] = Counter()
    for row in rows:
        same = row.kind, row.person, row.device, row.cause, row.started
        yield (*same, seen[same]), row
        seen[same] += 1


def _was_over(row: FollowUp, day: date) -> bool:
    return _ended_before(row, day) or row.last_day < day


def _ended_before(row: FollowUp, day: date) -> bool:
    return row.ended is not None and row.ended < day
