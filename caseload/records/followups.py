"""What is owed: one follow-up, its dates, and why they are what they are."""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import NamedTuple


class FollowUpKind(StrEnum):
    """The kinds of follow-up, in the words of the trade."""

    FIT_CHECK = "fit check"
    DONNING_PRACTICE = "donning practice"
    WEAR_CHECK = "wear check"
    SKIN_LOOK = "skin look"
    ADJUSTMENT = "adjustment"
    REASSESSMENT = "reassessment"
    REBOOKING = "rebooking"
    ESCALATION = "escalation"
    OPEN_ACCESS_ENDING = "open access ending"
    SUPPLY = "supply"
    BACK_FROM_WORKSHOP = "back from workshop"
    REPLACEMENT = "replacement"


class State(StrEnum):
    """How a follow-up stands on a day; never stored, for it changes at midnight."""

    WAITING = "waiting"
    OPEN = "open"
    LATE = "late"
    MISSED = "missed"
    DONE = "done"
    CANCELLED = "cancelled"


class Reason(NamedTuple):
    """One date that one rule proposes."""

    rule: str
    """In the words of the protocol: `trajectory stable`, `fall, hurt`."""
    anchor: date
    """The day it counts from."""
    offset: str
    """What is added to it: `6 months`, `2 working days`."""
    proposes: date
    """The date after rolling to a working day, not before the row started."""


class FollowUp(NamedTuple):
    """One thing owed to one person. started <= opens <= due <= last_day."""

    kind: FollowUpKind
    person: str
    device: str | None
    """None for what is owed to the person rather than for a device."""
    cause: str
    """The request's reference for an adjustment, the area for a skin look, else what started it."""
    started: date
    opens: date
    due: date
    last_day: date
    done: date | None
    cancelled: date | None
    tier: int
    """1 (first) to 5."""
    reasons: tuple[Reason, ...]
    """All competing dates, in the order of the rules."""
    binding: int
    """Which of `reasons` is binding."""
    moved: str = ""
    """Why due is not the binding date: the device was away, or a pause; empty if it is."""
    done_by: str | None = None
    """The id of the fact that did it."""

    @property
    def why(self) -> Reason:
        """The reason that is binding."""
        return self.reasons[self.binding]

    @property
    def anchor(self) -> date:
        """The day the binding rule counts from."""
        return self.reasons[self.binding].anchor

    @property
    def ended(self) -> date | None:
        """The day it was done or cancelled; None while it is owed."""
        return self.done or self.cancelled

    def state(self, on: date) -> State:
        """How it stands on a day (rules.md 2)."""
        if self.done is not None and self.done <= on:
            return State.DONE
        if self.cancelled is not None and self.cancelled <= on:
            return State.CANCELLED
        if on < self.opens:
            return State.WAITING
        if on <= self.due:
            return State.OPEN
        return State.LATE if on <= self.last_day else State.MISSED
