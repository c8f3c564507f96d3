"""Bringing in a workbook: all of it or nothing, in one transaction; loading it again changes nothing."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from caseload.acts.bringing_in import plan
from caseload.acts.desk import Desk
from caseload.acts.forecast import Forecast, forecast
from caseload.acts.load_plan import Plan
from caseload.errors import Refused
from caseload.exchange import workbook
from caseload.exchange.dates import Order
from caseload.exchange.problems import Problem
from caseload.exchange.workbook import Progress, Workbook
from caseload.records.sessions import Closure
from caseload.records.sheets import SHEETS
from caseload.store import basis, ledger, writes
from caseload.store.work import Work
from caseload.store.working_out import batches

_MANY = 500
"""From so many people on record who are touched, rebuilding everyone is quicker than one by one."""


@dataclass(frozen=True, slots=True)
class Loaded:
    """What loading a workbook did, or would do."""

    counts: dict[str, dict[str, int]] = field(default_factory=dict)
    """By sheet how many rows are `new`, `completed`, `amended` and `same`."""
    warnings: list[str] = field(default_factory=list)
    """What was kept all the same, and should be looked at."""
    forecast: Forecast | None = None
    """What would be owed; only when nothing was to be written."""

    @property
    def changed(self) -> bool:
        """Whether anything is new or different."""
        return any(sum(each.values()) > each["same"] for each in self.counts.values())


def load(
    desk: Desk,
    path: str | Path,
    *,
    check: bool = False,
    dates: Order = "iso",
    amend: str = "",
    progress: Progress | None = None,
) -> Loaded:
    """Bring in the workbook at `path`.

    Args:
        check: write nothing, and say what would be owed.
        dates: which comes first in dates that are not ISO.
        amend: why rows that contradict the record are to put it right; '' to refuse them.
        progress: told what is being done; it may raise `Cancelled`, and nothing is changed then.

    Raises Refused with every problem there is.
    """
    with _without_collecting():
        book, problems = workbook.read(path, dates, progress)
        if check:
            made = _planned(desk, book, problems, amend)
            return Loaded(made.counts, _warnings(book, made), forecast(desk.store, made, desk.today))
        return bring_in(desk, book, Path(path).name, problems, amend=amend, progress=progress)


def bring_in(
    desk: Desk,
    book: Workbook,
    name: str,
    problems: Sequence[Problem] = (),
    *,
    amend: str = "",
    progress: Progress | None = None,
) -> Loaded:
    """Bring in a workbook that was read already.

    `name` is what the audit calls it, `problems` are those of reading it.
    Raises Refused with every problem there is.
    """
    with desk.act("load", amend.strip()) as work:
        made = _planned(desk, book, problems, amend)
        result = Loaded(made.counts, _warnings(book, made))
        if result.changed:
            _write(work, made, name, progress)
    return result


def _planned(desk: Desk, book: Workbook, problems: Sequence[Problem], amend: str) -> Plan:
    made = plan(desk, book, amend.strip())
    if problems or made.problems:
        raise Refused(str(problem) for problem in in_order([*problems, *made.problems]))
    return made


def in_order(problems: list[Problem]) -> list[Problem]:
    """Problems as somebody goes through the workbook to put them right: by sheet and row."""
    place = {sheet.name: number for number, sheet in enumerate(SHEETS)}
    return sorted(problems, key=lambda problem: (place.get(problem.sheet, -1), problem.sheet, problem.row))


def _warnings(book: Workbook, made: Plan) -> list[str]:
    return [*book.warnings, *(str(warning) for warning in in_order(made.warnings))]


def _write(work: Work, made: Plan, name: str, progress: Progress | None) -> None:
    store = work.store
    work.note("workbook", name, after={sheet: _said(counts) for sheet, counts in made.counts.items()})
    for sheet in SHEETS:
        if added := made.added.get(sheet.name):
            writes.add(store, added)
    for before, after, version in made.replaced:
        work.replace(before, after, version)
    _ledger_anew(work, made, progress)


def _said(counts: dict[str, int]) -> dict[str, int]:
    return {what: number for what, number in counts.items() if number}


def _ledger_anew(work: Work, made: Plan, progress: Progress | None) -> None:
    """Write the facts, while what is owed by who is new is worked out beside it; then that too."""

    def tell(done: int, total: int) -> None:
        if progress:
            progress("working out what is owed", done, total)

    store = work.store
    closed = "closures" in made.added or any(isinstance(record, Closure) for _, record, _ in made.replaced)
    if closed:
        basis.changed(store)
    on_record = store.one("SELECT COUNT(*) FROM people") or (0,)
    fresh = [case for person, case in made.cases.items() if person not in made.known]
    work.progress = tell
    work.everyone = len(made.known) > _MANY or (closed and on_record[0] > len(fresh))
    with batches([] if work.everyone else fresh, store.rulebooks) as worked:
        if progress:
            progress("writing facts", 0, len(made.facts))
        writes.add_facts(store, made.facts)
        for fact, corrected in made.amended:
            work.replace_fact(fact, corrected)
        ledger.write_new(store, worked, len(fresh), tell)
    for person in made.known:
        work.touch(person, afresh=True)


@contextmanager
def _without_collecting() -> Iterator[None]:
    """Hundreds of thousands of records, all of which stay: looking for rubbish among them costs much time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
