"""Recording what happened: new facts, what completes them, corrections, and striking out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from caseload.acts.desk import Desk
from caseload.acts.drafts import Draft, envelope, prepared, taken
from caseload.acts.recorded import Recorded, recorded
from caseload.errors import Changed, Problem, Refused
from caseload.records.columns import columns
from caseload.records.facts import BY_NAME, Fact
from caseload.rules import checks
from caseload.store import cases
from caseload.store.work import Work

__all__ = ["Draft", "Recorded", "amend", "leaning_on", "record", "strike_out", "struck"]
ENVELOPE = ("on", "at", "by", "note")


def record(desk: Desk, drafts: Sequence[Draft], act: str = "record") -> Recorded:
    """Record one fact, or several as one act. Drafts whose id is on record already are left out.

    Raises Refused with every problem of every draft; then nothing is recorded.
    """
    with desk.act(act) as work:
        facts, warnings = prepared(desk, work, drafts)
        work.add_facts(facts)
    return recorded(work, facts, warnings)


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
    around = {name: values[name] for name in ENVELOPE if name in values}
    body, problems = checks.made(
        kind.body, {**now, **{k: v for k, v in values.items() if k not in ENVELOPE}}, desk.today
    )
    shell = {name: around.get(name, getattr(before, name)) for name in ENVELOPE}
    problems += envelope(shell["on"], shell["at"], (shell["by"], shell["note"]), desk, kind.name)
    if problems:
        raise Refused(problems)
    after = before._replace(body=body, version=before.version + 1, **around)
    with desk.act("complete" if completes else "amend", reason) as work:
        case = work.case(before.person)
        assert case is not None
        others = tuple(each for each in case.facts if each.id != fact_id)
        problems = checks.about(after, replace(case, facts=(*others, after)), desk.protocol(after.on).skin)
        problems += taken(work, after, [])
        if any(not problem.warning for problem in problems):
            raise Refused(problem for problem in problems if not problem.warning)
        work.replace_fact(before, after)
    return recorded(work, [after], problems)


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
    return recorded(work, [after], [])


def struck(desk: Desk, fact: Fact, reason: str) -> Fact:
    """The fact, struck out today from this desk."""
    return fact._replace(
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
