"""What holds for every ledger, whatever was entered (rules.md 1, 2, 4)."""

from __future__ import annotations

import dataclasses
from collections import Counter
from datetime import date, timedelta

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from caseload.records import words
from caseload.records.case import Case
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.rules.attributes import Attributes
from caseload.rules.ledger import Rulebook, follow_ups
from caseload.rules.protocol import shipped
from tests.rules.build import SHIPPED
from tests.rules.build import case as built
from tests.strategies import CALENDARS, DAYS, LAST, cases, near, one_more, protocols, rulebooks, with_death

quick = settings(max_examples=60, deadline=None)
FAR = date.max


def without_fact(row: FollowUp) -> FollowUp:
    """The row without the id of the fact that did it: which of two on one day, nobody is owed."""
    return row._replace(done_by=None)


def owed_on(row: FollowUp, day: date) -> bool:
    return row.started <= day and (row.ended is None or day < row.ended)


def statuses(case: Case) -> Attributes:
    changes = [fact for fact in case.facts if fact.kind == "change"]
    return Attributes(case.person, sorted(changes, key=lambda fact: (fact.on, fact.order)))


@quick
@given(cases(), rulebooks())
def test_started_opens_due_last_day_stand_in_this_order_on_working_days(case, books):
    reading = statuses(case)
    calendar = books[0].calendar
    for row in follow_ups(case, books):
        assert row.started <= row.opens <= row.due <= row.last_day, row
        site = reading.on("site", row.started)
        assert calendar.is_working(row.due, site), row
        assert calendar.is_working(row.last_day, site), row


@quick
@given(cases(), rulebooks())
def test_the_earliest_proposal_is_binding_and_due_unless_the_row_was_moved(case, books):
    for row in follow_ups(case, books):
        assert all(row.why.proposes <= reason.proposes for reason in row.reasons), row
        assert row.due >= row.why.proposes, row
        assert row.moved or row.due == row.why.proposes, row


@quick
@given(cases(), rulebooks())
def test_a_row_ends_on_or_after_the_day_it_started_and_in_one_way_only(case, books):
    for row in follow_ups(case, books):
        assert row.done is None or row.cancelled is None
        assert row.ended is None or row.ended >= row.started, row
        assert 1 <= row.tier <= 5
        assert 0 <= row.binding < len(row.reasons)


@quick
@given(cases(), rulebooks(), DAYS)
def test_exactly_one_reassessment_is_owed_per_device_in_use_and_at_most_one_under_open_access(case, books, day):
    reading = statuses(case)
    owed = Counter(
        row.device for row in follow_ups(case, books) if row.kind == "reassessment" and owed_on(row, day)
    )
    for device in case.devices:
        begun = max(filter(None, (device.delivered or device.taken_over, device.taken_over)), default=FAR)
        in_use = begun <= day and (device.ended is None or day < device.ended)
        status = reading.on("status", day)
        if not in_use or status in words.GONE:
            assert owed[device.device] == 0
        elif status == words.OPEN_ACCESS:
            assert owed[device.device] <= 1
        else:
            assert owed[device.device] == 1


@quick
@given(cases(), rulebooks(), DAYS)
def test_nothing_is_owed_after_a_death(case, books, day):
    case = with_death(case, day)
    died = next(day for day, status, _ in statuses(case).statuses() if status == words.DIED)
    for row in follow_ups(case, books):
        assert row.started <= died, row
        assert row.ended is not None and row.ended <= died, row


@quick
@given(cases(), rulebooks(), st.randoms(use_true_random=False))
def test_the_order_of_entry_never_matters(case, books, random):
    """Only the dates, and within a day and kind the recorded order."""
    before = follow_ups(case, books)
    facts = list(case.facts)
    random.shuffle(facts)
    within: dict[tuple[str, date], list[int]] = {}
    for fact in case.facts:
        within.setdefault((fact.kind, fact.on), []).append(fact.order)
    numbers = {}
    for orders in within.values():
        fresh = sorted(random.sample(range(10_000), len(orders)))
        numbers |= dict(zip(sorted(orders), fresh, strict=True))
    facts = [fact._replace(order=numbers[fact.order]) for fact in facts]
    devices = list(case.devices)
    random.shuffle(devices)
    after = follow_ups(Case(case.person, tuple(devices), tuple(facts)), books)
    assert Counter(map(without_fact, before)) == Counter(map(without_fact, after))


