"""The plan day of each day of a wear plan: it moves on by one, unless the day before was held or stopped.

rules.md 4.3: a day is stopped by a rub that has reached stop or urgent, a fit check that says not to be
worn, wear stopped, an unsafe request not done, or the device away; it is held by a watch, or by a wear
check that is overdue. On the first day after a stop the plan goes back.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import zip_longest

from caseload.records import words
from caseload.records.followups import FollowUp
from caseload.records.words import Grade
from caseload.rules.reading import DeviceReading
from caseload.rules.rubs import Glance, Rub
from caseload.rules.wear_steps import Step

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Stop:
    """Days on which the device is not to be worn, from the first up to but not including `until`."""

    first: date
    until: date | None
    why: str


def stops(device: DeviceReading, rubs: Iterable[Rub], adjusted: Sequence[FollowUp]) -> list[Stop]:
    """All times in which wear is stopped, for whatever reason."""
    found = [
        Stop(rub.pressing_since, rub.cleared, f"rub at the {rub.area}") for rub in rubs if rub.pressing_since
    ]
    begin = device.delivered or date.min
    checks = [fact for fact in device.of("fit check") if fact.on >= begin]
    for check, later in zip_longest(checks, checks[1:]):
        if check.body.overall == words.NOT_TO_BE_WORN:
            found.append(Stop(check.on, later.on if later else None, "fit check: not to be worn"))
    found += [
        Stop(fact.on, fact.body.lifted_on, "wear stopped")
        for fact in device.of("wear stop")
        if fact.on >= begin
    ]
    unsafe = {fact.body.request for fact in device.of("adjustment request") if fact.body.cause in words.UNSAFE}
    found += [
        Stop(row.started, row.ended, "unsafe, not yet adjusted") for row in adjusted if row.cause in unsafe
    ]
    found += [Stop(fact.on, fact.body.back, "the device is away") for fact in device.of("away")]
    return [stop for stop in found if stop.until is None or stop.first < stop.until]


def stopped_on(all_stops: Iterable[Stop], day: date) -> Stop | None:
    """The stop in force on a day, or None."""
    return next(
        (stop for stop in all_stops if stop.first <= day and (stop.until is None or day < stop.until)), None
    )


class Watches:
    """Whether the latest wear report or look of the device since a plan's date was graded watch."""

    def __init__(self, graded: Iterable[tuple[date, int, int, Grade]]) -> None:
        """`graded`: (day, rank, order, grade) of every wear report and look, in order."""
        self._all = sorted(graded)

    def on(self, since: date, day: date) -> bool:
        """Whether the plan begun `since` is held by a watch on the day."""
        index = bisect_right(self._all, day, key=lambda each: each[0])
        if not index or self._all[index - 1][0] < since:
            return False
        return self._all[index - 1][3] is Grade.WATCH


class PlanDays:
    """Where a plan stands, day by day."""

    def __init__(
        self, began: date, steps: Sequence[Step], all_stops: Sequence[Stop], watches: Watches, again_after: int
    ) -> None:
        self.began = began
        self.day = began
        self.plan_day = 0
        self._stops = all_stops
        self._watches = watches
        self._again_after = again_after
        self._firsts = [0]
        for step in steps:
            self._firsts.append(self._firsts[-1] + step.days)
        self._stopped_for = 0

    @property
    def without_limit(self) -> bool:
        """Whether the steps are behind."""
        return self.plan_day >= self._firsts[-1]

    def stopped(self) -> bool:
        """Whether wear is stopped on the day."""
        return stopped_on(self._stops, self.day) is not None

    def held_by_watch(self) -> bool:
        """Whether the day is held by a watch."""
        return self._watches.on(self.began, self.day)

    def move_to(self, day: date, check_due: date | None) -> None:
        """Go on to a later day. `check_due`: the due date of the wear check not done meanwhile."""
        while self.day < day:
            stopped = self.stopped()
            held = self.held_by_watch() or (check_due is not None and self.day > check_due)
            self._stopped_for = self._stopped_for + 1 if stopped else 0
            gone, self.day = self._stopped_for, self.day + DAY
            if stopped and not self.stopped():
                self.plan_day = 0 if gone >= self._again_after else self._step_before()
            elif not stopped and not held:
                self.plan_day += 1

    def _step_before(self) -> int:
        """The first day of the step before; from a day without limit, of the last step."""
        step = bisect_right(self._firsts, self.plan_day) - 1
        return self._firsts[max(step - 1, 0)]


def graded_of(glances: Iterable[Glance], clear_reports: Iterable[tuple[date, int]]) -> Watches:
    """Watches from all looks and from the wear reports that were clear, as (day, order)."""
    looked = [(each.on, each.rank, each.order, each.grade) for each in glances]
    return Watches([*looked, *((day, 0, order, Grade.CLEAR) for day, order in clear_reports)])
