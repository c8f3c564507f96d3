"""Facts of fitting and teaching: the fit check, a change of footwear, practice in donning and doffing."""

from __future__ import annotations

from dataclasses import dataclass

from caseload.records import words
from caseload.records.columns import Kind, column


@dataclass(frozen=True, slots=True, kw_only=True)
class FitCheck:
    """A check of the fit, sitting, standing and walking."""

    overall: str = column(
        Kind.WORD,
        "Overall",
        "Needs adjustment: checked again within days. Not to be worn: off until it is put right.",
        words=words.FIT_JUDGEMENTS,
        required=True,
    )
    concerns: str = column(Kind.TEXT, "Concerns", "What does not fit, and where.", long=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class FootwearChange:
    """Other shoes, an insole put in or taken out: the fit is no longer the one that was checked."""

    what: str = column(Kind.TEXT, "What changed")


@dataclass(frozen=True, slots=True, kw_only=True)
class Practice:
    """One practice in putting the device on and taking it off, by the wearer or by one carer."""

    who: str = column(
        Kind.OPEN_WORD, "Who practised", "wearer, or the carer's name.", words=(words.WEARER,), required=True
    )
    don: str = column(
        Kind.WORD, "Putting it on", "Level of assistance.", words=tuple(words.LEVELS), required=True
    )
    doff: str = column(
        Kind.WORD, "Taking it off", "Level of assistance.", words=tuple(words.LEVELS), required=True
    )
    minutes: int | None = column(Kind.WHOLE, "Minutes", low=0, high=480, unit="min")