@quick
@given(cases(), rulebooks(), st.data())
def test_striking_out_a_fact_is_never_having_entered_it(case, books, data):
    assume(case.facts)
    struck = data.draw(st.sampled_from(case.facts))
    kept = tuple(fact for fact in case.facts if fact is not struck)
    out = struck._replace(struck_on=LAST, struck_by="sam", struck_reason="wrong person")
    all_facts = tuple(out if fact is struck else fact for fact in case.facts)
    assert follow_ups(Case(case.person, case.devices, all_facts), books) == follow_ups(
        Case(case.person, case.devices, kept), books
    )


@quick
@given(cases(), rulebooks(), st.data())
def test_a_later_fact_never_changes_a_row_that_ended_before_it(case, books, data):
    day = data.draw(DAYS)
    more = data.draw(one_more(case, st.just(day)))
    over = Counter(row for row in follow_ups(case, books) if row.ended is not None and row.ended < day)
    after = Counter(row for row in follow_ups(more, books) if row.ended is not None and row.ended < day)
    assert over == after


@quick
@given(cases(), st.data())
def test_the_dates_of_a_reassessment_do_not_move_by_facts_after_its_last_day(case, data):
    before = [row for row in follow_ups(case, [SHIPPED]) if row.kind == FollowUpKind.REASSESSMENT]
    assume(before)
    row = data.draw(st.sampled_from(before))
    late = row.last_day + timedelta(days=1)
    more = data.draw(one_more(case, near(late, 0, 60)))
    after = [
        (each.opens, each.due, each.last_day)
        for each in follow_ups(more, [SHIPPED])
        if each.kind == row.kind and each.device == row.device and each.started == row.started
    ]
    assert (row.opens, row.due, row.last_day) in after


@quick
@given(cases(), rulebooks(), st.data())
def test_a_new_protocol_never_changes_a_row_that_was_over_before_its_first_day(case, books, data):
    first_day = data.draw(near(books[-1].protocol.first_day, 0, 200) if len(books) > 1 else DAYS)
    new = Rulebook(data.draw(protocols(first_day)), books[0].calendar)

    def over(row: FollowUp) -> bool:
        return (row.ended is not None and row.ended < first_day) or row.last_day < first_day

    before = Counter(row for row in follow_ups(case, books) if over(row))
    after = Counter(follow_ups(case, [*books, new]))
    assert not before - after


@quick
@given(cases(), DAYS, st.sampled_from(CALENDARS))
def test_a_new_protocol_that_changes_nothing_changes_no_row(case, first_day, calendar):
    same = dataclasses.replace(shipped(), first_day=first_day)
    alone = Counter(follow_ups(case, [Rulebook(shipped(), calendar)]))
    assert Counter(follow_ups(case, [Rulebook(shipped(), calendar), Rulebook(same, calendar)])) == alone


@quick
@given(cases(), DAYS)
def test_at_most_one_is_not_done_where_the_page_says_so(case, day):
    """Of fit checks and donning and wear checks per device, skin looks per area, rebookings per person."""
    owed = Counter(
        (row.kind, row.device, row.cause if row.kind == FollowUpKind.SKIN_LOOK else "")
        for row in follow_ups(case, [SHIPPED])
        if owed_on(row, day)
    )
    for kind in ("fit check", "donning practice", "wear check", "skin look", "rebooking", "replacement"):
        assert all(n <= 1 for key, n in owed.items() if key[0] == kind), owed


@quick
@given(cases(), rulebooks())
def test_a_rebuild_gives_the_same_rows(case, books):
    assert follow_ups(case, books) == follow_ups(case, books)


def test_no_facts_and_no_device_owe_nothing():
    assert follow_ups(built(devices=[]), [SHIPPED]) == ()
