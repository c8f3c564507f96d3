"""Which cautions of the protocol belong to a follow-up or to what is being typed, and how they read.

The clinic's own sentences and numbers, from the protocol in force; an empty number is said to be empty.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from caseload.records import words
from caseload.records.facts import Fact
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.rules.protocol.settings import Caution, Protocol
from caseload.words import days

_GRADES = {1: "urgent", 2: "stop", 3: "watch"}
ALWAYS = "Local policy and the judgement of the clinician come first."


def of_row(row: FollowUp, facts: Iterable[Fact], today: date) -> set[str]:
    """The words that call for cautions: grade, signs, area, and a device that is stopped or away."""
    found = {str(row.kind)}
    if row.kind is FollowUpKind.SKIN_LOOK:
        found |= {_GRADES.get(row.tier, "watch"), row.cause}
    for fact in facts:
        if not fact.counts or fact.on > today or (row.device and fact.device not in (None, row.device)):
            continue
        found |= _of_fact(fact, row, today)
    return found


def of_body(kind: str, body: Any, grade: str = "") -> set[str]:
    """The words that call for cautions in what is being recorded."""
    found = {kind, grade, *getattr(body, "signs", ()), getattr(body, "area", ""), getattr(body, "overall", "")}
    return found - {""}


def _of_fact(fact: Fact, row: FollowUp, today: date) -> set[str]:
    body = fact.body
    if fact.kind == "wear stop" and (body.lifted_on is None or body.lifted_on > today):
        return {"wear stop"}
    if fact.kind == "away" and (body.back is None or body.back > today):
        return {"away"}
    if (
        fact.kind in ("look", "wear report")
        and fact.on >= row.started
        and row.kind
        in (
            FollowUpKind.SKIN_LOOK,
            FollowUpKind.ESCALATION,
        )
    ):
        return set(body.signs)
    if row.kind is FollowUpKind.ADJUSTMENT and fact.kind == "adjustment request" and body.request == row.cause:
        return {body.cause, body.area, "urgent" if body.cause == words.RUB and row.tier == 1 else ""}
    return set()


def sentences(found: set[str], protocol: Protocol, staffed: date | None, today: date) -> tuple[str, ...]:
    """The cautions called for, each with whom to call; the last is always that local policy comes first.

    `staffed` is the next working day when tomorrow is none; advice for the time between is then called for.
    """
    if staffed is not None and found & {"urgent", "stop"}:
        found = found | {"no staff tomorrow"}
    told = [
        said(caution, protocol, staffed, today)
        for caution in protocol.cautions
        if "always" not in caution.when and found & set(caution.when)
    ]
    always = [
        said(caution, protocol, staffed, today) for caution in protocol.cautions if "always" in caution.when
    ]
    return (*told, *(always or [ALWAYS]))


def said(caution: Caution, protocol: Protocol, staffed: date | None, today: date) -> str:
    """One caution with its number: `Cold, pale or blue foot: emergency number (999).`"""
    sentence = caution.sentence.replace(
        "{DATE}", days.full(staffed, today) if staffed else "the next working day"
    )
    for name, number in protocol.phones.items():
        sentence = sentence.replace("{" + name + "}", number or "no number set")
    if not caution.call:
        return sentence
    number = protocol.phones.get(caution.call, "")
    who = caution.call.replace("_", " ")
    told = f"{who} {number}" if number else f"{who}: no number set"
    return f"{sentence.rstrip('.')} ({told})."
