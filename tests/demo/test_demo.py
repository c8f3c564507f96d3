"""The demo holds every kind of thing the rules know, whatever day it is opened on."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta

import pytest

from caseload import demo
from caseload.records import words
from caseload.records.case import Case
from caseload.records.facts import KINDS
from caseload.records.followups import FollowUp, FollowUpKind, State
from caseload.rules.attributes import Attributes
from caseload.rules.competence import competence
from caseload.rules.protocol import shipped
from tests.demo.laid import laid_around, ledger, planned, shipped_workbook

MONDAY = date(2026, 11, 23)
DAYS = [
    *(MONDAY + timedelta(days=n) for n in range(7)),
    date(2026, 12, 28),  # right after the holidays of Christmas (GB-ENG: 25 and 28 December 2026)
    date(2027, 1, 4),
    date(2027, 3, 30),  # the Tuesday after Easter Monday 2027
    date(2028, 2, 29),
]
OWED = (State.WAITING, State.OPEN, State.LATE, State.MISSED)


@pytest.mark.parametrize("today", DAYS, ids=str)
def test_every_kind_state_and_tier_occurs(today: date) -> None:
    made = planned(today)
    assert not made.problems, [str(problem) for problem in made.problems]
    assert not made.warnings, [str(problem) for problem in made.warnings]
    rows = [row for _, found in ledger(made).values() for row in found]
    owed = [row for row in rows if row.state(today) in OWED]
    assert {row.state(today) for row in rows} == set(State)
    assert {row.kind for row in owed} == set(FollowUpKind)
    assert {row.tier for row in owed} == {1, 2, 3, 4, 5}
    done = {row.kind for row in rows if row.state(today) is State.DONE}
    assert done >= set(FollowUpKind) - {FollowUpKind.OPEN_ACCESS_ENDING, FollowUpKind.REPLACEMENT}


@pytest.mark.parametrize("today", DAYS, ids=str)
def test_each_list_is_that_of_a_working_clinic(today: date) -> None:
    people = ledger(planned(today))
    for clinician in ("Imogen Vale", "Asha Lund"):
        worst = Counter(
            _worst(rows, today) for case, rows in people.values() if case.person.clinician == clinician
        )
        assert sum(worst.values()) == 33
        assert 1 <= worst[State.MISSED] <= 5, worst
        assert 2 <= worst[State.LATE] <= 8, worst
        assert 8 <= worst[State.OPEN] <= 18, worst
        assert worst[State.WAITING] + worst[None] >= 10, worst


def _worst(rows: tuple[FollowUp, ...], today: date) -> State | None:
    """How the row that presses most stands; None with nothing owed."""
    states = {row.state(today) for row in rows}
    return next((state for state in reversed(OWED) if state in states), None)


@pytest.mark.parametrize("today", DAYS, ids=str)
def test_no_day_falls_on_a_weekend_and_no_fact_into_the_future(today: date) -> None:
    book = laid_around(today)
    for sheet, rows in book.sheets.items():
        for row in rows:
            on = getattr(row, "on", None) or getattr(getattr(row, "record", None), "on", None)
            if on is not None:
                assert on.weekday() < 5, (sheet, on)
                assert on <= today or sheet in ("sessions", "closures", "bookings"), (sheet, on)


def test_laying_around_keeps_the_order_and_the_distance_in_weekdays() -> None:
    reference = shipped_workbook()[1]
    assert reference.weekday() == 2
    days = [reference + timedelta(days=n) for n in range(-800, 60)]
    for today in DAYS:
        moved = [demo.laid_around(today, reference, day) for day in days]
        assert moved == sorted(moved)
        assert all(
            abs((after - before).days - (today - reference).days) <= 2
            for before, after in zip(days, moved, strict=True)
        )
    assert [demo.laid_around(day, reference, reference) for day in DAYS[4:7]] == [DAYS[4]] * 3
    assert demo.laid_around(reference, reference, reference - timedelta(days=1)) == date(2026, 6, 2)


def test_every_kind_of_fact_and_every_word_that_matters_is_there() -> None:
    today = MONDAY
    made = planned(today)
    facts = [fact for case in made.cases.values() for fact in case.facts]
    assert {fact.kind for fact in facts} == {kind.name for kind in KINDS}
    for kind, field, wanted in (
        ("trajectory", "trajectory", words.TRAJECTORIES),
        ("fit check", "overall", words.FIT_JUDGEMENTS),
        ("change", "what", set(words.DATED) - {"circulation_concern"}),
        ("reassessment", "decision", words.DECISIONS),
        ("contact", "outcome", words.CONTACT_OUTCOMES),
        ("look", "how", (words.SEEN, words.TOLD)),
        ("wear stop", "stopped_by", words.STOPPERS),
        ("adjustment", "outcome", (words.DONE, words.PARTLY)),
    ):
        assert {getattr(fact.body, field) for fact in facts if fact.kind == kind} >= set(wanted), (kind, field)
    causes = {fact.body.cause for fact in facts if fact.kind == "adjustment request"}
    assert causes == set(words.CAUSES) - {"unsafe to walk in"}
    assert {device.orthosis for case in made.cases.values() for device in case.devices} == set(words.ORTHOSES)
    assert {_status(case, today) for case in made.cases.values()} == set(words.STATUSES)
    assert [fact for fact in facts if not fact.counts and fact.struck_reason]
    assert [fact for fact in facts if (fact.typed_on or fact.on) > fact.on + timedelta(days=7)]
    assert min(fact.on for fact in facts) <= today - timedelta(days=730)


def _status(case: Case, day: date) -> str:
    return Attributes(case.person, [fact for fact in case.facts if fact.kind == "change"]).on("status", day)


def test_the_stories_of_learning_are_told() -> None:
    rules = shipped().donning
    seen = Counter[str]()
    for case in planned(MONDAY).cases.values():
        for device in case.devices:
            practices = [f for f in case.facts if f.kind == "practice" and f.device == device.device]
            found = competence(practices, rules, bool(case.person.lives_alone), device.delivered)
            wearer = found.learners.get(words.WEARER)
            if wearer is None:
                continue
            seen["stalled"] += wearer.stalled(rules.stalled_after) and not found.reached
            seen["carer only"] += found.reached and wearer.competent_since is None
            seen["competent"] += wearer.competent_since is not None
    assert seen["stalled"] >= 1
    assert seen["carer only"] >= 1
    assert seen["competent"] >= 40


def test_the_clinic_has_time_in_the_coming_two_weeks() -> None:
    added = planned(MONDAY).added
    ahead = [each for each in added["sessions"] if MONDAY <= each.on <= MONDAY + timedelta(days=14)]
    assert {each.purpose for each in ahead} == set(words.PURPOSES)
    assert {each.site for each in ahead} == {"Harbour", "Mill Lane"}
    assert [each for each in ahead if each.cancelled_on]
    cancelled = {each.session for each in added["sessions"] if each.cancelled_on}
    assert {each.status for each in added["bookings"]} == set(words.BOOKING_STATUSES)
    assert not [each.booking for each in added["bookings"] if each.session in cancelled]
    assert [each for each in added["absences"] if each.last > MONDAY and each.cover]
    assert {bool(each.site) for each in added["closures"]} == {True, False}
