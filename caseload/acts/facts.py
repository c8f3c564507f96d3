"""Recording what happened: new facts, what completes them, corrections, and striking out."""

from __future__ import annotations

import uuid
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from caseload.acts.desk import Desk
from caseload.errors import Changed, Problem, Refused
from caseload.records import words
from caseload.records.case import Case
from caseload.records.columns import columns
from caseload.records.facts import BY_NAME, Fact, Of
from caseload.records.followups import FollowUp
from caseload.rules import checks
from caseload.store import cases, owed
from caseload.store.work import Work

ENVELOPE = ("on", "at", "by", "note")
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
    id: str = field(default_factory=lambda: str(uuid.uuid4()))
    """Kept when a draft is tried again after a crash: then it is recorded once."""


@dataclass(frozen=True, slots=True)
class Recorded:
    """What an act did to facts, and what that did to the follow-ups of the people concerned."""

    facts: tuple[Fact, ...]
    before: tuple[FollowUp, ...]
    after: tuple[FollowUp, ...]
    warnings: tuple[Problem, ...] = ()
    deed: str = ""
    """Names the act in the audit."""

    @property
    def done(self) -> list[FollowUp]:
        """The follow-ups that ended through this act."""
        were = {_name(row) for row in self.before if row.ended is None}
        return [row for row in self.after if row.ended is not None and _name(row) in were]

    @property
    def new(self) -> list[FollowUp]:
        """The follow-ups owed now that were not owed before, or not with these dates."""
        return [row for row in self.after if row.ended is None and row not in self.before]


def _name(row: FollowUp) -> tuple[object, ...]:
    return row.kind, row.device, row.cause, row.started


def record(desk: Desk, drafts: Sequence[Draft], act: str = "record") -> Recorded:
    """Record one fact, or several as one act. Drafts whose id is on record already are left out.

    Raises Refused with every problem of every draft; then nothing is recorded.
    """
    with desk.act(act) as work:
        facts, warnings = prepared(desk, work, drafts)
        work.add_facts(facts)
    return _recorded(work, facts, warnings)


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
        found += _guard(work, fact) + _taken(work, fact, facts)
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
    problems += _envelope(draft.on, draft.at, (draft.by, draft.note), desk, draft.kind)
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
    case = work.case(person)
    order = max((fact.order for fact in case.facts), default=0) + 1 + nth if case else nth
    by = draft.by or desk.who
    fact = Fact(
        draft.id, kind.name, person, device, draft.on, body, order, draft.at, by, draft.note, desk.today
    )
    return fact, []


def _envelope(on: date, at: str, texts: Sequence[str], desk: Desk, kind: str) -> list[Problem]:
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


def _taken(work: Work, fact: Fact, together: Sequence[Fact]) -> list[Problem]:
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


def amend(desk: Desk, fact_id: str, version: int, values: Mapping[str, Any], reason: str = "") -> Recorded:
    """Fill in what is known later (device back, wear allowed again, answer), or correct with a reason.

    `values`: the columns that change, of the body or `on`, `at`, `by`, `note`. A reason is needed unless
    only blank `completed` columns are filled in. Raises Refused, or Changed when `version` is no longer
    the one on record.
    """
    before = _current(desk, fact_id, version, dict(values))
    kind = BY_NAME[before.kind]
    completes = all(name in kind.completed and getattr(before.body, name) in (None, "") for name in values)
    if not completes and not reason.strip():
        raise Refused([Problem("A correction needs a reason.", "reason")])
    now = {told.name: getattr(before.body, told.name) for told in columns(kind.body)}
    envelope = {name: values[name] for name in ENVELOPE if name in values}
    body, problems = checks.made(
        kind.body, {**now, **{k: v for k, v in values.items() if k not in ENVELOPE}}, desk.today
    )
    shell = {name: envelope.get(name, getattr(before, name)) for name in ENVELOPE}
    problems += _envelope(shell["on"], shell["at"], (shell["by"], shell["note"]), desk, kind.name)
    if problems:
        raise Refused(problems)
    after = replace(before, body=body, version=before.version + 1, **envelope)
    with desk.act("complete" if completes else "amend", reason) as work:
        case = work.case(before.person)
        assert case is not None
        others = tuple(each for each in case.facts if each.id != fact_id)
        problems = checks.about(after, replace(case, facts=(*others, after)), desk.protocol(after.on).skin)
        problems += _taken(work, after, [])
        if any(not problem.warning for problem in problems):
            raise Refused(problem for problem in problems if not problem.warning)
        work.replace_fact(before, after)
    return _recorded(work, [after], problems)


def strike_out(desk: Desk, fact_id: str, version: int, reason: str) -> Recorded:
    """Strike a wrong fact out: it is kept and shown, and counts for nothing from now on."""
    if not reason.strip():
        raise Refused([Problem("Striking out needs a reason.", "reason")])
    before = _current(desk, fact_id, version, {"struck_on": desk.today})
    if before.struck_on is not None:
        raise Refused([f"It was struck out on {before.struck_on} already."])
    after = struck(desk, before, reason)
    with desk.act("strike out", reason) as work:
        if leaning := leaning_on(work, before):
            raise Refused([leaning])
        work.replace_fact(before, after)
    return _recorded(work, [after], [])


def struck(desk: Desk, fact: Fact, reason: str) -> Fact:
    """The fact, struck out today from this desk."""
    return replace(
        fact,
        struck_on=desk.today,
        struck_by=desk.who,
        struck_reason=reason,
        version=fact.version + 1,
    )


def leaning_on(work: Work, fact: Fact) -> str:
    """'' or why a request cannot be struck out: something was recorded about it."""
    if fact.kind != "adjustment request":
        return ""
    about = work.store.one(
        'SELECT "kind", "on" FROM facts WHERE "reference" = ? AND "kind" IN (\'adjustment\','
        " 'request withdrawal') AND \"struck_on\" IS NULL",
        fact.body.request,
    )
    if about is None:
        return ""
    return f"The {about[0]} of {about[1]} is about {fact.body.request}; strike that out first."


def _current(desk: Desk, fact_id: str, version: int, wanted: object) -> Fact:
    """The fact on record, if it is still the version that was on screen."""
    now = cases.fact(desk.store, fact_id)
    if now is None:
        raise Refused(["There is no such fact on record."])
    if now.version != version:
        raise Changed(f"the {now.kind} of {now.on}", wanted, now, now.struck_by)
    return now


def _recorded(work: Work, facts: Sequence[Fact], problems: Sequence[Problem]) -> Recorded:
    rebuilt = work.rebuilt.values()
    return Recorded(
        tuple(facts),
        tuple(row for each in rebuilt for row in each.before),
        tuple(row for each in rebuilt for row in each.after),
        tuple(problems),
        work.deed,
    )
