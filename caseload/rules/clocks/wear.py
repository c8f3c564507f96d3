"""Wear check: from the plan, then from each wear report, until full wear (rules.md 4.3).

From the plan due 3 d later (2 d with vulnerable skin), from each report 7 d later (3 d); early 2 d, grace
4 d, tier 3; done by the next wear report. A new plan cancels the old one's row and starts over; of two on
one day the last counts, and a report on its date belongs to it.

Full wear: the first wear report graded clear, of at least the goal hours, on a day without limit that is
neither stopped nor held by a watch. Then the wear checks end.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from caseload.records.facts import Fact
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.rules.protocol.settings import Protocol, WearRules
from caseload.rules.reading import DeviceReading
from caseload.rules.rows import Dater, Draft
from caseload.rules.rubs import REPORT, Glance
from caseload.rules.use import Stretch
from caseload.rules.wear_days import PlanDays, Stop, Watches, graded_of
from caseload.rules.wear_steps import Step, read_steps


@dataclass(frozen=True, slots=True)
class WearIn:
    """What is known of wearing a device."""

    rows: list[FollowUp]
    full_wear: date | None
    """The day full wear was reached under the latest plan; None if it was not."""


def steps_of(plan: str, vulnerable: bool, rules: WearRules) -> tuple[Step, ...]:
    """The steps of a plan by name, or as written; none for what cannot be read."""
    text = {
        "standard": rules.standard,
        "standard slow": rules.standard_slow,
        "gentle": rules.gentle_vulnerable if vulnerable else rules.gentle,
    }.get(plan, plan)
    return read_steps(text)[0]


def wear_in(
    device: DeviceReading, looks: list[Glance], all_stops: Sequence[Stop], protocol: Protocol, dater: Dater
) -> WearIn:
    """The wear checks of a device, and when full wear was reached."""
    # A report that is not clear is among the looks.
    marked = {look.fact for look in looks if look.rank == REPORT}
    clear = [(fact.on, fact.order) for fact in device.of("wear report") if fact.id not in marked]
    clock = _Clock(device, all_stops, graded_of(looks, clear), marked, protocol, dater)
    for stretch in device.stretches:
        clock.run(stretch)
    return WearIn(clock.rows, clock.full_wear)


class _Clock:
    """The wear checks of one device, stretch by stretch and plan by plan."""

    def __init__(
        self,
        device: DeviceReading,
        all_stops: Sequence[Stop],
        watches: Watches,
        marked: set[str],
        protocol: Protocol,
        dater: Dater,
    ) -> None:
        self.device = device
        self.all_stops = all_stops
        self.watches = watches
        self.marked = marked
        self.protocol = protocol
        self.dater = dater
        self.rows: list[FollowUp] = []
        self.full_wear: date | None = None

    def run(self, stretch: Stretch) -> None:
        plans = self._plans(stretch)
        for index, (day, plan) in enumerate(plans):
            replaced = plans[index + 1][0] if index + 1 < len(plans) else None
            self._plan(stretch, day, plan, replaced)

    def _plans(self, stretch: Stretch) -> list[tuple[date, Fact]]:
        """(day it counts as, plan) of each plan that starts something; one a day."""
        by_day: dict[date, Fact] = {}
        begin = stretch.taken_over or stretch.began
        for fact in self.device.of("wear plan"):
            day = max(fact.on, begin) if stretch.taken_over is None else fact.on
            if day >= begin and stretch.starts_on(day):
                by_day[day] = fact
        return sorted(by_day.items(), key=lambda item: item[0])

    def _plan(self, stretch: Stretch, began: date, plan: Fact, replaced: date | None) -> None:
        """The rows of one plan, until it is replaced, full wear, or the end."""
        vulnerable = self.device.person.attributes.vulnerable(began)
        steps = steps_of(plan.body.plan, vulnerable, self.protocol.wear)
        days = PlanDays(began, steps, self.all_stops, self.watches, self.protocol.wear.start_again_after)
        self.full_wear = None
        ends = [day for day in (stretch.ended, replaced) if day is not None]
        end = min(ends, default=None)
        # A return to active is a taking over: the row owed runs on, a plan from before it starts no further.
        returned = next((day for day, granted in stretch.open_access if day > began and not granted), None)
        running = self._start(began, plan.body.plan, "from the plan")
        for report in self.device.of("wear report"):
            if report.on < began or not stretch.does_on(report.on) or (replaced and report.on >= replaced):
                continue
            days.move_to(report.on, self._due(running))
            running.done, running.done_by = report.on, report.id
            self._finish(running)
            if self._is_full(report, plan, days):
                self.full_wear = report.on
                return
            if not stretch.starts_on(report.on) or (returned is not None and report.on >= returned):
                return
            running = self._start(report.on, plan.body.plan, "from the latest wear report")
        running.cancelled = end
        self._finish(running)

    def _is_full(self, report: Fact, plan: Fact, days: PlanDays) -> bool:
        return (
            report.body.hours >= (plan.body.goal_hours or self.protocol.wear.goal_hours)
            and report.id not in self.marked
            and days.without_limit
            and not days.stopped()
            and not days.held_by_watch()
        )

    def _start(self, day: date, plan: str, rule: str) -> Draft:
        rules, person = self.protocol.wear, self.device.person
        vulnerable = person.attributes.vulnerable(day)
        if rule == "from the plan":
            limit = rules.first_check_vulnerable if vulnerable else rules.first_check
        else:
            limit = rules.check_vulnerable if vulnerable else rules.check
        site = person.attributes.on("site", day)
        spoken = f"{rule}, vulnerable skin" if vulnerable else rule
        return Draft(
            FollowUpKind.WEAR_CHECK,
            person.person.person,
            self.device.device.device,
            plan,
            day,
            site,
            [self.dater.propose(spoken, day, limit, site)],
            limit.tier,
        )

    def _due(self, draft: Draft) -> date:
        return self.dater.dates(
            draft.proposals,
            draft.started,
            draft.site,
            aways=self.device.of("away"),
            pausable=True,
            ended=draft.ended,
        ).due

    def _finish(self, draft: Draft) -> None:
        dates = self.dater.dates(
            draft.proposals,
            draft.started,
            draft.site,
            aways=self.device.of("away"),
            pausable=True,
            ended=draft.ended,
        )
        self.rows.append(self.dater.row(draft, dates))
