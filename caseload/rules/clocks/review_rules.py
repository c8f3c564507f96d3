"""The rules that propose a date for a reassessment, in the order that settles ties (rules.md 4.6).

| rule                                                                  | proposes             |
|-----------------------------------------------------------------------|----------------------|
| fall: hurt, or a device worn, or with two others in the 90 days to it | fall + 5 wd          |
| other fall                                                            | fall + 14 d          |
| rub that reached stop or urgent, cleared                              | that day + 28 d      |
| measured worse beyond error, no trajectory recorded that day or since | that day + 28 d      |
| taken over without a last review, nothing reassessed since            | taken over + n weeks |
| settling-in at 2, 6, 12 weeks after delivery (not if taken over)      | the first not met    |
| date set by hand                                                      | that date            |
| trajectory improving, declining, stable, none on record               | last + 6 w, 3, 6 mo, 6 w |
| foot-risk 1, 2, 3                                                     | last + 11, 5, 2 mo   |
| under 6, under 16                                                     | last + 3, 4 mo       |

A date by hand replaces settling-in and trajectory; the taking-over rule likewise, and foot-risk and age.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import NamedTuple
from zlib import crc32

from caseload.records import words
from caseload.records.facts import Fact
from caseload.rules.ages import under
from caseload.rules.protocol.settings import Limit, MeasureRules, ReassessmentRules
from caseload.rules.reading import DeviceReading
from caseload.rules.rows import Dater, Proposal
from caseload.rules.rubs import Rub
from caseload.rules.spans import add_plain
from caseload.rules.trend import measured_worse


class Standing(NamedTuple):
    """From where a row is counted."""

    start: date
    """The day from which a row may start."""
    last: date
    """The last reassessment, or delivery, or the last review elsewhere: intervals count from it."""
    reviewed: date | None
    """The reassessment that `last` is, if it is one made since delivery or taking over."""
    taken_over: date | None
    """The latest taking over, or None."""
    last_review: date | None
    """The last review before the taking over, or None."""
    granted: date | None
    """The day open access was granted, while it holds."""
    by_hand: date | None = None
    """The date set by hand at `last`."""
    site: str = ""
    """The person's site on the day the row started: its closures count."""

    @property
    def spread(self) -> bool:
        """Whether the taking-over rule speaks."""
        return (
            self.taken_over is not None
            and self.last_review is None
            and self.reviewed is None
            and self.granted is None
        )


