"""Looks at the skin, and the rubs they make up (rules.md 4.4).

A rub is the run of looks at one area of one device from the first that is not clear to the one that
clears it. Wear reports and requests may be looks too.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import NamedTuple

from caseload.records import words
from caseload.records.words import Grade
from caseload.rules.grading import grade
from caseload.rules.protocol.settings import SkinRules
from caseload.rules.reading import DeviceReading

REPORT, LOOK, REQUEST = 0, 1, 2
"""Of one day, wear reports count before looks, and looks before requests."""


class Glance(NamedTuple):
    """One look at one area, whichever fact it comes from."""

    on: date
    rank: int
    order: int
    area: str
    grade: Grade
    because: str
    seen: bool
    vulnerable: bool
    """Whether the skin was vulnerable on that day."""
    fact: str
    """The id of the fact it comes from."""


@dataclass(slots=True)
class Rub:
    """A run of looks at one area from the first that was not clear."""

    area: str
    looks: list[Glance] = field(default_factory=list)
    cleared: date | None = None
    cleared_by: str | None = None
    pressing_since: date | None = None
    """The day on which it first reached stop or urgent."""

    def takes(self, look: Glance) -> bool:
        """Count a look in; True if it does the follow-up owed (it was good enough to)."""
        self.looks.append(look)
        if look.grade >= Grade.STOP and self.pressing_since is None:
            self.pressing_since = look.on
        return look.seen or self.pressing_since is None


def glances(device: DeviceReading, rules: SkinRules) -> list[Glance]:
    """All looks at a device that count, in order; those before delivery do not."""
    found: list[Glance] = []
    begin = device.delivered
    if begin is None:
        return found
    vulnerable = device.person.attributes.vulnerable
    for fact in device.of("wear report"):
        if fact.on >= begin:
            weak = vulnerable(fact.on)
            graded = grade(fact.body, weak, rules)
            if graded.grade > Grade.CLEAR:
                area = fact.body.area or words.NOT_STATED
                found.append(
                    Glance(
                        fact.on, REPORT, fact.order, area, graded.grade, graded.because, False, weak, fact.id
                    )
                )
    for fact in device.of("look"):
        if fact.on >= begin:
            weak = vulnerable(fact.on)
            graded = grade(fact.body, weak, rules)
            seen = fact.body.how == words.SEEN
            found.append(
                Glance(
                    fact.on, LOOK, fact.order, fact.body.area, graded.grade, graded.because, seen, weak, fact.id
                )
            )
    found.sort(key=lambda look: (look.on, look.rank, look.order))
    return _with_requests(device, found)


def _with_requests(device: DeviceReading, found: list[Glance]) -> list[Glance]:
    """Add the told look of each rub request whose area was clear, or never looked at."""
    asked = [
        fact
        for fact in device.of("adjustment request")
        if fact.body.cause == words.RUB and device.delivered and fact.on >= device.delivered
    ]
    for fact in asked:
        area = fact.body.area or words.NOT_STATED
        latest = latest_look(found, area, fact.on)
        if latest is None or latest.grade is Grade.CLEAR:
            told = Glance(
                fact.on,
                REQUEST,
                fact.order,
                area,
                Grade.STOP,
                "a rub that needs an adjustment",
                False,
                device.person.attributes.vulnerable(fact.on),
                fact.id,
            )
            found.append(told)
            found.sort(key=lambda look: (look.on, look.rank, look.order))
    return found


def latest_look(looks: list[Glance], area: str, day: date) -> Glance | None:
    """The latest look at an area on or before a day; None if there is none.

    A look in person anywhere clears a rub *not stated*: what was told before it is no longer its latest.
    """
    for look in reversed(looks):
        if look.on > day:
            continue
        if look.area == area:
            return look
        if area == words.NOT_STATED and look.seen:
            return None
    return None
