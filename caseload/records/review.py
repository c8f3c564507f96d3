"""Facts of review: where it is heading, the reassessment, what was measured."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.columns import Kind, column


@dataclass(frozen=True, slots=True, kw_only=True)
class Trajectory:
    """Where the person is heading with this device, as a clinician judges it."""

    trajectory: str = column(
        Kind.WORD, "Heading", "It sets how often they are reviewed.", words=words.TRAJECTORIES, required=True
    )
    reason: str = column(Kind.TEXT, "Why")


@dataclass(frozen=True, slots=True, kw_only=True)
class Reassessment:
    """A review of the person with this device, and what was decided."""

    decision: str = column(Kind.WORD, "Decision", words=words.DECISIONS, required=True)
    next_on: date | None = column(
        Kind.DAY,
        "Next review on",
        "Only to set it by hand; the rules propose one otherwise.",
        may_lie_ahead=True,
    )
    next_reason: str = column(Kind.TEXT, "Why then", "Needed with a date set by hand.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """One measured value, with its condition."""

    measure: str = column(Kind.OPEN_WORD, "Measure", words=tuple(words.MEASURES), required=True)
    value: float = column(Kind.NUMBER, "Value", required=True)
    device_on: bool | None = column(Kind.YES_NO, "Device on")
    aid: str = column(Kind.TEXT, "Walking aid")
    shoes: str = column(Kind.TEXT, "Shoes")
