"""When a device is in use: from delivery to its end, broken by discharge and return (rules.md 4, 4.9)."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.devices import Device


@dataclass(frozen=True, slots=True)
class Stretch:
    """A time of unbroken use. A fact on its last day still does a row, but starts none."""

    began: date
    """Delivery, or the return of the person."""
    ended: date | None
    """The end of the device, discharge, a move or death; None while it goes on."""
    returned: bool
    """Whether it began by the person's return (to active or open access) rather than by delivery."""
    taken_over: date | None
    """The day within it from which clocks 4.1-4.3 and 4.6 count, if it was taken over."""
    open_access: tuple[tuple[date, bool], ...]
    """Days within it on which open access was granted (True) or active status returned (False)."""

    @property
    def granted_anew(self) -> bool:
        """Whether it began by open access for a person who was gone: no return to active, no taking over."""
        return self.returned and self.open_access[:1] == ((self.began, True),)

    def starts_on(self, day: date) -> bool:
        """Whether a fact of the day may start a row."""
        return self.began <= day and (self.ended is None or day < self.ended)

    def does_on(self, day: date) -> bool:
        """Whether a fact of the day may do a row."""
        return self.began <= day and (self.ended is None or day <= self.ended)


def death(statuses: list[tuple[date, str, date | None]]) -> date | None:
    """The day of death, or None."""
    return next((day for day, status, _ in statuses if status == words.DIED), None)


def stretches(
    delivered: date | None, device: Device, statuses: list[tuple[date, str, date | None]]
) -> tuple[Stretch, ...]:
    """The stretches in which a delivered device is in use, in order."""
    if delivered is None:
        return ()
    found = []
    for began, ended, returned, switches in _followed(statuses):
        first = max(began, delivered)
        last = _earlier(ended, device.ended)
        if last is not None and first > last:
            continue
        came_back = returned and first == began and began > delivered
        taken = max(first, device.taken_over or first) if came_back or device.taken_over else None
        inside = tuple((day, granted) for day, granted in switches if last is None or day <= last)
        found.append(Stretch(first, last, came_back, taken, inside))
    return tuple(found)


def _earlier(a: date | None, b: date | None) -> date | None:
    return min(a, b) if a and b else a or b


def _followed(
    statuses: list[tuple[date, str, date | None]],
) -> list[tuple[date, date | None, bool, list[tuple[date, bool]]]]:
    """(began, ended, returned, switches) of each time the person is active or under open access."""
    found: list[tuple[date, date | None, bool, list[tuple[date, bool]]]] = []
    began: date | None = date.min
    returned, status, switches = False, words.ACTIVE, list[tuple[date, bool]]()
    for day, new, _ in statuses:
        if new in words.GONE and began is not None:
            found.append((began, day, returned, switches))
            began = None
        elif new not in words.GONE:
            if began is None:
                began, returned, switches = day, True, []
                if new == words.OPEN_ACCESS:
                    switches.append((day, True))
            elif new == words.OPEN_ACCESS:
                switches.append((day, True))
            elif status == words.OPEN_ACCESS:
                switches.append((day, False))
        status = new
    if began is not None:
        found.append((began, None, returned, switches))
    return found
