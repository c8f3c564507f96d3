"""Hypothesis strategies for whole cases: a person, devices, and facts of every kind at odd dates.

`cases()` gives a `Case`, `rulebooks()` a list of `Rulebook` in order of first day, `facts_of(case)` one more
fact for a case. Dates crowd together, so that facts meet on one day and cross weekends, holidays and ends.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from hypothesis import strategies as st

from caseload.records import words
from caseload.records.case import Case
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, KINDS, Fact, Of
from caseload.records.people import Change, Person
from caseload.rules.calendar import Calendar
from caseload.rules.ledger import Rulebook
from caseload.rules.protocol import Protocol, shipped
from caseload.rules.spans import Span, Unit

FIRST = date(2026, 2, 20)
LAST = date(2027, 3, 1)
AREAS = ("heel", "fibular head", "")
SITES = ("", "north", "south")


def near(day: date, before: int = 0, after: int = 30) -> st.SearchStrategy[date]:
    """A day from so many days before it to so many after it."""
    return st.integers(-before, after).map(lambda n: day + timedelta(days=n))


DAYS = near(FIRST, 0, 40) | near(FIRST, 0, (LAST - FIRST).days)
"""Crowded into the first six weeks, with some beyond."""


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """The value, or None."""
    return st.none() | strategy


def _one(*offered: Any) -> st.SearchStrategy[Any]:
    return st.sampled_from(offered)


_FINDINGS: dict[str, st.SearchStrategy[Any]] = {
    "fade_minutes": _one(None, 5.0, 19.0, 20.0, 25.0, 30.0, 31.0),
    "blanching": _one("", *words.BLANCHINGS),
    "pain": _one(None, 0.0, 1.0, 6.0, 7.0, 10.0),
    "stopped_wear": _one(None, None, False, True),
    "signs": st.lists(_one(*words.SIGNS), max_size=1, unique=True).map(tuple) | st.just(()),
    "raised_to": _one("", "", "", *words.RAISED),
}
_LEVELS = _one("06", "05", "04", "01", "88")


def _bodies(kind: str, on: date, devices: Sequence[str]) -> dict[str, st.SearchStrategy[Any]]:
    """What goes into the body of a fact of a kind, on a day; requests and escalations are named later."""
    later = near(on, 0, 25)
    return {
        "trajectory": {"trajectory": _one(*words.TRAJECTORIES)},
        "fit check": {"overall": _one(*words.FIT_JUDGEMENTS)},
        "footwear change": {},
        "practice": {"who": _one(words.WEARER, "carer"), "don": _LEVELS, "doff": _LEVELS},
        "wear plan": {
            "plan": _one(*words.PLANS, "2d 2h/1h max 6h", "1d max 3h; 1d max 5h"),
            "goal_hours": _one(None, 4.0),
        },
        "wear report": {
            "hours": _one(0.0, 5.0, 8.0),
            "area": _one(*AREAS),
            "skin": _one("", "clear", *words.SKINS),
            **_FINDINGS,
        },
        "look": {
            "area": _one(*AREAS[:2], words.NOT_STATED),
            "how": _one(*words.WAYS_OF_LOOKING),
            "skin": _one("clear", *words.SKINS),
            **_FINDINGS,
        },
        "wear stop": {
            "stopped_by": _one(*words.STOPPERS),
            "reason": st.just("sore"),
            "lifted_on": maybe(later),
        },
        "adjustment request": {
            "request": st.just(""),
            "cause": _one(words.RUB, *words.CAUSES),
            "area": _one(*AREAS),
            "needed_by": maybe(later),
        },
        "adjustment": {"request": st.just(""), "outcome": _one("done", *words.ADJUSTMENT_OUTCOMES)},
        "request withdrawal": {"request": st.just(""), "reason": st.just("better")},
        "away": {"promised": maybe(later), "back": maybe(later)},
        "reassessment": {"decision": _one(*words.DECISIONS), "next_on": maybe(near(on, 0, 200))},
        "measure": {
            "measure": _one(words.GAIT_SPEED, words.TUG, words.BERG, "6MWT"),
            "value": _one(0.3, 0.5, 0.9, 12.0, 20.0, 44.0),
            "device_on": _one(True, True, False),
        },
        "fall": {
            "devices_worn": st.lists(st.sampled_from(devices), max_size=1).map(tuple),
            "hurt": _one(None, False, True),
        },
        "contact": {"how": _one("phone", "clinic"), "outcome": _one(*words.CONTACT_OUTCOMES)},
        "escalation": {
            "escalation": st.just(""),
            "to": st.just("medical"),
            "why": st.just("signs"),
            "answered_on": maybe(near(on, 0, 5)),
        },
        "pause": {"until": later, "reason": st.just("in hospital")},
    }[kind]


def _changes(on: date) -> st.SearchStrategy[Change]:
    return st.one_of(
        st.builds(Change, what=st.just("site"), to=_one("north", "south")),
        st.builds(Change, what=st.just("sensation"), to=_one(*words.SENSATIONS)),
        st.builds(Change, what=st.just("foot_risk"), to=_one(*words.FOOT_RISKS)),
        st.builds(Change, what=st.just("circulation_concern"), to=_one(*words.YES_NO)),
        st.builds(Change, what=st.just("status"), to=_one(*words.STATUSES[:4], words.ACTIVE, words.DIED)),
        st.builds(Change, what=st.just("status"), to=st.just(words.OPEN_ACCESS), until=near(on, 0, 200)),
    )


@st.composite
def bare_facts(draw: st.DrawFn, devices: Sequence[str], on: st.SearchStrategy[date] = DAYS) -> Fact:
    """A fact of any kind, not yet named, numbered or tied to a request."""
    kind = draw(st.sampled_from(KINDS))
    day = draw(on)
    if kind.name == "change":
        body: Any = draw(_changes(day))
    else:
        body = kind.body(**{name: draw(value) for name, value in _bodies(kind.name, day, devices).items()})
    device = None if kind.of is Of.PERSON else draw(st.sampled_from(devices))
    return Fact("", kind.name, "P1", device, day, body)


def tied(facts: Sequence[Fact], draw: st.DrawFn) -> tuple[Fact, ...]:
    """The facts with ids, orders and references; what is about a request goes to one there is, or goes."""
    asked = {f"Q{n}": fact for n, fact in enumerate(facts) if fact.kind == "adjustment request"}
    found = []
    for n, fact in enumerate(facts):
        body, device = fact.body, fact.device
        if fact.kind == "adjustment request":
            body = dataclasses.replace(body, request=f"Q{n}")
        elif fact.kind == "escalation":
            body = dataclasses.replace(body, escalation=f"E{n}")
        elif BY_NAME[fact.kind].of is Of.REQUEST:
            if not asked:
                continue
            request = draw(st.sampled_from(sorted(asked)))
            body, device = dataclasses.replace(body, request=request), asked[request].device
        found.append(fact._replace(id=f"F{n}", order=n, body=body, device=device))
    return _no_way_back_from_death(found)


def _no_way_back_from_death(facts: list[Fact]) -> tuple[Fact, ...]:
    """A death that was wrong is struck out; no later status undoes it."""
    statuses = [fact for fact in facts if fact.kind == "change" and fact.body.what == "status"]
    died = min((fact.on for fact in statuses if fact.body.to == words.DIED), default=date.max)
    return tuple(fact for fact in facts if fact not in statuses or fact.on < died or fact.body.to == words.DIED)


@st.composite
def persons(draw: st.DrawFn) -> Person:
    """P1."""
    return Person(
        person="P1",
        family_name="Sample",
        given_name="Sam",
        born=draw(_one(None, date(1950, 5, 1), date(2011, 3, 31), date(2020, 11, 30), date(2024, 2, 29))),
        lives_alone=draw(_one(None, True)),
        site=draw(_one(*SITES)),
        sensation=draw(_one("", "intact", "intact", "reduced")),
        foot_risk=draw(_one("", *words.FOOT_RISKS)),
        circulation_concern=draw(_one("", "yes")),
    )


@st.composite
def _device(draw: st.DrawFn, reference: str) -> Device:
    """A device: delivered, taken over, on order, or ended."""
    ordered = draw(maybe(near(FIRST, 60, 20)))
    delivered = draw(near(ordered or FIRST, 0, 40) | st.none() | near(FIRST, 0, 20))
    taken_over = draw(st.none() | st.none() | near(delivered or FIRST, 0, 40))
    return Device(
        device=reference,
        person="P1",
        side=draw(_one(*words.SIDES)),
        orthosis=draw(_one("AFO", "KAFO")),
        ordered=ordered,
        promised=draw(maybe(near(ordered, 0, 60))) if ordered else None,
        delivered=delivered,
        taken_over=taken_over,
        last_review=draw(maybe(near(taken_over, 200, 0))) if taken_over else None,
        ended=draw(st.none() | st.none() | near(taken_over or delivered or FIRST, 0, 200)),
        life_months=draw(_one(None, 2, 6, 18)),
    )


@st.composite
def cases(draw: st.DrawFn, most: int = 24) -> Case:
    """A case with one or two devices and up to `most` facts of all kinds."""
    devices = tuple(draw(_device(f"D{n}")) for n in range(draw(st.integers(1, 2))))
    references = [device.device for device in devices]
    facts = draw(st.lists(bare_facts(references), max_size=most))
    return Case(draw(persons()), devices, tied(facts, draw))


@st.composite
def one_more(draw: st.DrawFn, case: Case, on: st.SearchStrategy[date]) -> Case:
    """The case with one more fact, entered last; without it where it is about a request and there is none."""
    fact = draw(bare_facts([device.device for device in case.devices], on))
    asked = [each for each in case.facts if each.kind == "adjustment request"]
    body, device = fact.body, fact.device
    if fact.kind == "adjustment request":
        body = dataclasses.replace(body, request="late")
    elif fact.kind == "escalation":
        body = dataclasses.replace(body, escalation="late")
    elif BY_NAME[fact.kind].of is Of.REQUEST:
        if not asked:
            return case
        request = draw(st.sampled_from(asked))
        body, device = dataclasses.replace(body, request=request.body.request), request.device
    fact = fact._replace(id="late", order=1000, body=body, device=device)
    return dataclasses.replace(case, facts=_no_way_back_from_death([*case.facts, fact]))


CALENDARS = tuple(
    Calendar(region, closures=[(FIRST + timedelta(days=n), site) for n, site in closed])
    for region, closed in (
        ("", []),
        ("GB-ENG", []),
        (
            "GB-ENG",
            [(3, ""), (4, "north"), (5, "north"), (10, ""), (11, ""), (12, ""), (20, "south"), (45, "")],
        ),
        ("US", [(n, "south") for n in range(6, 20)]),
    )
)
"""A few only, made once: a calendar works out twelve years of working days."""


def with_death(case: Case, day: date) -> Case:
    """The case of somebody who died on the day, unless they died before it."""
    died = Fact("death", "change", "P1", None, day, Change(what="status", to=words.DIED), 2000)
    return dataclasses.replace(case, facts=_no_way_back_from_death([*case.facts, died]))


def _other(usual: Any) -> st.SearchStrategy[Any]:
    """A limit, or the same with another due, early span or grace."""
    days = st.integers(0, 30)
    plain = days.map(lambda n: Span(n, Unit.DAYS))
    any_span = plain | days.map(lambda n: Span(n, Unit.WORKING_DAYS))
    changed = {"due": any_span, "early": st.none() | plain, "grace": any_span}
    return st.just(usual) | st.builds(lambda **new: dataclasses.replace(usual, **new), **changed)


@st.composite
def protocols(draw: st.DrawFn, first_day: date) -> Protocol:
    """The shipped protocol from a day on, with some of its numbers changed as a clinic may change them."""
    usual = shipped()

    def table(name: str, *limits: str, **more: Any) -> Any:
        rules = getattr(usual, name)
        changed = {each: draw(_other(getattr(rules, each))) for each in limits}
        return dataclasses.replace(rules, **changed, **more)

    spans = _one(Span(2, Unit.WORKING_DAYS), Span(3, Unit.DAYS), Span(1, Unit.WEEKS))
    return dataclasses.replace(
        usual,
        version=f"from {first_day}",
        first_day=first_day,
        fit_check=table("fit_check", "delivered", "footwear"),
        donning=table("donning", "practice"),
        wear=table("wear", "check", goal_hours=draw(_one(6, 4))),
        skin=table("skin", watch_from_minutes=draw(_one(20, 15, 25))),
        adjustment=table("adjustment", "rub_stop"),
        reassessment=table("reassessment", "stable", "fall_other", not_sooner_than=draw(spans)),
        away=table("away", after_back=draw(spans), after_pause=draw(spans)),
    )


@st.composite
def rulebooks(draw: st.DrawFn) -> list[Rulebook]:
    """One to three rulebooks in order of first day, all with the same calendar."""
    calendar = draw(st.sampled_from(CALENDARS))
    first_days = sorted(draw(st.lists(DAYS, max_size=2, unique=True)))
    later = [draw(protocols(first_day)) for first_day in first_days]
    return [Rulebook(protocol, calendar) for protocol in (shipped(), *later)]
