"""Working out what cases owe, as rows for the stored ledger; many cases on all processors at once.

No database in here: a process that only works out may be forked beside an open transaction.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from typing import TYPE_CHECKING, Any, NamedTuple

from caseload.records.case import Case
from caseload.records.followups import FollowUp
from caseload.rules.attributes import Attributes
from caseload.store.mapping import follow_up_row

if TYPE_CHECKING:
    from caseload.rules.ledger import Rulebook

BATCH = 200
"""People worked out and written at a time."""
_WORTH_FORKING = 1000
"""From so many people on, a second process is quicker than it costs to start (0.05 s)."""


class WorkedOut(NamedTuple):
    """What a case comes to."""

    follow_ups: tuple[FollowUp, ...]
    rows: list[tuple[Any, ...]]
    """The follow-ups in the order of FOLLOW_UP_COLUMNS."""
    now: tuple[Any, ...]
    """What holds for the person at present: site, clinician, status, foot-risk, vulnerable skin."""


Batch = list[tuple[str, list[tuple[Any, ...]], tuple[Any, ...]]]
"""(person, rows, now) of some people."""


def worked_out(case: Case, rulebooks: Sequence[Rulebook]) -> WorkedOut:
    """The follow-ups of a case, as rows too, and what holds for the person at present."""
    from caseload.rules.ledger import follow_ups

    changes = sorted(
        (fact for fact in case.facts if fact.kind == "change" and fact.counts),
        key=lambda fact: (fact.on, fact.order),
    )
    at_present = Attributes(case.person, changes)
    site, clinician = at_present.latest("site"), at_present.latest("clinician")
    now = (
        site,
        clinician,
        at_present.latest("status"),
        at_present.latest("foot_risk"),
        int(at_present.vulnerable(date.max)),
    )
    found = follow_ups(case, rulebooks)
    return WorkedOut(found, [follow_up_row(row, clinician, site) for row in found], now)


@contextmanager
def batches(cases: Sequence[Case], rulebooks: Sequence[Rulebook]) -> Iterator[Iterator[Batch]]:
    """What all the cases come to, batch by batch in their order.

    Where the system can fork safely the work begins at once, on all processors, while the caller goes on.
    """
    starts = range(0, len(cases), BATCH)
    if len(cases) < _WORTH_FORKING or not _can_fork():
        yield (_batch(cases, rulebooks, start) for start in starts)
        return
    from multiprocessing import get_context

    # The cases are there already in a forked process: nothing is sent but the rows that come back.
    with get_context("fork").Pool(os.cpu_count(), _begin, (cases, rulebooks)) as pool:
        yield pool.imap(_of_inherited, starts)


def _batch(cases: Sequence[Case], rulebooks: Sequence[Rulebook], start: int) -> Batch:
    found: Batch = []
    for case in cases[start : start + BATCH]:
        _, rows, now = worked_out(case, rulebooks)
        found.append((case.person.person, rows, now))
    return found


def _can_fork() -> bool:
    """A fork takes only the thread that calls it: with others about, their locks would be held for ever."""
    return sys.platform == "linux" and (os.cpu_count() or 1) > 1 and threading.active_count() == 1


_inherited: list[Any] = []
"""In a forked process: the cases and the rulebooks."""


def _begin(cases: Sequence[Case], rulebooks: Sequence[Rulebook]) -> None:
    # Ctrl-C is answered by the process that was asked to stop; it ends this one.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _inherited[:] = [cases, rulebooks]


def _of_inherited(start: int) -> Batch:
    cases, rulebooks = _inherited
    return _batch(cases, rulebooks, start)
