"""How much would be owed: follow-ups counted by how they stand, and by the week they fall due."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import TYPE_CHECKING

from caseload.acts.load_plan import Plan
from caseload.records.case import Case
from caseload.records.followups import FollowUp, State
from caseload.rules.ledger import Rulebook, follow_ups
from caseload.store import cases

if TYPE_CHECKING:
    from caseload.store.store import Store

WEEKS = 13
"""A caseload taken over is spread over twelve weeks (rules.md 4.6); one more shows what comes after."""
OWED = (State.MISSED, State.LATE, State.OPEN, State.WAITING)


@dataclass(frozen=True, slots=True)
class Forecast:
    """What would be owed on a day if the workbook were loaded."""

    on: date
    people: int
    states: dict[str, int] = field(default_factory=dict)
    """How many follow-ups are missed, late, open, waiting."""
    kinds: dict[tuple[int, str], dict[str, int]] = field(default_factory=dict)
    """The same by tier and kind of follow-up."""
    weeks: list[tuple[date, int]] = field(default_factory=list)
    """Monday of each of the next weeks, and how many fall due in it that are not due yet."""
    taken_over: int = 0
    """How many devices of the workbook are taken over from elsewhere."""


def forecast(store: Store, made: Plan, on: date) -> Forecast:
    """Count what would be owed; worked out in memory, nothing is written."""
    rulebooks = _rulebooks(store, made)
    rows: list[FollowUp] = []
    people = 0
    for case in _everyone(store, made):
        people += 1
        rows += (row for row in follow_ups(case, rulebooks) if row.state(on) in OWED)
    taken_over = sum(1 for device in made.added.get("devices", ()) if device.taken_over)
    return count(rows, on, people, taken_over)


def count(rows: Iterable[FollowUp], on: date, people: int, taken_over: int = 0) -> Forecast:
    """Count follow-ups that are owed on a day."""
    states, kinds, weeks = Counter[str](), dict[tuple[int, str], dict[str, int]](), Counter[date]()
    for row in rows:
        state = row.state(on)
        states[state.value] += 1
        by_state = kinds.setdefault((row.tier, row.kind.value), {each.value: 0 for each in OWED})
        by_state[state.value] += 1
        if row.due >= on:
            weeks[_monday(row.due)] += 1
    monday = _monday(on)
    coming = [monday + timedelta(weeks=number) for number in range(WEEKS)]
    return Forecast(
        on,
        people,
        {each.value: states[each.value] for each in OWED},
        dict(sorted(kinds.items())),
        [(week, weeks[week]) for week in coming],
        taken_over,
    )


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())


def _everyone(store: Store, made: Plan) -> Iterator[Case]:
    for batch in cases.cases(store):
        yield from (case for case in batch if case.person.person not in made.cases)
    yield from made.cases.values()


def _rulebooks(store: Store, made: Plan) -> tuple[Rulebook, ...]:
    """Those in force, with the closures of the workbook."""
    closures = made.added.get("closures", ())
    if not closures:
        return store.rulebooks
    from caseload.rules.calendar import Calendar
    from caseload.store.values import day

    kept = [(day(on), site) for on, site in store.all('SELECT "on", "site" FROM closures')]
    both = [*kept, *((closure.on, closure.site) for closure in closures)]
    return tuple(
        Rulebook(
            book.protocol,
            Calendar(
                book.protocol.region if store.holidays is None else store.holidays, book.protocol.weekdays, both
            ),
        )
        for book in store.rulebooks
    )
