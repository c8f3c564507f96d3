"""What is owed, in words: what it is, how it stands today, what would do it, and when it may be done."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from caseload.records import words
from caseload.records.followups import FollowUp, FollowUpKind, Reason, State
from caseload.words import days

DONE_BY = {
    FollowUpKind.FIT_CHECK: "a fit check",
    FollowUpKind.DONNING_PRACTICE: "a practice in putting on and taking off",
    FollowUpKind.WEAR_CHECK: "a wear report",
    FollowUpKind.ADJUSTMENT: "an adjustment that is done, or the request withdrawn",
    FollowUpKind.REASSESSMENT: "a reassessment",
    FollowUpKind.REBOOKING: "a contact reached or attended",
    FollowUpKind.OPEN_ACCESS_ENDING: "a contact reached or attended",
    FollowUpKind.BACK_FROM_WORKSHOP: "the day the device is back",
    FollowUpKind.REPLACEMENT: "a reassessment that decides it",
}
RECORDS = {
    FollowUpKind.FIT_CHECK: "fit check",
    FollowUpKind.DONNING_PRACTICE: "practice",
    FollowUpKind.WEAR_CHECK: "wear report",
    FollowUpKind.SKIN_LOOK: "look",
    FollowUpKind.ADJUSTMENT: "adjustment",
    FollowUpKind.REASSESSMENT: "reassessment",
    FollowUpKind.REBOOKING: "contact",
    FollowUpKind.ESCALATION: "escalation",
    FollowUpKind.OPEN_ACCESS_ENDING: "contact",
    FollowUpKind.BACK_FROM_WORKSHOP: "away",
    FollowUpKind.REPLACEMENT: "reassessment",
}
"""The kind of fact that does a kind of follow-up; a supply is done on the device itself."""
_GRADE = {1: "urgent", 2: "stop", 3: "watch"}


def what(row: FollowUp) -> str:
    """`skin look, urgent`, `adjustment for a rub`, `reassessment, fall, hurt`, `fit check`."""
    if row.kind is FollowUpKind.SKIN_LOOK:
        return f"skin look, {_GRADE.get(row.tier, 'watch')}"
    rule = row.why.rule
    if row.kind is FollowUpKind.ADJUSTMENT:
        return "adjustment for a rub" if rule.startswith("rub") else f"adjustment, {rule}"
    if row.kind is FollowUpKind.ESCALATION and "," in rule:
        return f"escalation, {rule.partition(',')[0]}"
    if row.kind is FollowUpKind.REBOOKING or (row.kind is FollowUpKind.REASSESSMENT and row.tier <= 3):
        return f"{row.kind}, {rule}"
    if row.kind is FollowUpKind.DONNING_PRACTICE and rule.endswith("stalled"):
        return f"{row.kind}, stalled"
    if row.kind is FollowUpKind.BACK_FROM_WORKSHOP and row.tier == 1:
        return f"{row.kind}, fell meanwhile"
    return str(row.kind)


def what_where(row: FollowUp) -> str:
    """The same with the place of a look, where there is room: `skin look, urgent: navicular`."""
    if row.kind is not FollowUpKind.SKIN_LOOK:
        return what(row)
    return f"{what(row)}: {'place not stated' if row.cause == words.NOT_STATED else row.cause}"


def stands(row: FollowUp, today: date) -> str:
    """How it stands: `due today`, `due Thu`, `2 days late`, `missed by 9 days`, `opens in 3 weeks`."""
    state = row.state(today)
    if state is State.DONE:
        return f"done {days.near(row.done, today)}" if row.done else "done"
    if state is State.CANCELLED:
        return "cancelled"
    late = (today - row.due).days
    if state is State.LATE:
        return f"{days.count(late, 'day')} late"
    if state is State.MISSED:
        return f"missed by {days.span(late)}"
    return f"due {days.near(row.due, today)}" if state is State.OPEN else f"opens {days.near(row.opens, today)}"


def done_by(row: FollowUp) -> str:
    """What would do it: `a look in person`."""
    if row.kind is FollowUpKind.SKIN_LOOK:
        return "a look in person" if row.tier <= 2 else "a look, a picture or a call"
    if row.kind is FollowUpKind.ESCALATION:
        return (
            "an answer"
            if row.cause and row.why.rule.startswith("escalation")
            else "somebody told, and recorded"
        )
    if row.kind is FollowUpKind.SUPPLY:
        return "its delivery, or the order of the next device"
    return DONE_BY[row.kind]


def reason(why: Reason, today: date) -> str:
    """`trajectory stable, Sun 24 May; 6 months later`: the rule, what it counts from, and how far."""
    counted = f"{why.rule}, {days.full(why.anchor, today)}"
    if not why.offset or why.offset.startswith("0 "):
        return counted
    plain_length = (
        why.offset[0].isdigit() and why.offset.rpartition(" ")[2] != "before" and "," not in why.offset
    )
    return f"{counted}; {why.offset}{' later' if plain_length else ''}"


def competing(row: FollowUp, today: date) -> tuple[str, ...]:
    """The other dates that rules proposed, each as a short line."""
    others = (why for at, why in enumerate(row.reasons) if at != row.binding)
    return tuple(f"{why.rule} would be {days.full(why.proposes, today)}" for why in others)


def dates(row: FollowUp, today: date) -> str:
    """`due Thu 31 Dec, opens Thu 3 Dec, at the latest Thu 28 Jan 2027`."""
    opens = "" if row.opens <= today else f", opens {days.full(row.opens, today)}"
    last = "" if row.last_day == row.due else f", at the latest {days.full(row.last_day, today)}"
    rolled = "" if row.why.proposes == row.due else f"would be {days.full(row.why.proposes, today)}, "
    return f"{rolled}due {days.full(row.due, today)}{opens}{last}"


def counts_said(rows: Iterable[FollowUp], today: date, end_of_week: date) -> str:
    """`1 urgent rub, 2 missed, 6 late, 9 due this week, 3 not yet competent`; what is nought is not said.

    Each follow-up counts once, by the first of these that it is; competence is told beside them.
    """
    number = dict.fromkeys(("urgent rub", "urgent", "missed", "late", "due this week", "not yet competent"), 0)
    for row in rows:
        state = row.state(today)
        pressing = state in (State.OPEN, State.LATE, State.MISSED)
        if row.kind is FollowUpKind.DONNING_PRACTICE:
            number["not yet competent"] += 1
        if row.tier == 1 and pressing:
            number["urgent rub" if row.kind is FollowUpKind.SKIN_LOOK else "urgent"] += 1
        elif state is State.MISSED:
            number["missed"] += 1
        elif state is State.LATE:
            number["late"] += 1
        elif row.due <= end_of_week:
            number["due this week"] += 1
    rubs = number["urgent rub"]
    said = {
        "urgent rub": "urgent rubs" if rubs > 1 else "urgent rub",
        "urgent": "more urgent" if rubs else "urgent",
    }
    return ", ".join(f"{count} {said.get(word, word)}" for word, count in number.items() if count)
