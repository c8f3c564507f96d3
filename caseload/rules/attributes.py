"""Attributes of a person that are kept with dates: which value is in force on a day."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from datetime import date

from caseload.records import words
from caseload.records.facts import Fact
from caseload.records.people import Person


class Attributes:
    """The dated attributes of one person; the latest value on or before a day is in force on it."""

    def __init__(self, person: Person, changes: Iterable[Fact]) -> None:
        """`changes`: the counting facts of kind `change`, in order of day and recording."""
        self._first = {
            "site": person.site,
            "clinician": person.clinician,
            "sensation": person.sensation,
            "foot_risk": person.foot_risk,
            "circulation_concern": person.circulation_concern,
            "status": words.ACTIVE,
        }
        self._changes: dict[str, list[Fact]] = {}
        for change in changes:
            self._changes.setdefault(change.body.what, []).append(change)

    def on(self, what: str, day: date) -> str:
        """The value in force on the day; empty if none is on record."""
        changes = self._changes.get(what)
        if not changes:
            return self._first[what]
        index = bisect_right(changes, day, key=lambda change: change.on)
        return str(changes[index - 1].body.to) if index else self._first[what]

    def latest(self, what: str) -> str:
        """The value that is in force after all that is on record."""
        return self.on(what, date.max)

    def run(self, what: str, before: date | None) -> tuple[str, date | None]:
        """The latest value dated before a day (None: of all), and the day its unbroken run began.

        The day is None for a first value that has held from the beginning.
        """
        value, since = self._first[what], None
        for change in self._changes.get(what, ()):
            if before is not None and change.on >= before:
                break
            if change.body.to != value:
                value, since = change.body.to, change.on
        return value, since

    def days_of(self, what: str) -> list[date]:
        """The days on which the attribute was recorded anew."""
        return [change.on for change in self._changes.get(what, ())]

    def statuses(self) -> list[tuple[date, str, date | None]]:
        """(day, status, until) of each day on which the status changed; the last of a day counts."""
        by_day = {change.on: change for change in self._changes.get("status", ())}
        return [(day, change.body.to, change.body.until) for day, change in by_day.items()]

    def unrecorded_skin(self, day: date) -> bool:
        """Whether skin counts as vulnerable only because sensation is not on record."""
        return not self.on("sensation", day) and self.on("circulation_concern", day) != "yes"

    def vulnerable(self, day: date) -> bool:
        """Vulnerable skin: sensation reduced, absent or not on record, or a circulation concern."""
        return self.on("sensation", day) != "intact" or self.on("circulation_concern", day) == "yes"
