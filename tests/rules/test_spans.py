"""Calendar addition, against python-dateutil and the month ends of the page's sources."""

from __future__ import annotations

from datetime import date

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from caseload.rules.spans import Span, Unit, add_months, add_plain, read_span

SOME_DAYS = st.dates(date(1900, 1, 1), date(2199, 12, 31))
NAMES = {Unit.DAYS: "days", Unit.WEEKS: "weeks", Unit.MONTHS: "months", Unit.YEARS: "years"}


@pytest.mark.parametrize(
    ("anchor", "months", "expected"),
    [
        # Month arithmetic, clamped and always from the anchor (check values of the design's sources).
        ("2026-01-31", 1, "2026-02-28"),
        ("2028-01-31", 1, "2028-02-29"),
        ("2026-01-31", 2, "2026-03-31"),
        ("2026-03-31", -1, "2026-02-28"),
        ("2024-02-29", 12, "2025-02-28"),
        ("2024-02-29", 48, "2028-02-29"),
        ("2026-12-31", 2, "2027-02-28"),
    ],
)
def test_month_ends_clamp(anchor, months, expected):
    assert add_months(date.fromisoformat(anchor), months).isoformat() == expected


def test_months_count_from_the_anchor_and_are_never_chained():
    anchor = date(2026, 1, 31)
    assert add_months(add_months(anchor, 1), 1) == date(2026, 3, 28)
    assert add_months(anchor, 2) == date(2026, 3, 31)


@given(SOME_DAYS, st.integers(0, 400), st.sampled_from(sorted(NAMES)), st.sampled_from([1, -1]))
def test_every_unit_adds_as_dateutil_adds(anchor, n, unit, sign):
    """dateutil.relativedelta: the same convention, kept by others."""
    expected = anchor + relativedelta(**{NAMES[unit]: sign * n})
    if date(1500, 1, 1) < expected < date(2600, 1, 1):
        assert add_plain(anchor, Span(n, unit), sign) == expected


def test_working_days_need_a_calendar():
    with pytest.raises(ValueError, match="calendar"):
        add_plain(date(2026, 3, 2), Span(1, Unit.WORKING_DAYS))


@pytest.mark.parametrize(
    ("text", "span"),
    [
        ("2 working days", Span(2, Unit.WORKING_DAYS)),
        ("1 working day", Span(1, Unit.WORKING_DAYS)),
        ("3 wd", Span(3, Unit.WORKING_DAYS)),
        ("28 d", Span(28, Unit.DAYS)),
        ("1 day", Span(1, Unit.DAYS)),
        (" 6 Weeks ", Span(6, Unit.WEEKS)),
        ("5months", Span(5, Unit.MONTHS)),
        ("1 year", Span(1, Unit.YEARS)),
        ("0 days", Span(0, Unit.DAYS)),
    ],
)
def test_spans_are_read_as_people_write_them(text, span):
    assert read_span(text) == span


@pytest.mark.parametrize(
    "text", ["", "two days", "2", "days", "-1 days", "1.5 days", "2 fortnights", "12345 days"]
)
def test_what_is_no_span_is_none(text):
    assert read_span(text) is None


@given(st.text())
def test_no_text_breaks_the_reader(text):
    read_span(text)


@given(st.integers(0, 9999), st.sampled_from([*NAMES, Unit.WORKING_DAYS]))
def test_what_a_span_says_reads_back(n, unit):
    assert read_span(str(Span(n, unit))) == Span(n, unit)


@given(SOME_DAYS, st.integers(1, 20))
def test_age_is_counted_as_people_count_it(born, years):
    """The birthday of 29 February is 28 February in other years, as dateutil clamps it."""
    from caseload.rules.ages import under

    birthday = born + relativedelta(years=years)
    assert not under(years, born, birthday)
    assert under(years, born, birthday - relativedelta(days=1))
    assert not under(years, None, birthday)
