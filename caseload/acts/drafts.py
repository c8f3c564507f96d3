"""A fact about to be recorded, and all that is looked at before it is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from caseload import clock
from caseload.acts.desk import Desk
from caseload.errors import Problem, Refused
from caseload.records import words
from caseload.records.case import Case
from caseload.records.columns import Kind, columns
from caseload.records.facts import BY_NAME, Fact, Of
from caseload.rules import checks
from caseload.rules.known_words import as_known, stranger
from caseload.store import cases, owed, people
from caseload.store.work import Work

_TIED_TO_TIER = (*words.GONE, words.OPEN_ACCESS)


@dataclass(frozen=True, slots=True)
class Draft:
    """A fact about to be recorded."""

    kind: str
    """A name of `records.facts.KINDS`."""
    on: date
    values: Mapping[str, Any]
    """Typed values of the body's columns; blanks may be left out."""
    person: str = ""
    """For facts of a person."""
    device: str = ""
    """For facts of a device; those of a request are found by the request."""
    at: str = ""
    by: str = ""
    """Blank: who sits at the desk."""
    note: str = ""
    id: str = field(default_factory=clock.new_id)
    """Kept when a draft is tried again after a crash: then it is recorded once."""


def prepared(desk: Desk, work: Work, drafts: Sequence[Draft]) -> tuple[list[Fact], list[Problem]]:
    """The facts of drafts, checked against their cases, and warnings; Refused with all problems."""
    found: list[Problem] = []
    facts: list[Fact] = []
    for draft in drafts:
        if cases.fact(work.store, draft.id) is not None:
            continue
        fact, problems = _made(desk, work, draft, len(facts))
        found += problems
        if fact is not None:
            facts.append(fact)
    if any(not problem.warning for problem in found):
        raise Refused(problem for problem in found if not problem.warning)
    case_of = {fact.person: _with(work.case(fact.person), facts) for fact in facts}
    for fact in facts:
        found += checks.about(fact, case_of[fact.person], desk.protocol(fact.on).skin)
        found += _unknown(desk, work, fact)
        found += _guard(work, fact) + taken(work, fact, facts)
    if any(not problem.warning for problem in found):
        raise Refused(problem for problem in found if not problem.warning)
    return facts, found


def _with(case: Case | None, facts: Sequence[Fact]) -> Case:
    assert case is not None
    own = tuple(fact for fact in facts if fact.person == case.person.person)
    return replace(case, facts=(*case.facts, *own))


def _made(desk: Desk, work: Work, draft: Draft, nth: int) -> tuple[Fact | None, list[Problem]]:
    """The fact a draft says, as far as it can be told without looking at the rest of the case."""
    kind = BY_NAME.get(draft.kind)
    if kind is None:
        return None, [Problem(f"{draft.kind[:40]!r} is no kind of fact.", "kind")]
    body, problems = checks.made(kind.body, draft.values, desk.today)
    problems += envelope(draft.on, draft.at, (draft.by, draft.note), desk, draft.kind)
    device: str | None = draft.device or None
    person = draft.person
    if kind.of is Of.REQUEST:
        asked = draft.values.get("request")
        place = asked and work.store.one(
            'SELECT "person", "device" FROM facts WHERE "reference" = ? AND "kind" = \'adjustment request\''
            ' AND "struck_on" IS NULL',
            asked,
        )
        if asked and not place:
            problems.append(Problem(f"There is no adjustment request {str(asked)[:60]}.", "request"))
        person, device = place or ("", None)
    elif kind.of is Of.DEVICE:
        owner = work.store.one('SELECT "person" FROM devices WHERE "device" = ?', device or "")
        if owner is None:
            says = f"There is no device {device[:60]}." if device else "Say which device."
            problems.append(Problem(says, "device"))
        person = owner[0] if owner else ""
    else:
        device = None
        if work.case(person) is None:
            says = f"There is no person {person[:60]}." if person else "Say which person."
            problems.append(Problem(says, "person"))
    if problems:
        return None, problems
    body = _as_known(body, desk, work, draft.on)
    case = work.case(person)
    order = max((fact.order for fact in case.facts), default=0) + 1 + nth if case else nth
    by = draft.by or desk.who
    fact = Fact(
        draft.id, kind.name, person, device, draft.on, body, order, draft.at, by, draft.note, desk.today
    )
    return fact, []


