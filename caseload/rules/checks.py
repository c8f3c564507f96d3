"""What makes a record acceptable, said once for forms, the command line and workbooks.

`made` checks values one by one against what a record declares; `about` checks a fact against the case
it belongs to. Both return every problem there is, with the field it stands at; neither raises.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from difflib import get_close_matches
from typing import Any

from caseload.errors import Problem
from caseload.records import words
from caseload.records.case import Case
from caseload.records.columns import Column, Kind, columns
from caseload.records.devices import Device
from caseload.records.facts import Fact
from caseload.records.people import ALLOWED
from caseload.rules.attributes import Attributes
from caseload.rules.grading import grade
from caseload.rules.protocol.settings import SkinRules
from caseload.rules.wear_steps import read_steps

_TIME = re.compile(r"([01]\d|2[0-3]):[0-5]\d")
_COUNTS_WHENEVER = ("trajectory", "measure")
_LONGEST = 100_000


def made(record: type[Any], values: Mapping[str, Any], today: date) -> tuple[Any, list[Problem]]:
    """(the record, warnings) from typed values, or (None, problems); a missing or None value is blank."""
    problems: list[Problem] = []
    good: dict[str, Any] = {}
    known = {told.name: told for told in columns(record)}
    for name in values:
        if name not in known:
            near = get_close_matches(name, known, 1)
            problems.append(Problem(f"there is no {name}" + (f"; is it {near[0]}?" if near else "."), name))
    for name, told in known.items():
        value = values.get(name)
        if value is None or value == "" or value == () or value == []:
            if told.required:
                problems.append(Problem(f"{told.label} must be filled in.", name))
            continue
        value, wrong = check(told, value, today)
        good[name] = value
        if wrong:
            problems.append(Problem(wrong, name))
    return (None, problems) if problems else (record(**good), [])


def check(told: Column, value: Any, today: date) -> tuple[Any, str]:
    """(the value as it is kept, '' or what is wrong with it) for a value that is not blank."""
    if told.kind is Kind.DAY:
        return _day(told, value, today)
    if told.kind is Kind.YES_NO:
        return value, "" if isinstance(value, bool) else f"{told.label} must be yes or no."
    if told.kind in (Kind.WHOLE, Kind.NUMBER):
        return _number(told, value)
    if told.kind in (Kind.WORDS, Kind.LIST):
        return _several(told, value)
    if not isinstance(value, str):
        return value, f"{told.label} must be text."
    if wrong := unstorable(value):
        return value, f"{told.label} {wrong}"
    if told.kind is Kind.TIME and not _TIME.fullmatch(value):
        return value, f"{told.label} must be a time of day as HH:MM, not {value[:20]!r}."
    if told.kind is Kind.WORD and value not in told.words:
        return value, _no_word(told, value)
    return value, ""


def unstorable(text: str) -> str:
    """'' or why a text cannot be kept exactly as it was typed."""
    if len(text) > _LONGEST:
        return f"is longer than {_LONGEST} characters."
    if "\x00" in text:
        return "holds a zero character, which no database keeps."
    if any("\ud800" <= letter <= "\udfff" for letter in text):
        return "holds half of a character; type it again."
    return ""


def _day(told: Column, value: Any, today: date) -> tuple[Any, str]:
    if type(value) is not date:
        return value, f"{told.label} must be a date."
    if value > today and not told.may_lie_ahead:
        return value, f"{told.label} {value} lies in the future."
    if not 1900 <= value.year <= 2200:
        return value, f"{told.label} {value} is no date of this caseload; is the year right?"
    return value, ""


def _number(told: Column, value: Any) -> tuple[Any, str]:
    if isinstance(value, bool) or not isinstance(value, (int, float)) or value != value:
        return value, f"{told.label} must be a number."
    if told.kind is Kind.WHOLE and value != int(value):
        return value, f"{told.label} must be a whole number."
    if (told.low is not None and value < told.low) or (told.high is not None and value > told.high):
        unit = f" {told.unit}" if told.unit else ""
        return value, f"{told.label} must be from {told.low:g} to {told.high:g}{unit}, not {value:g}."
    if abs(value) > 1e9:
        return value, f"{told.label} {value:g} is out of range."
    return (int(value) if told.kind is Kind.WHOLE else float(value)), ""


def _several(told: Column, value: Any) -> tuple[Any, str]:
    if isinstance(value, str) or not all(isinstance(each, str) for each in value):
        return value, f"{told.label} must be a list."
    for each in value:
        if wrong := unstorable(each):
            return value, f"{told.label} {wrong}"
        if told.kind is Kind.WORDS and each not in told.words:
            return value, _no_word(told, each)
    return tuple(value), ""


def _no_word(told: Column, value: str) -> str:
    near = get_close_matches(value.lower(), told.words, 1)
    if near:
        return f"{told.label} {value[:40]!r} is not known; is it {near[0]!r}?"
    return f"{told.label} {value[:40]!r} is not known; it is one of: {', '.join(told.words)}."


# A fact against the case it belongs to.


def about(fact: Fact, case: Case, skin: SkinRules, *, brought_in: bool = False) -> list[Problem]:
    """What is wrong with, or worth saying about, a fact of this case (which may or may not hold it yet).

    `skin`: of the protocol in force on its day. `brought_in`: it was written down elsewhere, so that
    what cannot change anything any more is only said.
    """
    problems = _in_order_of_days(fact)
    if extra := _OF_KIND.get(fact.kind):
        problems += extra(fact, case, skin, brought_in)
    if fact.device is not None:
        problems += _within_use(fact, case)
    return problems


_NOT_BEFORE = {
    "wear stop": ("lifted_on", "Wear cannot be allowed again before it was stopped."),
    "away": ("back", "A device cannot be back before it left."),
    "escalation": ("answered_on", "An answer cannot come before the escalation."),
    "pause": ("until", "A pause cannot end before it begins."),
    "change": ("until", "Open access cannot end before it is granted."),
}


def _in_order_of_days(fact: Fact) -> list[Problem]:
    name, says = _NOT_BEFORE.get(fact.kind, ("", ""))
    day = getattr(fact.body, name) if name else None
    return [Problem(says, name)] if day is not None and day < fact.on else []


def _within_use(fact: Fact, case: Case) -> list[Problem]:
    for device in case.devices:
        if device.device == fact.device:
            break
    else:
        return []
    began = device.delivered or device.taken_over
    if fact.kind not in _COUNTS_WHENEVER and (began is None or fact.on < began):
        since = f"before {device.device} was delivered" + (f" on {began}" if began else "")
        return [Problem(f"{fact.on} is {since}; it is kept.", "on", warning=True)]
    if device.ended is not None and fact.on > device.ended:
        return [Problem(f"{fact.on} is after {device.device} ended on {device.ended}; it is kept.", "on", True)]
    return []


def attributes(case: Case) -> Attributes:
    """The dated attributes of a case."""
    changes = [fact for fact in case.facts if fact.kind == "change" and fact.counts]
    return Attributes(case.person, sorted(changes, key=lambda fact: (fact.on, fact.order)))


def _raised(fact: Fact, case: Case, skin: SkinRules, brought_in: bool) -> list[Problem]:
    body = fact.body
    if not body.raised_to:
        return []
    problems = []
    if not body.raised_reason.strip():
        problems.append(Problem("Why the grade is raised must be filled in.", "raised_reason"))
    graded = grade(body, attributes(case).vulnerable(fact.on), skin)
    if graded.grade.word != body.raised_to:
        says = f"It is graded {graded.grade.word} already ({graded.because}); a grade is never lowered."
        problems.append(Problem(says, "raised_to", warning=brought_in))
    return problems


def _plan(fact: Fact, case: Case, skin: SkinRules, brought_in: bool) -> list[Problem]:
    plan = fact.body.plan
    if plan not in words.PLANS:
        steps, wrong = read_steps(plan)
        return [] if steps else [Problem(f"Plan: {wrong}", "plan")]
    known = attributes(case)
    if plan == "gentle" or fact.body.reason.strip() or not known.vulnerable(fact.on):
        return []
    because = "sensation is not on record" if known.unrecorded_skin(fact.on) else "the skin is vulnerable"
    return [Problem(f"A {plan} plan needs a reason, for {because}.", "reason")]


def _by_hand(date_field: str, reason_field: str) -> Callable[..., list[Problem]]:
    def check_reason(fact: Fact, case: Case, skin: SkinRules, brought_in: bool) -> list[Problem]:
        by_hand = getattr(fact.body, date_field)
        if by_hand is None:
            return []
        problems = []
        if not getattr(fact.body, reason_field).strip():
            problems.append(Problem("A date set by hand needs a reason.", reason_field))
        if by_hand < fact.on:
            says = f"{by_hand} lies before {fact.on}, the day it is set on."
            problems.append(Problem(says, date_field, warning=brought_in))
        return problems

    return check_reason


def _change(fact: Fact, case: Case, skin: SkinRules, brought_in: bool) -> list[Problem]:
    body = fact.body
    allowed = ALLOWED.get(body.what)
    if allowed is not None and body.to not in allowed:
        said = body.what.replace("_", " ")
        return [Problem(f"{body.to[:40]!r} is no {said}; it is one of: {', '.join(allowed)}.", "to")]
    died = next((each.on for each in case.facts if _is_death(each) and each.id != fact.id), None)
    if body.what == "status" and died is not None and fact.on >= died:
        says = f"A death on {died} is on record; if that is wrong, strike it out first."
        return [Problem(says, "to", warning=brought_in)]
    open_access = body.what == "status" and body.to == words.OPEN_ACCESS
    if open_access and body.until is None:
        return [Problem("Open access needs its last day.", "until", warning=brought_in)]
    if body.until is not None and not open_access:
        return [Problem("Only open access has a last day.", "until", warning=brought_in)]
    return []


def _is_death(fact: Fact) -> bool:
    return fact.kind == "change" and fact.body.what == "status" and fact.body.to == words.DIED and fact.counts


def _fall(fact: Fact, case: Case, skin: SkinRules, brought_in: bool) -> list[Problem]:
    own = {device.device for device in case.devices}
    return [
        Problem(f"{worn} is no device of {case.person.person}.", "devices_worn")
        for worn in fact.body.devices_worn
        if worn not in own
    ]


def _of_request(fact: Fact, case: Case, skin: SkinRules, brought_in: bool) -> list[Problem]:
    wanted = fact.body.request
    for asked in case.facts:
        if asked.kind == "adjustment request" and asked.body.request == wanted and asked.counts:
            if fact.on < asked.on:
                says = f"{fact.on} is before {wanted} was asked for on {asked.on}; it is kept."
                return [Problem(says, "on", warning=True)]
            return []
    return [Problem(f"There is no adjustment request {wanted[:60]}.", "request")]


_OF_KIND: dict[str, Callable[[Fact, Case, SkinRules, bool], list[Problem]]] = {
    "look": _raised,
    "wear report": _raised,
    "wear plan": _plan,
    "reassessment": _by_hand("next_on", "next_reason"),
    "adjustment request": _by_hand("needed_by", "needed_reason"),
    "change": _change,
    "fall": _fall,
    "adjustment": _of_request,
    "request withdrawal": _of_request,
}


def device(device: Device, case: Case | None = None) -> list[Problem]:
    """What is wrong with a device beyond its single values; `case`: of its person, if it is at hand."""
    problems = []
    began = device.delivered or device.taken_over
    if device.ended and began and device.ended < began:
        problems.append(Problem("A device cannot end before it was delivered.", "ended"))
    if device.delivered and device.ordered and device.delivered < device.ordered:
        problems.append(Problem(f"Delivered on {device.delivered}, before it was ordered.", "delivered", True))
    if device.taken_over and device.delivered and device.taken_over < device.delivered:
        problems.append(Problem("Taken over before it was delivered.", "taken_over", warning=True))
    if device.last_review and not device.taken_over:
        says = "A last review elsewhere counts only for a device taken over."
        problems.append(Problem(says, "last_review", warning=True))
    if device.replaces == device.device:
        problems.append(Problem("A device cannot replace itself.", "replaces"))
    elif device.replaces and case and device.replaces not in {each.device for each in case.devices}:
        says = f"{device.replaces[:60]} is no device of {device.person}."
        problems.append(Problem(says, "replaces"))
    return problems


def is_time(text: str) -> bool:
    """Whether it is a time of day as HH:MM."""
    return _TIME.fullmatch(text) is not None
