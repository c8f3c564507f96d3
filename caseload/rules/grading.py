"""How bad a look at the skin is: computed from what was found, never typed (rules.md 4.4)."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from caseload.records import words
from caseload.records.skin import Look
from caseload.records.words import Grade
from caseload.rules.protocol.settings import SkinRules

URGENT_SIGNS = frozenset(words.SIGNS) - {"firm or warm"}
OPEN_SKIN = (words.BLISTER, words.BROKEN, words.DARK)


@dataclass(frozen=True, slots=True)
class Graded:
    """A grade and the finding it rests on."""

    grade: Grade
    because: str
    """The worst finding, in words: `mark lasting 35 min`."""


def grade(found: Any, vulnerable: bool, rules: SkinRules) -> Graded:
    """Grade a `Look` or a `WearReport`; what a clinician raised it to counts where it is higher."""
    computed = _computed(found, vulnerable, rules)
    raised = words.GRADES.get(found.raised_to, Grade.CLEAR)
    if raised > computed.grade:
        return Graded(raised, f"raised by a clinician: {found.raised_reason}".removesuffix(": "))
    return computed


def skin_of(found: Any) -> str:
    """What the skin was; a wear report without a word is a mark if a fade time is given, else clear."""
    if found.skin or isinstance(found, Look):
        return str(found.skin)
    return words.SKIN_CLEAR if found.fade_minutes is None else words.MARK


def _computed(found: Any, vulnerable: bool, rules: SkinRules) -> Graded:
    skin = skin_of(found)
    if skin in OPEN_SKIN:
        return Graded(
            Grade.URGENT, {words.BROKEN: "broken skin", words.DARK: "dark or purple skin"}.get(skin, skin)
        )
    for sign in found.signs:
        if sign in URGENT_SIGNS:
            return Graded(Grade.URGENT, sign)
    graded = [_of_mark(found, vulnerable, rules)] if skin == words.MARK else []
    if found.stopped_wear:
        graded.append(Graded(Grade.STOP, "pain stopped wear"))
    if found.signs:
        graded.append(Graded(Grade.STOP, "skin firm or warm"))
    if found.pain is not None and found.pain >= rules.stop_from_pain:
        graded.append(Graded(Grade.STOP, f"pain {found.pain:g} of 10"))
    elif found.pain is not None and found.pain >= rules.watch_from_pain:
        graded.append(Graded(Grade.WATCH, f"pain {found.pain:g} of 10"))
    return max(graded, key=lambda each: each.grade, default=Graded(Grade.CLEAR, "no mark and no pain"))


def _of_mark(found: Any, vulnerable: bool, rules: SkinRules) -> Graded:
    """The grade of a mark, by how long it lasted and whether it whitens when pressed."""
    if found.blanching == "no":
        return Graded(Grade.STOP, "mark that does not whiten when pressed")
    minutes = found.fade_minutes
    if minutes is None:
        known = "mark lasting nobody knows how long"
        return Graded(Grade.STOP, f"{known}, vulnerable skin") if vulnerable else Graded(Grade.WATCH, known)
    lasting = f"mark lasting {minutes:g} min"
    if minutes > rules.stop_over_minutes:
        return Graded(Grade.STOP, lasting)
    if vulnerable and minutes >= rules.vulnerable_stop_from_minutes:
        return Graded(Grade.STOP, f"{lasting}, vulnerable skin")
    if minutes >= rules.watch_from_minutes:
        return Graded(Grade.WATCH, lasting)
    return Graded(Grade.CLEAR, f"{lasting}, faded in time")
