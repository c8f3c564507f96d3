"""Reassessment: exactly one row not done per device in use; under open access at most one (rules.md 4.6).

The row starts on *last* (the last reassessment, or delivery), or on the day the device was taken over, and
is done by the next reassessment. Every rule proposes a date, the earliest is binding. Once the row's last
day has passed, later facts no longer move its dates. The rules themselves stand in `review_rules.py`.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from datetime import date, timedelta

from caseload.records.facts import Fact
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.rules.clocks.review_rules import ReviewRules, Standing
from caseload.rules.reading import DeviceReading
from caseload.rules.rows import FAR, Dater, Dates, Draft, Proposal
from caseload.rules.use import Stretch

DAY = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class _Review:
    """The reassessments of one day, which count as one."""

    on: date
    by: str
    next_on: date | None


def _reviews(facts: list[Fact]) -> list[_Review]:
    """One per day, with the date by hand that was recorded last."""
    found: dict[date, _Review] = {}
    for fact in facts:
        before = found.get(fact.on)
        found[fact.on] = _Review(fact.on, fact.id, fact.body.next_on or (before.next_on if before else None))
    return list(found.values())


def reassessments(device: DeviceReading, rules: ReviewRules, dater: Dater) -> list[FollowUp]:
    """The reassessments owed for a device."""
    reviews = _reviews(device.of("reassessment"))
    rows: list[FollowUp] = []
    last = None
    for stretch in device.stretches:
        walk = _Walk(device, stretch, reviews, rules, dater, last)
        rows += walk.rows()
        last = walk.last
    return rows


class _Walk:
    """One stretch of use, from review to review."""

    def __init__(
        self,
        device: DeviceReading,
        stretch: Stretch,
        reviews: list[_Review],
        rules: ReviewRules,
        dater: Dater,
        last: date | None,
    ) -> None:
        """`last`: what intervals counted from at the end of the stretch before, if there was one."""
        self.device = device
        self.last = last
        self.stretch = stretch
        self.rules = rules
        self.dater = dater
        self.all_reviews = reviews
        self.begin = stretch.taken_over or stretch.began
        self.reviews = [each for each in reviews if each.on >= self.begin and stretch.does_on(each.on)]
        self.switches = [each for each in stretch.open_access if each[0] > self.begin]

    def rows(self) -> list[FollowUp]:
        if not self.stretch.starts_on(self.begin):
            return []
        found: list[FollowUp] = []
        standing: Standing | None = self._first()
        while standing is not None:
            self.last = standing.last
            review = next((each for each in self.reviews if self._later(each, standing)), None)
            switch = next((each for each in self.switches if each[0] > standing.start), None)
            closed = min(
                (day for day in (review and review.on, switch and switch[0], self.stretch.ended) if day),
                default=None,
            )
            by_review = review is not None and review.on == closed
            # On a day on which the status changes, what happens counts under the new one.
            changed = switch is not None and switch[0] == closed
            started = self._started(standing, closed, by_review and not changed)
            if started is not None:
                found.append(self._row(standing, started, review if by_review else None, closed))
            standing = self._next(standing, review if by_review else None, switch, closed, started)
        return found

    def _later(self, review: _Review, standing: Standing) -> bool:
        """Whether a review comes after the one that the standing counts from."""
        if standing.reviewed is not None:
            return review.on > standing.reviewed and review.on >= standing.start
        return review.on >= standing.start

    def _first(self) -> Standing:
        before = [each for each in self.stretch.open_access if each[0] <= self.begin]
        granted = before[-1][0] if before and before[-1][1] else None
        if self.stretch.taken_over is None:
            return Standing(self.begin, self.begin, None, None, None, granted)
        # A device taken over on that very day was not in use before: its own taking over counts.
        returned = self.stretch.returned and self.begin != self.device.device.taken_over
        returned = returned and self.begin == self.stretch.began
        if returned and self.stretch.granted_anew:
            return Standing(self.begin, self._last_before(self.begin), None, None, None, granted)
        return self._taken_over(self.begin, returned)._replace(granted=granted)

    def _taken_over(self, day: date, returned: bool) -> Standing:
        """Where a device stands that is taken over on a day: counted from its last review, if it had one."""
        last = self._reviewed_before(day) if returned else self.device.device.last_review
        return Standing(day, last or day, None, day, last, None)

    def _reviewed_before(self, day: date) -> date | None:
        """The last reassessment since delivery and before a day, or the last review elsewhere."""
        delivered = self.device.delivered or day
        reviews = [each.on for each in self.all_reviews if delivered <= each.on < day]
        return max(reviews, default=self.device.device.last_review)

    def _last_before(self, day: date) -> date:
        """What intervals count from at a grant of open access: *last* stays."""
        told = self.device.device
        begun = told.taken_over or self.device.delivered or day
        since = self.last or (told.last_review if told.taken_over else None) or begun
        return max((each.on for each in self.all_reviews if max(since, begun) <= each.on < day), default=since)

    def _next(
        self,
        standing: Standing,
        review: _Review | None,
        switch: tuple[date, bool] | None,
        closed: date | None,
        started: date | None,
    ) -> Standing | None:
        """Where the device stands after the row was closed; None at the end of the stretch."""
        if closed is None or not self.stretch.starts_on(closed):
            return None
        if review is not None:
            standing = Standing(
                review.on,
                review.on,
                review.on,
                standing.taken_over,
                standing.last_review,
                standing.granted,
                review.next_on,
            )
        if switch is not None and switch[0] == closed:
            if switch[1]:
                return standing._replace(start=closed, granted=closed)
            if review is not None and started is not None:
                # What was owed was done that day: the same review does nothing more.
                return standing._replace(taken_over=closed, last_review=closed, granted=None)
            return self._taken_over(closed, True)
        return standing

    def _started(self, standing: Standing, closed: date | None, on_that_day: bool) -> date | None:
        """The day the row starts; None if nothing is owed (open access, and no rule speaks).

        Args:
            standing: from where it counts.
            closed: the day on which a review, a change of status or the end closes it.
            on_that_day: whether it may start on that very day, to be done at once.
        """
        if standing.granted is None:
            return standing.start
        standing = standing._replace(site=self._site(standing.start))
        if self.rules.proposals(self.device, standing, standing.start, FAR):
            return standing.start
        for day in self.rules.events_that_start:
            in_time = closed is None or day < closed or (on_that_day and day == closed)
            if day <= standing.start or not in_time or not self.stretch.starts_on(day):
                continue
            # A worse measure answered by a trajectory of the same day starts nothing.
            if self.rules.counted_tiers(self.device, standing, day + DAY):
                return day
        return None

    def _site(self, day: date) -> str:
        return self.device.person.attributes.on("site", day)

    def _row(self, standing: Standing, started: date, review: _Review | None, closed: date | None) -> FollowUp:
        site = self._site(started)
        standing = standing._replace(site=site)
        draft = Draft(
            FollowUpKind.REASSESSMENT,
            self.device.person.person.person,
            self.device.device.device,
            "delivered" if standing.reviewed is None else "reassessed",
            started,
            site,
            [],
            0,
        )
        if standing.reviewed is None and standing.taken_over is not None:
            draft.cause = "taken over"
        if review is not None:
            draft.done, draft.done_by = review.on, review.by
        else:
            draft.cancelled = closed
        until = draft.ended
        if until == started and not self.rules.proposals(self.device, standing, started, until):
            until += DAY  # Under open access: what started it is all there is.
        dates, draft.proposals = self._settle(standing, started, site, until)
        spoken = self.rules.counted_tiers(self.device, standing, until)
        draft.tier = min([draft.proposals[dates.binding].tier, *spoken])
        return self.dater.row(draft, dates)

    def _settle(
        self, standing: Standing, started: date, site: str, until: date
    ) -> tuple[Dates, list[Proposal]]:
        """The dates as fact follows fact, until the last day has passed."""
        events = self.rules.events_that_move
        dates: Dates | None = None
        proposals: list[Proposal] = []
        day = started
        index = bisect_left(events, started)
        while True:
            spoken = self.rules.proposals(self.device, standing, day, until)
            proposals = spoken or proposals
            dates = self.dater.dates(
                proposals, started, site, ordered=True, pausable=True, ended=until, known=day
            )
            while index < len(events) and events[index] <= day:
                index += 1
            if index == len(events) or events[index] >= until or events[index] > dates.last_day:
                return dates, proposals
            day = events[index]
