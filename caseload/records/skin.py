"""What a look at the skin under a device finds."""

from __future__ import annotations

from dataclasses import dataclass

from caseload.records import words
from caseload.records.columns import Kind, column


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A look at one area: in person, at a picture, or as told on the phone."""

    area: str = column(Kind.OPEN_WORD, "Area", "The landmark under the device.", offered="areas", required=True)
    how: str = column(
        Kind.WORD,
        "How",
        "A rub that has reached stop or urgent is cleared only by a look in person.",
        words=words.WAYS_OF_LOOKING,
        required=True,
    )
    fade_minutes: float | None = column(
        Kind.NUMBER, "Mark faded after", "Minutes after the device is off.", low=0, high=1440, unit="min"
    )
    blanching: str = column(Kind.WORD, "Whitens when pressed", words=words.BLANCHINGS)
    pain: float | None = column(Kind.NUMBER, "Pain", "0 none to 10 worst.", low=0, high=10)
    stopped_wear: bool | None = column(Kind.YES_NO, "Pain stopped wear")
    skin: str = column(Kind.WORD, "Skin", words=words.SKINS, required=True)
    signs: tuple[str, ...] = column(Kind.WORDS, "Signs", words=words.SIGNS)
    raised_to: str = column(Kind.WORD, "Grade raised to", "By a clinician, never lowered.", words=words.RAISED)
    raised_reason: str = column(Kind.TEXT, "Why raised")
