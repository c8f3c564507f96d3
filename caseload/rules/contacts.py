"""Contacts of a person, with those that other facts imply: one act, one entry (rules.md 3)."""

from __future__ import annotations

from datetime import date
from operator import itemgetter
from typing import NamedTuple

from caseload.records import words
from caseload.rules.reading import PersonReading

ATTENDED_BY = ("fit check", "practice", "adjustment", "reassessment")
"""Facts of a device that are also a contact attended that day."""


class Met(NamedTuple):
    """One contact, tried or made."""

    on: date
    rank: int
    """Of one day, contacts as recorded (0) count before those implied by other acts (1)."""
    order: int
    outcome: str
    fact: str

    @property
    def made(self) -> bool:
        """Whether the person was reached or attended."""
        return self.outcome in (words.REACHED, words.ATTENDED)


def is_waited_for(person: PersonReading) -> bool:
    """Whether any row of the person may be done by a contact; of most people none is."""
    return any(status == words.OPEN_ACCESS for _, status, _ in person.statuses) or any(
        fact.body.outcome in words.TO_REBOOK for fact in person.of("contact")
    )


def contacts(person: PersonReading) -> list[Met]:
    """All contacts of a person in the order in which they count."""
    found = [Met(fact.on, 0, fact.order, fact.body.outcome, fact.id) for fact in person.of("contact")]
    for device in person.devices:
        for kind in ATTENDED_BY:
            found += [
                Met(fact.on, 1, fact.order, words.ATTENDED, fact.id)
                for fact in device.of(kind)
                if device.delivered and fact.on >= device.delivered
            ]
        for fact in device.of("look"):
            if device.delivered and fact.on >= device.delivered:
                seen = fact.body.how == words.SEEN
                found.append(Met(fact.on, 1, fact.order, words.ATTENDED if seen else words.REACHED, fact.id))
        found += [
            Met(fact.on, 1, fact.order, words.REACHED, fact.id)
            for fact in device.of("wear report")
            if device.delivered and fact.on >= device.delivered
        ]
    found.sort(key=itemgetter(0, 1, 2))
    return found
