"""Working days against numpy, public holidays against the law, Easter and the tables of the sources."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import numpy as np
import pytest
from dateutil.easter import easter
from dateutil.rrule import MO, TH, YEARLY, rrule
from hypothesis import given, settings
from hypothesis import strategies as st

from caseload.rules.calendar import Calendar, known_region, public_holidays
from caseload.rules.spans import Span, Unit

DAY = timedelta(days=1)

# England and Wales, typed from the list the government publishes (2026 to 2028).
ENGLAND_AND_WALES = {
    2026: ["01-01", "04-03", "04-06", "05-04", "05-25", "08-31", "12-25", "12-28"],
    2027: ["01-01", "03-26", "03-29", "05-03", "05-31", "08-30", "12-27", "12-28"],
    2028: ["01-03", "04-14", "04-17", "05-01", "05-29", "08-28", "12-25", "12-26"],
}


@pytest.mark.parametrize(("year", "listed"), ENGLAND_AND_WALES.items())
def test_bank_holidays_of_england_and_wales(year, listed):
    days = {date.fromisoformat(f"{year}-{day}") for day in listed}
    weekdays = {day for day in public_holidays("GB-ENG", year) if day.weekday() < 5}
    assert weekdays == days
    assert {day for day in public_holidays("GB-WLS", year) if day.weekday() < 5} == days


@pytest.mark.parametrize("sunday", ["2026-04-05", "2027-03-28", "2028-04-16", "2038-04-25"])
def test_good_friday_and_easter_monday_stand_beside_easter_sunday(sunday):
    """Sundays typed from the tables; dateutil.easter is a second witness."""
    day = date.fromisoformat(sunday)
    assert easter(day.year) == day
    england = public_holidays("GB-ENG", day.year)
    assert day - 2 * DAY in england
    assert day + DAY in england


@pytest.mark.parametrize("year", range(2022, 2045))
def test_easter_of_every_year(year):
    england = public_holidays("GB-ENG", year)
    assert {easter(year) - 2 * DAY, easter(year) + DAY} <= england


def federal(year: int) -> set[date]:
    """The legal public holidays of 5 U.S.C. 6103(a), each on the weekday on which it is observed, 6103(b)."""

    def nth(month: int, weekday: object) -> date:
        january = datetime(year, 1, 1)
        return rrule(YEARLY, count=1, bymonth=month, byweekday=weekday, dtstart=january)[0].date()

    fixed = [date(year, 1, 1), date(year, 6, 19), date(year, 7, 4), date(year, 11, 11), date(year, 12, 25)]
    moved = [nth(1, MO(3)), nth(2, MO(3)), nth(5, MO(-1)), nth(9, MO(1)), nth(10, MO(2)), nth(11, TH(4))]
    return {observed(day) for day in [*fixed, *moved]}


def observed(day: date) -> date:
    """Saturday observed on Friday, Sunday on Monday."""
    return day - DAY if day.weekday() == 5 else day + DAY if day.weekday() == 6 else day


@pytest.mark.parametrize("year", range(2022, 2045))
def test_us_federal_holidays_by_statute(year):
    legal = {day for near in (year - 1, year, year + 1) for day in federal(near) if day.year == year}
    calendar = Calendar("US")
    closed = {
        day
        for day in (date(year, 1, 1) + n * DAY for n in range(366))
        if day.year == year and day.weekday() < 5 and not calendar.is_working(day)
    }
    assert closed == legal


# ISO 8601 weeks, check values of the design's sources; what is given a week by Python's calendar.
@pytest.mark.parametrize(
    ("day", "week"),
    [
        ("2005-01-01", (2004, 53, 6)),
        ("2008-12-29", (2009, 1, 1)),
        ("2010-01-03", (2009, 53, 7)),
        ("2026-12-28", (2026, 53, 1)),
        ("2027-01-04", (2027, 1, 1)),
    ],
)
def test_iso_weeks(day, week):
    assert tuple(date.fromisoformat(day).isocalendar()) == week


def test_five_working_days_across_week_53_and_the_turn_of_the_year():
    """28 December 2026 (Monday of W53) is the substitute for Boxing Day, 1 January 2027 a Friday."""
    assert Calendar("GB-ENG").add(date(2026, 12, 24), 5) == date(2027, 1, 5)


WEEKDAYS = st.frozensets(st.integers(0, 6), min_size=1)
WHEN = st.dates(date(2020, 1, 1), date(2031, 12, 31))


@settings(max_examples=40, deadline=None)
@given(WEEKDAYS, st.lists(WHEN, max_size=12), WHEN, st.data())
def test_working_days_count_as_numpy_counts_them(weekdays, closed, day, data):
    """numpy.busday_offset and busday_count, with the same week and the same holidays."""
    calendar = Calendar("", weekdays, [(each, "") for each in closed])
    mask = [n in weekdays for n in range(7)]
    busy = np.busdaycalendar(weekmask=mask, holidays=closed)
    for _ in range(20):
        n, other = data.draw(st.integers(0, 400)), data.draw(WHEN)
        rolled = np.busday_offset(day, 0, "forward", busdaycal=busy).item()
        assert calendar.roll(day) == rolled
        # numpy counts from a working day: the n-th after d is n from the last working day up to d.
        nth = rolled if n == 0 else np.busday_offset(day, n, "backward", busdaycal=busy).item()
        assert calendar.add(day, n) == nth
        assert calendar.is_working(day) == bool(np.is_busday(day, busdaycal=busy))
        count = np.busday_count(day + DAY, other + DAY, busdaycal=busy).item()
        if other >= day:
            assert calendar.between(day, other) == count
        else:
            assert calendar.between(day, other) == -calendar.between(other, day)
        day = other


@settings(max_examples=20, deadline=None)
@given(st.lists(WHEN, max_size=5), WHEN, st.integers(0, 30))
def test_holidays_and_closures_together(closed, day, n):
    calendar = Calendar("GB-ENG", closures=[(each, "") for each in closed])
    holidays = [each for year in range(2019, 2034) for each in public_holidays("GB-ENG", year)]
    busy = np.busdaycalendar(holidays=[*holidays, *closed])
    found = np.busday_offset(day, n, "backward" if n else "forward", busdaycal=busy).item()
    assert calendar.add(day, n) == found
    assert calendar.plus(day, Span(n, Unit.WORKING_DAYS)) == found


def test_n_working_days_after_a_day():
    calendar = Calendar("GB-ENG")
    thursday, good_friday = date(2026, 4, 2), date(2026, 4, 3)
    assert calendar.add(thursday, 0) == thursday
    assert calendar.add(good_friday, 0) == date(2026, 4, 7)
    assert calendar.add(thursday, 1) == date(2026, 4, 7)
    assert calendar.add(good_friday, 1) == date(2026, 4, 7)
    assert calendar.add(date(2026, 4, 4), 2) == date(2026, 4, 8)


def test_a_clinic_of_one_weekday_reaches_as_far_as_it_is_asked():
    """600 Mondays on: 600 weeks."""
    monday = date(2026, 3, 2)
    assert Calendar("", frozenset({0})).add(monday, 600) == monday + timedelta(weeks=600)


def test_a_closure_of_a_site_closes_that_site_only_and_one_of_the_clinic_all():
    monday, tuesday = date(2026, 3, 2), date(2026, 3, 3)
    calendar = Calendar("", closures=[(monday, "north"), (tuesday, "")])
    assert calendar.roll(monday, "north") == date(2026, 3, 4)
    assert calendar.roll(monday, "south") == monday
    assert calendar.roll(tuesday, "south") == date(2026, 3, 4)
    assert not calendar.is_working(monday, "north")
    assert calendar.is_working(monday)


def test_months_are_not_rolled_by_themselves():
    assert Calendar("GB-ENG").plus(date(2026, 3, 4), Span(1, Unit.MONTHS)) == date(2026, 4, 4)


@settings(max_examples=6, deadline=None)
@given(st.lists(st.dates(date(1900, 1, 1), date(2199, 12, 31)), min_size=1, max_size=6))
def test_the_order_in_which_years_are_asked_for_changes_nothing(days):
    one = Calendar("GB-ENG")
    for day in days:
        fresh = Calendar("GB-ENG")
        assert one.add(day, 7) == fresh.add(day, 7)


@pytest.mark.parametrize("region", ["", "GB", "GB-ENG", "gb-sct", "US", "US-CA", "DE-BY"])
def test_regions_that_are_known(region):
    assert known_region(region)


@pytest.mark.parametrize("region", ["XX", "GB-XYZ", "England", "GB ENG"])
def test_regions_that_are_not(region):
    assert not known_region(region)


def test_no_region_has_no_holidays_and_an_unknown_one_says_so():
    assert public_holidays("", 2026) == frozenset()
    with pytest.raises(ValueError, match="XX"):
        public_holidays("XX", 2026)
