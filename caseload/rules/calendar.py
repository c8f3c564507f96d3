"""Working days: weekdays of the protocol that are no public holiday and no closure.

Public holidays come from the `holidays` package, which keeps the tables of each region; this file
is its only reader.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from datetime import date, timedelta
from functools import cache

from caseload.rules.spans import Span, Unit, add_plain

MONDAY_TO_FRIDAY = frozenset(range(5))
_SPREAD = 6
"""Years worked out at a time: a longest offset with its grace stays within one step."""


def split_region(region: str) -> tuple[str, str | None]:
    """`GB-ENG` -> (`GB`, `ENG`); `US` -> (`US`, None)."""
    country, _, part = region.strip().upper().partition("-")
    return country, part or None


def known_region(region: str) -> bool:
    """Whether public holidays are known for the region; the empty region has none and is known."""
    try:
        public_holidays(region, 2026)
    except ValueError:
        return False
    return True


@cache
def public_holidays(region: str, year: int) -> frozenset[date]:
    """The public holidays of a region in a year; none for the empty region.

    Raises ValueError for a region whose holidays are not known.
    """
    if not region:
        return frozenset()
    # Imported here: it costs 50 ms, and an empty caseload or a protocol without a region needs none.
    import holidays

    country, part = split_region(region)
    try:
        return frozenset(holidays.country_holidays(country, subdiv=part, years=year))
    except NotImplementedError:  # how the package says that it has no such country or part
        raise ValueError(f"no public holidays are known for the region {region}") from None


class Calendar:
    """The working days of a clinic, and of each site that has closures of its own."""

    def __init__(
        self,
        region: str = "",
        weekdays: frozenset[int] = MONDAY_TO_FRIDAY,
        closures: Iterable[tuple[date, str]] = (),
    ) -> None:
        """`weekdays`: Monday is 0. `closures`: (day, site), the site empty for the whole clinic."""
        self.region = region
        self.weekdays = weekdays
        self._closed: dict[str, set[date]] = {"": set()}
        for day, site in closures:
            self._closed.setdefault(site, set()).add(day)
        self._first, self._last = 2015, 2014
        self._days: dict[str, list[date]] = {}
        # The days of a caseload repeat: looked up, a date costs a fifth of working it out.
        self._rolled: dict[tuple[date, str], date] = {}
        self._added: dict[tuple[date, Span, str], date] = {}
        self._before: dict[tuple[date, Span], date] = {}

    def is_working(self, day: date, site: str = "") -> bool:
        """Whether the clinic (and the site) works on the day."""
        return (
            day.weekday() in self.weekdays
            and day not in self._closed[""]
            and day not in self._closed.get(site, ())
            and day not in public_holidays(self.region, day.year)
        )

    def roll(self, day: date, site: str = "") -> date:
        """The day itself if it is a working day, else the next."""
        found = self._rolled.get((day, site))
        if found is None:
            days = self._working_days(site, day)
            found = self._rolled[day, site] = days[bisect_left(days, day)]
        return found

    def add(self, day: date, n: int, site: str = "") -> date:
        """The n-th working day after the day; with n = 0 as `roll`."""
        if n == 0:
            return self.roll(day, site)
        days = self._working_days(site, day)
        index = bisect_right(days, day) + n - 1
        while index >= len(days):
            # A clinic of one weekday: many working days reach beyond the years at hand.
            self._reach(self._last)
            days = self._working_days(site, day)
            index = bisect_right(days, day) + n - 1
        return days[index]

    def plus(self, day: date, span: Span, site: str = "") -> date:
        """The day plus a span of any unit, not rolled unless the span counts working days."""
        found = self._added.get((day, span, site))
        if found is None:
            working = span.unit == Unit.WORKING_DAYS
            found = self.add(day, span.n, site) if working else add_plain(day, span)
            self._added[day, span, site] = found
        return found

    def before(self, day: date, span: Span) -> date:
        """The day less a span that counts no working days."""
        found = self._before.get((day, span))
        if found is None:
            found = self._before[day, span] = add_plain(day, span, -1)
        return found

    def between(self, after: date, until: date, site: str = "") -> int:
        """How many working days lie after `after`, up to and including `until`; negative if it is later."""
        self._working_days(site, until)
        days = self._working_days(site, after)
        return bisect_right(days, until) - bisect_right(days, after)

    def _working_days(self, site: str, day: date) -> list[date]:
        """All working days of the site, of years enough around the day."""
        if not self._first < day.year <= self._last - _SPREAD:
            self._reach(day.year)
        key = site if site in self._closed else ""
        days = self._days.get(key)
        if days is None:
            days = self._days[key] = self._list(key)
        return days

    def _reach(self, year: int) -> None:
        """Cover the year and enough beyond it."""
        if self._last < self._first:
            self._first, self._last = year - _SPREAD, year + 2 * _SPREAD
        self._first = max(min(self._first, year - _SPREAD), 1)
        self._last = min(max(self._last, year + 2 * _SPREAD), 9990)
        self._days.clear()

    def _list(self, site: str) -> list[date]:
        closed = self._closed[""] | self._closed[site]
        for year in range(self._first, self._last + 1):
            closed |= public_holidays(self.region, year)
        first, end = date(self._first, 1, 1), date(self._last + 1, 1, 1)
        weekdays = self.weekdays
        every = (first + timedelta(days=n) for n in range((end - first).days))
        return [day for day in every if day.weekday() in weekdays and day not in closed]
