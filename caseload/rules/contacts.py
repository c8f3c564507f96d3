"""Contacts of a person, with those that other facts imply: one act, one entry (rules.md 3)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.rules.reading import PersonReading

ATTENDED_BY = ("fit check", "practice", "adjustment", "reassessment")
"""Facts of a device that are also a contact attended that day."""


@dataclass(frozen=True, slots=True)
class Met:
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
    found.sort(key=lambda met: (met.on, met.rank, met.order))
    return found