def _as_known(body: Any, desk: Desk, work: Work, on: date) -> Any:
    """The body with its free words (area, who practised, clinician ...) written as they are known already."""
    found = {}
    for column in columns(type(body)):
        typed = getattr(body, column.name)
        if column.kind is Kind.OPEN_WORD and typed:
            known = desk.protocol(on).areas if column.offered == "areas" else column.words
            found[column.name] = as_known(typed, known)
    if getattr(body, "what", "") in _NAMES:
        found["to"] = as_known(body.to, _NAMES[body.what](work))
    return replace(body, **found) if found else body


def _unknown(desk: Desk, work: Work, fact: Fact) -> list[Problem]:
    """A warning for an area that is none of the landmarks, or a clinician or site that nobody has."""
    area = getattr(fact.body, "area", "")
    hint = stranger(area, (*desk.protocol(fact.on).areas, words.NOT_STATED))
    if hint:
        return [
            Problem(
                f"'{area[:40]}' is not in the clinic's list of areas, and kept as a place of its own{hint}",
                "area",
                warning=True,
            )
        ]
    what = getattr(fact.body, "what", "")
    known = _NAMES[what](work) if what in _NAMES else []
    hint = stranger(fact.body.to, known) if known else ""
    if hint:
        return [Problem(f"Nobody else has the {what} '{fact.body.to[:40]}'{hint}", "to", warning=True)]
    return []


def _clinicians(work: Work) -> list[str]:
    return [name for name, _ in people.clinicians(work.store) if name]


def _sites(work: Work) -> list[str]:
    return [name for (name,) in work.store.all('SELECT DISTINCT "site_now" FROM people') if name]


_NAMES = {"clinician": _clinicians, "site": _sites}


def envelope(on: date, at: str, texts: Sequence[str], desk: Desk, kind: str) -> list[Problem]:
    problems = []
    if type(on) is not date:
        return [Problem("The date must be a date.", "on")]
    if on > desk.today and kind != "pause":
        problems.append(Problem(f"{on} lies in the future; what has not happened is not recorded.", "on"))
    if on.year < 1900:
        problems.append(Problem(f"{on} is no date of this caseload; is the year right?", "on"))
    if at and not checks.is_time(at):
        problems.append(Problem(f"The time must be HH:MM, not {at[:20]!r}.", "at"))
    problems += [Problem(f"The note {wrong}", "note") for text in texts if (wrong := checks.unstorable(text))]
    return problems


def _guard(work: Work, fact: Fact) -> list[Problem]:
    """Discharge, a move or open access with anything of tier 1-2 not done needs a reason (rules.md 4.9)."""
    if fact.kind != "change" or fact.body.what != "status" or fact.body.to not in _TIED_TO_TIER:
        return []
    if fact.body.to == words.DIED or fact.body.reason.strip():
        return []
    pressing = [row for row in owed.of_person(work.store, fact.person) if row.tier <= 2 and row.ended is None]
    if not pressing:
        return []
    first = f"{pressing[0].kind} ({pressing[0].cause})"
    more = f" and {len(pressing) - 1} more" if len(pressing) > 1 else ""
    return [Problem(f"Not done yet: {first}{more}. Say why it can be left.", "reason")]


def taken(work: Work, fact: Fact, together: Sequence[Fact]) -> list[Problem]:
    """A request's or escalation's own reference is used once."""
    name = BY_NAME[fact.kind].reference
    if not name:
        return []
    ref = getattr(fact.body, name)
    twice = sum(each.kind == fact.kind and getattr(each.body, name) == ref for each in together) > 1
    used = work.store.one(
        'SELECT 1 FROM facts WHERE "reference" = ? AND "kind" = ? AND "struck_on" IS NULL AND "id" <> ?',
        ref,
        fact.kind,
        fact.id,
    )
    return [Problem(f"The reference {ref[:60]} is used already.", name)] if used or twice else []
