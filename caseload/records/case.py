"""Everything on record about one person: what a rebuild of their follow-ups reads."""

from __future__ import annotations

from dataclasses import dataclass

from caseload.records.devices import Device
from caseload.records.facts import Fact
from caseload.records.people import Person


@dataclass(frozen=True, slots=True)
class Case:
    """One person with their devices and facts."""

    person: Person
    devices: tuple[Device, ...]
    facts: tuple[Fact, ...]
    """In the order they were recorded; struck-out ones may be among them and count for nothing."""

    def counting(self) -> tuple[Fact, ...]:
        """The facts that rules read: none that was struck out."""
        return tuple(fact for fact in self.facts if fact.struck_on is None)
