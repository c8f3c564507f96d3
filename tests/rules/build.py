"""Cases written by hand for the tests of the rules, and rows said in one line each."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from caseload.records.case import Case
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, Fact, Of
from caseload.records.followups import FollowUp
from caseload.records.people import Person
from caseload.rules.calendar import Calendar
from caseload.rules.ledger import Rulebook, follow_ups
from caseload.rules.protocol import shipped

ENGLAND = Calendar("GB-ENG")
SHIPPED = Rulebook(shipped(), ENGLAND)
_DAYS = {
    "on",
    "born",
    "delivered",
    "ordered",
    "promised",
    "taken_over",
    "last_review",
    "ended",
    "until",
    "back",
    "lifted_on",
    "not_before",
    "needed_by",
    "next_on",
    "answered_on",
}


def day(text: str) -> date:
    """2026-03-02."""
    return date.fromisoformat(text)


def _read(values: dict[str, Any]) -> dict[str, Any]:
    return {
        name: day(value) if name in _DAYS and isinstance(value, str) else value
        for name, value in values.items()
    }


def person(**values: Any) -> Person:
    """P1, grown up, with intact sensation and nothing of concern unless said otherwise."""
    usual = {"person": "P1", "family_name": "Sample", "given_name": "Sam", "sensation": "intact"}
    return Person(**_read(usual | values))


def device(**values: Any) -> Device:
    """D1, a left AFO of P1."""
    usual = {"device": "D1", "person": "P1", "side": "left", "orthosis": "AFO"}
    return Device(**_read(usual | values))


def fact(kind: str, on: str, device: str = "D1", **body: Any) -> Fact:
    """A fact of a kind on a day; its body by name, dates as text. Of D1 unless it is of the person."""
    declared = BY_NAME[kind]
    of = None if declared.of is Of.PERSON else device
    return Fact("", kind, "P1", of, day(on), declared.body(**_read(body)))


def case(*facts: Fact, who: Person | None = None, devices: Iterable[Device] | str = "2026-03-02") -> Case:
    """P1 with their facts, in the order given; `devices` as a text: D1, delivered on that day."""
    if isinstance(devices, str):
        devices = [device(delivered=devices)]
    numbered = [
        Fact(f"{n} {each.kind}", each.kind, each.person, each.device, each.on, each.body, n)
        for n, each in enumerate(facts)
    ]
    return Case(who or person(), tuple(devices), tuple(numbered))


def rows(of: Case, kind: str, *, closures: Iterable[tuple[str, str]] = (), device: str = "") -> list[FollowUp]:
    """The rows of one kind by start, under the shipped protocol with the holidays of England."""
    calendar = Calendar("GB-ENG", closures=[(day(on), site) for on, site in closures]) if closures else ENGLAND
    found = follow_ups(of, [Rulebook(shipped(), calendar)])
    kept = [row for row in found if row.kind == kind and (not device or row.device == device)]
    return sorted(kept, key=lambda row: (row.started, row.ended or date.max))


def said(row: FollowUp) -> str:
    """`started opens due last_day, tier, how it ended`; days of 2026 without the year."""
    end = f"done {row.done}" if row.done else f"cancelled {row.cancelled}" if row.cancelled else "owed"
    return f"{row.started} {row.opens} {row.due} {row.last_day} tier {row.tier} {end}".replace("2026-", "")


def ledger(of: Case, kind: str, **how: Any) -> list[str]:
    """The rows of one kind, each in one line as `said`."""
    return [said(row) for row in rows(of, kind, **how)]
