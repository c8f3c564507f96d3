"""A new protocol and the past (rules.md 1). 2 March 2026 is a Monday."""

from __future__ import annotations

import dataclasses
from typing import Any

from caseload.records.case import Case
from caseload.rules.calendar import Calendar
from caseload.rules.ledger import Rulebook, follow_ups
from caseload.rules.protocol import shipped
from caseload.rules.spans import Span, Unit
from tests.rules.build import ENGLAND, SHIPPED, case, day, fact, said


def from_day(first_day: str, **tables: Any) -> Rulebook:
    """The shipped protocol from a day on, with some of its tables replaced."""
    return Rulebook(dataclasses.replace(shipped(), first_day=day(first_day), **tables), ENGLAND)


def slower(first_day: str, weeks: int = 2) -> Rulebook:
    """Donning practice due after so many weeks rather than one."""
    usual = shipped().donning
    later = dataclasses.replace(usual.practice, due=Span(weeks, Unit.WEEKS))
    return from_day(first_day, donning=dataclasses.replace(usual, practice=later))


def ledger(of: Case, kind: str, *books: Rulebook) -> list[str]:
    found = follow_ups(of, [SHIPPED, *books])
    return [said(row) for row in sorted(found, key=lambda row: row.started) if row.kind == kind]


def tried(on: str):
    return fact("practice", on, who="wearer", don="03", doff="03")


OLD = "03-02 03-03 03-09 03-16 tier 3"
NEW = "03-02 03-10 03-16 03-23 tier 3"


def test_a_row_still_owed_and_not_missed_on_the_first_day_gets_the_new_numbers():
    assert ledger(case(), "donning practice", slower("2026-03-16")) == [f"{NEW} owed"]


def test_a_row_that_missed_its_last_day_before_that_day_keeps_the_protocol_it_had():
    """Its last day is the 16th."""
    assert ledger(case(), "donning practice", slower("2026-03-17")) == [f"{OLD} owed"]


def test_a_row_that_ended_before_that_day_keeps_it_and_one_that_ends_on_it_does_not():
    done = case(tried("2026-03-05"))
    assert ledger(done, "donning practice", slower("2026-03-06"))[0] == f"{OLD} done 03-05"
    assert ledger(done, "donning practice", slower("2026-03-05"))[0] == f"{NEW} done 03-05"


def test_a_missed_row_is_done_later_under_the_protocol_it_had():
    assert ledger(case(tried("2026-04-01")), "donning practice", slower("2026-03-20"))[0] == f"{OLD} done 04-01"


def test_the_rows_that_follow_have_the_new_numbers():
    found = ledger(case(tried("2026-03-05"), tried("2026-04-01")), "donning practice", slower("2026-03-20"))
    # Begun on the 5th: last day the 19th, missed the day before the new protocol.
    assert found == [
        f"{OLD} done 03-05",
        "03-05 03-06 03-12 03-19 tier 3 done 04-01",
        "04-01 04-09 04-15 04-22 tier 3 owed",
    ]


def test_three_protocols_one_after_the_other():
    found = case(tried("2026-03-05"), tried("2026-04-01"), tried("2026-05-01"))
    assert ledger(found, "donning practice", slower("2026-03-06"), slower("2026-04-20", 3)) == [
        f"{OLD} done 03-05",
        "03-05 03-13 03-19 03-26 tier 3 done 04-01",
        "04-01 04-16 04-22 04-29 tier 3 done 05-01",
        "05-01 05-16 05-22 05-29 tier 3 owed",
    ]


def test_two_practices_on_one_day_leave_one_owed_under_a_new_protocol_too():
    both = case(tried("2026-03-02"))
    assert ledger(both, "donning practice", slower("2026-03-05")) == [f"{OLD} done 03-02", f"{NEW} owed"]


def test_what_the_new_protocol_would_have_begun_and_ended_in_the_past_never_happened():
    """A mark of 15 minutes, clear then and seen clear again; watched by the new protocol."""
    usual = shipped().skin
    strict = from_day("2026-04-01", skin=dataclasses.replace(usual, watch_from_minutes=10))

    def look(on, minutes):
        return fact("look", on, area="heel", how="seen", skin="mark", fade_minutes=minutes)

    past = case(look("2026-03-03", 15.0), look("2026-03-09", 5.0))
    assert ledger(past, "skin look") == []
    assert ledger(past, "skin look", strict) == []
    now = case(look("2026-03-03", 15.0), look("2026-04-01", 15.0))
    assert ledger(now, "skin look", strict)[-1] == "04-01 04-01 04-10 04-17 tier 3 owed"


def test_a_calendar_changes_with_its_protocol_and_the_past_stays():
    """A clinic that works on Saturdays from 13 April on: delivery on a Saturday is checked that day."""
    saturdays = dataclasses.replace(shipped(), first_day=day("2026-04-13"))
    book = Rulebook(saturdays, Calendar("GB-ENG", frozenset(range(6))))
    assert ledger(case(devices="2026-04-18"), "fit check", book) == ["04-18 04-18 04-18 04-22 tier 3 owed"]
    assert ledger(case(devices="2026-04-04"), "fit check", book) == ["04-04 04-04 04-07 04-10 tier 3 owed"]
