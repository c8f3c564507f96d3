"""Facts as sentences: in the history, under a follow-up, and in a visit copied for the clinic's own notes.

Each fact is said once here, in trade words. Names and notes come out as they were typed: whoever shows them
passes them through `caseload.plain`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import Any

from caseload.records import words
from caseload.records.columns import columns
from caseload.records.devices import Device
from caseload.records.facts import Fact
from caseload.words import days, entry


def fact_said(fact: Fact, today: date) -> str:
    """What happened, without who and when: `blister at the navicular, seen`."""
    sayer = _SAYERS.get(fact.kind)
    if sayer is None:
        return _all_of(fact.body, today)
    return _joined(sayer(fact.body, today))


def sentence(fact: Fact, device: Device | None, today: date) -> str:
    """A whole sentence: `LEFT AFO, Mon 23 Nov: blister at the navicular, seen.`"""
    about = f"{device.name}, " if device is not None else ""
    note = f" {fact.note.strip()}" if fact.note.strip() else ""
    by = f" ({fact.by})" if fact.by else ""
    return f"{about}{days.full(fact.on, today)}: {fact_said(fact, today)}.{note}{by}"


def visit(person: str, facts: Iterable[Fact], devices: dict[str, Device], today: date) -> tuple[str, ...]:
    """The latest day on which something was recorded, one sentence a fact; empty when nothing was."""
    counting = [fact for fact in facts if fact.counts]
    if not counting:
        return ()
    day = max(fact.on for fact in counting)
    told = sorted((fact for fact in counting if fact.on == day), key=lambda fact: (fact.at, fact.order))
    return (
        f"{person}, {days.full(day)}.",
        *(_visit_line(fact, devices.get(fact.device or ""), today) for fact in told),
    )


def _visit_line(fact: Fact, device: Device | None, today: date) -> str:
    about = f"{device.name}: " if device is not None else ""
    note = f" {fact.note.strip()}" if fact.note.strip() else ""
    said = fact_said(fact, today)
    return f"{about or said[:1].upper()}{said if about else said[1:]}.{note}"


def _joined(parts: Iterable[str]) -> str:
    return ", ".join(part for part in parts if part)


def _all_of(body: Any, today: date) -> str:
    said = (
        (column.label, entry.said(column, getattr(body, column.name), today)) for column in columns(type(body))
    )
    return _joined(f"{label.lower()} {text}" for label, text in said if text)


def _yes(flag: bool | None, if_so: str, if_not: str = "") -> str:
    return if_so if flag else if_not if flag is False else ""


def _hours(hours: float | None) -> str:
    return f"{hours:g} h" if hours is not None else ""


def skin_said(body: Any) -> str:
    """What a look or a wear report says of the skin, the worst first: `mark at the heel fading in 25 min`."""
    at = f" at the {body.area}" if body.area and body.area != words.NOT_STATED else ""
    fading = f" fading in {body.fade_minutes:g} min" if body.fade_minutes is not None else ""
    finding = {
        "": f"mark{at}" if fading or at else "",
        words.SKIN_CLEAR: f"skin clear{at}",
        words.BROKEN: f"skin broken{at}",
        words.DARK: f"dark or purple skin{at}",
    }.get(body.skin, f"{body.skin}{at}")
    return _joined(
        (
            f"{finding}{fading}",
            {"yes": "whitens when pressed", "no": "does not whiten when pressed"}.get(body.blanching, ""),
            f"pain {body.pain:g}" if body.pain else "",
            "pain stopped wear" if body.stopped_wear else "",
            *body.signs,
            f"raised to {body.raised_to}: {body.raised_reason}" if body.raised_to else "",
        )
    )


def _look(body: Any, today: date) -> tuple[str, ...]:
    how = {words.SEEN: "seen", words.PICTURE: "by picture", words.TOLD: "as told"}
    return (skin_said(body), how[body.how])


def _wear_report(body: Any, today: date) -> tuple[str, ...]:
    longest = f"{_hours(body.longest)} at a stretch" if body.longest is not None else ""
    return (f"worn {_hours(body.hours)}", longest, skin_said(body))


def _practice(body: Any, today: date) -> tuple[str, ...]:
    def level(code: str) -> str:
        return f"{code} {words.LEVELS[code]}"

    who = "wearer" if body.who == words.WEARER else f"{body.who} (carer)"
    return (
        f"{who}: on {level(body.don)}, off {level(body.doff)}",
        f"{body.minutes} min" if body.minutes else "",
    )


def _change(body: Any, today: date) -> tuple[str, ...]:
    what = {"foot_risk": "foot-risk category", "circulation_concern": "circulation concern"}.get(
        body.what, body.what
    )
    until = f"until {days.full(body.until, today)}" if body.until else ""
    return (f"{what} is now {body.to}", until, body.reason)


def _wear_stop(body: Any, today: date) -> tuple[str, ...]:
    lifted = f"lifted {days.full(body.lifted_on, today)}" if body.lifted_on else "not lifted"
    return (
        f"wear stopped by {body.stopped_by}: {body.reason}",
        lifted,
        _yes(body.falls_advice, "falls advice given"),
    )


def _request(body: Any, today: date) -> tuple[str, ...]:
    return (
        f"adjustment asked for, {body.cause}" + (f" at the {body.area}" if body.area else ""),
        body.work,
        f"not before {days.full(body.not_before, today)}" if body.not_before else "",
        f"waits for {body.waiting_for}" if body.waiting_for else "",
        f"needed by {days.full(body.needed_by, today)}" if body.needed_by else "",
        _yes(body.still_worn, "still worn", "not worn"),
        f"reference {body.request}",
    )


def _adjustment(body: Any, today: date) -> tuple[str, ...]:
    return (f"adjustment {body.outcome} ({body.request})", body.work, body.settings)


def _away(body: Any, today: date) -> tuple[str, ...]:
    back = f"back {days.full(body.back, today)}" if body.back else (
        f"promised for {days.full(body.promised, today)}" if body.promised else "no day promised"
    )  # fmt: skip
    return (
        "device away",
        body.reason,
        back,
        _yes(body.loan, "loan given"),
        _yes(body.falls_advice, "falls advice given"),
    )


def _reassessment(body: Any, today: date) -> tuple[str, ...]:
    by_hand = f"next by hand {days.full(body.next_on, today)}: {body.next_reason}" if body.next_on else ""
    return (f"reassessed, decision: {body.decision}", by_hand)


def measured(body: Any) -> str:
    """One value with its unit and condition: `gait speed 0.81 m/s, device on, stick`."""
    unit = words.MEASURES.get(body.measure, "").split(",")[0]
    return _joined(
        (
            f"{body.measure} {body.value:g} {unit}".strip(),
            _yes(body.device_on, "device on", "device off"),
            body.aid,
            body.shoes,
        )
    )


def _fall(body: Any, today: date) -> tuple[str, ...]:
    worn = f"wearing {', '.join(body.devices_worn)}" if body.devices_worn else ""
    return ("fall", _yes(body.hurt, "hurt", "not hurt"), worn, body.activity)


def _escalation(body: Any, today: date) -> tuple[str, ...]:
    answer = (
        f"answered {days.full(body.answered_on, today)} {body.answered_by}".strip()
        if body.answered_on
        else "not answered"
    )
    return (f"told {body.to}: {body.why}", answer)


_SAYERS: dict[str, Callable[[Any, date], tuple[str, ...]]] = {
    "change": _change,
    "trajectory": lambda body, today: (f"heading: {body.trajectory}", body.reason),
    "fit check": lambda body, today: (f"fit {body.overall}", body.concerns),
    "footwear change": lambda body, today: ("footwear changed", body.what),
    "practice": _practice,
    "wear plan": lambda body, today: (
        f"wear plan {body.plan}",
        f"goal {_hours(body.goal_hours or 6)}",
        body.reason,
    ),
    "wear report": _wear_report,
    "look": _look,
    "wear stop": _wear_stop,
    "adjustment request": _request,
    "adjustment": _adjustment,
    "request withdrawal": lambda body, today: (f"request {body.request} withdrawn", body.reason),
    "away": _away,
    "reassessment": _reassessment,
    "measure": lambda body, today: (measured(body),),
    "fall": _fall,
    "contact": lambda body, today: (f"contact by {body.how}: {body.outcome}",),
    "escalation": _escalation,
    "pause": lambda body, today: (f"paused until {days.full(body.until, today)}", body.reason),
}
