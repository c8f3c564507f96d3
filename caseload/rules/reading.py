"""A case laid out for the clocks: facts by device and kind in the order in which they count."""

from __future__ import annotations

from datetime import date
from operator import attrgetter

from caseload.records.case import Case
from caseload.records.devices import Device
from caseload.records.facts import Fact
from caseload.rules.attributes import Attributes
from caseload.rules.use import Stretch, stretches

_IN_ORDER = attrgetter("on", "order")


class DeviceReading:
    """One device with its facts and the stretches of time in which it is in use."""

    def __init__(self, person: PersonReading, device: Device, facts: dict[str, list[Fact]]) -> None:
        self.person = person
        self.device = device
        self._facts = facts
        self.delivered = device.delivered or device.taken_over
        """The day of delivery; of a device brought in without one, the day it was taken over."""
        self.stretches = stretches(self.delivered, device, person.statuses)

    def of(self, kind: str) -> list[Fact]:
        """The counting facts of a kind, by day and then in the order recorded."""
        return self._facts.get(kind, [])

    def stretch_of(self, day: date) -> Stretch | None:
        """The stretch of use in which a fact of the day may start something."""
        return next((each for each in self.stretches if each.starts_on(day)), None)


class PersonReading:
    """One person with their dated attributes, their own facts and their devices."""

    def __init__(self, case: Case) -> None:
        self.person = case.person
        by_device: dict[str | None, dict[str, list[Fact]]] = {}
        for fact in sorted([fact for fact in case.facts if fact.struck_on is None], key=_IN_ORDER):
            by_device.setdefault(fact.device, {}).setdefault(fact.kind, []).append(fact)
        self._facts = by_device.pop(None, {})
        self.attributes = Attributes(case.person, self.of("change"))
        self.statuses = self.attributes.statuses()
        self.devices = [
            DeviceReading(self, device, by_device.get(device.device, {})) for device in case.devices
        ]

    def of(self, kind: str) -> list[Fact]:
        """The counting facts of the person of a kind, by day and then in the order recorded."""
        return self._facts.get(kind, [])