class ReviewRules:
    """The rules, laid out for one device."""

    def __init__(
        self,
        device: DeviceReading,
        rubs: Sequence[Rub],
        rules: ReassessmentRules,
        measures: MeasureRules,
        dater: Dater,
    ) -> None:
        self.rules = rules
        self.dater = dater
        self.falls = device.person.of("fall")
        self.trajectories = device.of("trajectory")
        self.cleared = sorted(rub.cleared for rub in rubs if rub.cleared and rub.pressing_since)
        self.worse = measured_worse(device.of("measure"), self.trajectories, measures)
        happened = {*(fact.on for fact in self.falls), *self.cleared, *(fact.on for fact in self.worse)}
        self.events_that_start = sorted(happened)
        """Days on which a row may start under open access."""
        self.events_that_move = sorted(
            {
                *happened,
                *(fact.on for fact in self.trajectories),
                *device.person.attributes.days_of("foot_risk"),
                *(pause.on for pause in dater.pauses),
            }
        )
        """Days on which something happened that may move a row."""

    def counted_tiers(self, device: DeviceReading, standing: Standing, until: date) -> list[int]:
        """The tiers of all falls, cleared rubs and worse measures that count for a row, late ones too."""
        known = until - timedelta(days=1) if until != date.max else until
        return [each.tier for each in self._happened(device, standing, known, until)]

    def proposals(self, device: DeviceReading, standing: Standing, known: date, until: date) -> list[Proposal]:
        """What every rule proposes, from the facts up to and including `known` and before `until`."""
        found = self._happened(device, standing, known, until)
        if standing.spread:
            return [*found, self._spread(device, standing)]
        if standing.granted is None:
            if standing.by_hand is not None:
                found.append(
                    self.dater.propose(
                        "date set by hand", standing.last, self.rules.by_hand, standing.site, standing.by_hand
                    )
                )
            else:
                found += self._settling_in(device, standing)
                found.append(self._trajectory(standing, known, until))
        return [*found, *self._foot_risk(device, standing, known, until), *self._age(device, standing)]

    def _happened(self, device: DeviceReading, standing: Standing, known: date, until: date) -> list[Proposal]:
        """Falls, rubs cleared and measures worse."""
        if not self.events_that_start:
            return []
        serious, other = [], []
        for fall in self.falls:
            if standing.last <= fall.on <= known and fall.on < until:
                rule = self._serious(fall)
                if rule:
                    serious.append(self._propose(rule, fall.on, self.rules.fall_serious, standing))
                else:
                    other.append(self._propose("fall", fall.on, self.rules.fall_other, standing))
        rubs = [
            self._propose("rub cleared", day, self.rules.rub_cleared, standing)
            for day in self.cleared
            if standing.last <= day <= known and day < until
        ]
        worse = [
            self._propose(
                f"{fact.body.measure} worse beyond its error", fact.on, self.rules.measured_worse, standing
            )
            for fact in self.worse
            if standing.last <= fact.on <= known
            and fact.on < until
            and not any(fact.on <= judged.on <= known and judged.on < until for judged in self.trajectories)
        ]
        return [*serious, *other, *rubs, *worse]

    def _serious(self, fall: Fact) -> str:
        """What makes a fall serious, in words; empty if nothing does."""
        if fall.body.hurt:
            return "fall, hurt"
        if fall.body.devices_worn:
            return "fall with a device worn"
        since = add_plain(fall.on, self.rules.falls_within, -1)
        together = sum(1 for each in self.falls if since <= each.on <= fall.on)
        return "fall, one of several" if together >= self.rules.falls_together else ""

    def _spread(self, device: DeviceReading, standing: Standing) -> Proposal:
        """Spread a caseload taken over by the device's reference, so that not all falls due at once."""
        day = standing.taken_over or standing.start
        judged = [fact.body.trajectory for fact in self.trajectories if fact.on <= day]
        pressing = judged[-1:] == [words.DECLINING] or device.person.attributes.on("foot_risk", day) == "3"
        weeks = self.rules.spread_weeks_pressing if pressing else self.rules.spread_weeks
        n = 1 + crc32(device.device.device.encode()) % weeks
        due = day + timedelta(weeks=n)
        limit = self.rules.taken_over
        return Proposal(
            "taken over without a last review",
            day,
            f"{n} week{'s' if n > 1 else ''}",
            due,
            limit.early,
            limit.grace,
            limit.tier,
        )

    def _settling_in(self, device: DeviceReading, standing: Standing) -> list[Proposal]:
        """The first settling-in point not met by a reassessment shortly before it or later."""
        delivered = device.delivered
        if standing.taken_over is not None or delivered is None:
            return []
        points = (self.rules.settling_in_first, self.rules.settling_in_second, self.rules.settling_in_third)
        for limit in points:
            if limit.due is None:
                continue
            point = self.dater.calendar.plus(delivered, limit.due)
            if limit.early is not None:
                point = self.dater.calendar.before(point, limit.early)
            if standing.reviewed is None or standing.reviewed < point:
                return [self._propose(f"settling-in at {limit.due}", delivered, limit, standing)]
        return []

    def _trajectory(self, standing: Standing, known: date, until: date) -> Proposal:
        value, since = "", None
        for fact in self.trajectories:
            if fact.on > known or fact.on >= until:
                break
            if fact.body.trajectory != value:
                value, since = fact.body.trajectory, fact.on
        limit = {
            words.IMPROVING: self.rules.improving,
            words.DECLINING: self.rules.declining,
            words.STABLE: self.rules.stable,
        }.get(value, self.rules.no_trajectory)
        rule = f"trajectory {value}" if value else "no trajectory on record"
        return self._not_sooner(self._propose(rule, standing.last, limit, standing), standing, since)

    def _foot_risk(self, device: DeviceReading, standing: Standing, known: date, until: date) -> list[Proposal]:
        before = min(until, known + timedelta(days=1)) if known < date.max else until
        value, since = device.person.attributes.run("foot_risk", before)
        limit = {"1": self.rules.foot_risk_1, "2": self.rules.foot_risk_2, "3": self.rules.foot_risk_3}.get(
            value
        )
        if limit is None:
            return []
        return [
            self._not_sooner(
                self._propose(f"foot-risk {value}", standing.last, limit, standing), standing, since
            )
        ]

    def _age(self, device: DeviceReading, standing: Standing) -> list[Proposal]:
        born = device.person.person.born
        for years, limit in ((6, self.rules.under_6), (16, self.rules.under_16)):
            if under(years, born, standing.last):
                return [
                    self._not_sooner(
                        self._propose(f"under {years}", standing.last, limit, standing), standing, None
                    )
                ]
        return []

    def _not_sooner(self, proposal: Proposal, standing: Standing, since: date | None) -> Proposal:
        """No sooner than some working days after what brought the rule in, where that came after `last`."""
        last, floor = standing.last, proposal.due
        for day in (since, standing.taken_over, standing.granted):
            if day is not None and day > last:
                floor = max(floor, self.dater.calendar.plus(day, self.rules.not_sooner_than, standing.site))
        if floor == proposal.due:
            return proposal
        return Proposal(
            f"{proposal.rule}, not sooner than {self.rules.not_sooner_than} after it came in",
            proposal.anchor,
            proposal.offset,
            floor,
            proposal.early,
            proposal.grace,
            proposal.tier,
        )

    def _propose(self, rule: str, anchor: date, limit: Limit, standing: Standing) -> Proposal:
        return self.dater.propose(rule, anchor, limit, standing.site)
