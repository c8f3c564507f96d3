"""From competing dates to the dates of a row: rolling, binding, early span, grace, away and pause.

rules.md 2: every due and last day is rolled forward to a working day, after taking the later of the
proposal and the day the row started; the earliest proposal after rolling is binding.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from caseload.records.facts import Fact
from caseload.records.followups import FollowUp, FollowUpKind, Reason
from caseload.rules.calendar import Calendar
from caseload.rules.protocol.settings import AwayRules, Limit
from caseload.rules.spans import Span, Unit

FAR = date.max
"""Stands for the end of a row that is still owed."""


class Proposal(NamedTuple):
    """A date that one rule proposes, before rolling."""

    rule: str
    anchor: date
    offset: str
    due: date
    early: Span | None
    """None = at once."""
    grace: Span | None
    """None where `until` is given."""
    tier: int
    until: date | None = None
    """The last day itself, where it is a date on record rather than a grace."""
    pausable: bool = True
    """Whether a pause may move it: tiers 3-5 only, and never skin, adjustments or escalations."""


@dataclass(slots=True)
class Draft:
    """A row as a clock leaves it: what it is, why, and how it ended; `Dater.row` gives it its dates."""

    kind: FollowUpKind
    person: str
    device: str | None
    cause: str
    started: date
    site: str
    """The site of the person on the day it started: its closures count."""
    proposals: list[Proposal]
    tier: int
    done: date | None = None
    done_by: str | None = None
    cancelled: date | None = None

    @property
    def ended(self) -> date:
        """The day it was done or cancelled; the end of time while it is owed."""
        return self.done or self.cancelled or FAR


class Dates(NamedTuple):
    """The dates of a row, and which proposal they come from."""

    opens: date
    due: date
    last_day: date
    binding: int
    moved: str = ""


class Dater:
    """Gives rows their dates, with the calendar of the clinic and the pauses of one person."""

    def __init__(self, calendar: Calendar, away: AwayRules, pauses: Sequence[Fact]) -> None:
        self.calendar = calendar
        self.away = away
        self.pauses = pauses

    def propose(self, rule: str, anchor: date, limit: Limit, site: str, due: date | None = None) -> Proposal:
        """A proposal by the protocol's limit from its anchor; `due` where the date itself is given."""
        if due is None:
            span = limit.due or Span(0, Unit.DAYS)
            return Proposal(
                rule,
                anchor,
                str(span),
                self.calendar.plus(anchor, span, site),
                limit.early,
                limit.grace,
                limit.tier,
            )
        return Proposal(rule, anchor, "the date given", due, limit.early, limit.grace, limit.tier)

    def roll(self, proposal: Proposal, started: date, site: str) -> date:
        """The proposed date, not before the row started, on a working day."""
        due = proposal.due
        return self.calendar.roll(due if due > started else started, site)

    def dates(
        self,
        proposals: Sequence[Proposal],
        started: date,
        site: str,
        *,
        ordered: bool = False,
        aways: Iterable[Fact] = (),
        pausable: bool = False,
        ended: date = FAR,
        known: date = FAR,
        tier: int | None = None,
    ) -> Dates:
        """The dates that the proposals give a row.

        Args:
            proposals: in the order of the rules; at least one.
            started: the day the row started.
            site: whose closures count.
            ordered: on a tie the first is binding; else the one with the shorter grace.
            aways: times the device was away, if that moves such a row.
            pausable: whether a pause may move it, its tier allowing.
            ended: the day the row was done or cancelled, for what may still move it.
            known: pauses begun after this day are not known yet.
            tier: of the row, for whether a pause may move it; None for that of the binding proposal.
        """
        due = self.roll(proposals[0], started, site)
        binding = 0
        for index in range(1, len(proposals)):
            other = self.roll(proposals[index], started, site)
            if other < due or (
                other == due
                and not ordered
                and self._last(proposals[index], other, site) < self._last(proposals[binding], due, site)
            ):
                due, binding = other, index
        bound = proposals[binding]
        moved = ""
        for fact in aways:
            later = self._after_away(fact, due, started, ended, site)
            if later is not None:
                due, moved = later, "the device was away"
        if pausable and (tier or bound.tier) >= 3 and bound.pausable:
            while until := self._paused_until(due, ended, known):
                due, moved = self._rolled_plus(until, self.away.after_pause, site), "a pause"
        return Dates(self._opens(bound, due, started), due, self._last(bound, due, site), binding, moved)

    def do_once_open(self, draft: Draft, candidates: Iterable[tuple[date, str]]) -> None:
        """Do a row by the first (day, fact) on or after it opens and before it was cancelled.

        A pause begun before the row ended may move its opening, and so what does it: repeated until it holds.
        """
        days = list(candidates)
        ended = date.min
        while True:
            dates = self.dates(draft.proposals, draft.started, draft.site, pausable=True, ended=ended)
            first = next((each for each in days if each[0] >= dates.opens), (FAR, ""))
            if first[0] == ended or (first[0] == FAR and ended == FAR):
                break
            ended = first[0]
        if ended != FAR and ended <= (draft.cancelled or FAR):
            draft.done, draft.done_by = first

    def row(self, draft: Draft, dates: Dates) -> FollowUp:
        """The finished follow-up."""
        return FollowUp(
            draft.kind,
            draft.person,
            draft.device,
            draft.cause,
            draft.started,
            dates.opens,
            dates.due,
            dates.last_day,
            draft.done,
            None if draft.done else draft.cancelled,
            draft.tier,
            tuple(
                [
                    Reason(each.rule, each.anchor, each.offset, self.roll(each, draft.started, draft.site))
                    for each in draft.proposals
                ]
            ),
            dates.binding,
            dates.moved,
            draft.done_by,
        )

    def _paused_until(self, due: date, ended: date, known: date) -> date | None:
        """The last day of the longest pause, of those begun in time, that a due date falls in."""
        return max(
            (
                pause.body.until
                for pause in self.pauses
                if pause.on <= due <= pause.body.until and pause.on < ended and pause.on <= known
            ),
            default=None,
        )

    def _opens(self, proposal: Proposal, due: date, started: date) -> date:
        if proposal.early is None:
            return started
        opens = self.calendar.before(due, proposal.early)
        return opens if opens > started else started

    def _last(self, proposal: Proposal, due: date, site: str) -> date:
        if proposal.grace is None:
            return self.calendar.roll(max(due, proposal.until or due), site)
        last = self.calendar.plus(due, proposal.grace, site)
        return last if proposal.grace.unit == Unit.WORKING_DAYS else self.calendar.roll(last, site)

    def _after_away(self, fact: Fact, due: date, started: date, ended: date, site: str) -> date | None:
        """The later due date of a row that waited while the device was away; None if it did not."""
        left, back = fact.on, fact.body.back
        if left > due or max(left, started) >= min(back or FAR, ended):
            return None
        if back is None:
            back = fact.body.promised or self.calendar.plus(left, self.away.without_a_promise, site)
        later = self._rolled_plus(back, self.away.after_back, site)
        return later if later > due else None

    def _rolled_plus(self, day: date, span: Span, site: str) -> date:
        return self.calendar.roll(self.calendar.plus(day, span, site), site)
