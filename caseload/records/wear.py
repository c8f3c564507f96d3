"""Facts of wearing: the plan, what was worn, wear stopped, the device away."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.columns import Kind, column


@dataclass(frozen=True, slots=True, kw_only=True)
class WearPlan:
    """A wearing schedule that builds up from the day it is dated."""

    plan: str = column(
        Kind.OPEN_WORD,
        "Plan",
        "standard, standard slow, gentle, or steps: 1d 2h/1h max 6h; 1d 3h/1h max 8h",
        words=words.PLANS,
        required=True,
    )
    goal_hours: float | None = column(
        Kind.NUMBER, "Goal", "Hours a day that count as full wear; 6 if blank.", low=0.5, high=24, unit="h"
    )
    reason: str = column(
        Kind.TEXT,
        "Reason",
        "Needed for a standard plan when the skin is vulnerable, or when sensation is not on record.",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class WearReport:
    """What was worn, as told; a report that is not clear is also a told look."""

    hours: float = column(Kind.NUMBER, "Hours worn", "In one day.", low=0, high=24, unit="h", required=True)
    longest: float | None = column(Kind.NUMBER, "Longest spell", low=0, high=24, unit="h")
    area: str = column(Kind.OPEN_WORD, "Area", "Where a mark is, if there is one.", offered="areas")
    fade_minutes: float | None = column(
        Kind.NUMBER, "Mark faded after", "Minutes after the device is off.", low=0, high=1440, unit="min"
    )
    blanching: str = column(Kind.WORD, "Whitens when pressed", words=words.BLANCHINGS)
    pain: float | None = column(Kind.NUMBER, "Pain", "0 none to 10 worst.", low=0, high=10)
    stopped_wear: bool | None = column(Kind.YES_NO, "Pain stopped wear")
    skin: str = column(Kind.WORD, "Skin", words=words.SKINS)
    signs: tuple[str, ...] = column(Kind.WORDS, "Signs", words=words.SIGNS)
    raised_to: str = column(Kind.WORD, "Grade raised to", "By a clinician, never lowered.", words=words.RAISED)
    raised_reason: str = column(Kind.TEXT, "Why raised")


@dataclass(frozen=True, slots=True, kw_only=True)
class WearStop:
    """Wear stopped, by a clinician or by the wearer, until it is lifted."""

    stopped_by: str = column(Kind.WORD, "Stopped by", words=words.STOPPERS, required=True)
    reason: str = column(Kind.TEXT, "Why", required=True)
    falls_advice: bool | None = column(
        Kind.YES_NO, "Falls advice given", "How they get about without the device, at night too."
    )
    lifted_on: date | None = column(Kind.DAY, "Lifted on", "The day it may be worn again.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Away:
    """The device is not with its wearer: at the workshop, mostly."""

    promised: date | None = column(Kind.DAY, "Promised back", may_lie_ahead=True)
    back: date | None = column(Kind.DAY, "Back on")
    reason: str = column(Kind.TEXT, "Why")
    loan: bool | None = column(Kind.YES_NO, "Loan given")
    falls_advice: bool | None = column(
        Kind.YES_NO, "Falls advice given", "How they get about without the device, at night too."
    )
