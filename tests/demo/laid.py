"""The invented caseload in memory, with its dates laid around a day."""

from __future__ import annotations

import zipfile
from datetime import date
from functools import cache
from pathlib import Path

from caseload import demo
from caseload.acts.bringing_in import plan
from caseload.acts.demo import moved
from caseload.acts.desk import Desk
from caseload.acts.load_plan import Plan
from caseload.exchange import workbook
from caseload.exchange.workbook import Workbook
from caseload.records.case import Case
from caseload.records.followups import FollowUp
from caseload.rules.calendar import Calendar
from caseload.rules.ledger import Rulebook, follow_ups
from caseload.rules.protocol import shipped
from caseload.store.store import Store


@cache
def shipped_workbook() -> tuple[Workbook, date]:
    """The workbook of the package and its reference day."""
    with zipfile.ZipFile(demo.WORKBOOK) as archive:
        reference = date.fromisoformat(archive.read(demo.REFERENCE_FILE).decode().strip())
    book, problems = workbook.read(demo.WORKBOOK)
    assert not problems, [str(problem) for problem in problems]
    return book, reference


def laid_around(today: date) -> Workbook:
    """The shipped workbook with every date moved to lie around `today`."""
    book, reference = shipped_workbook()
    return moved(book, lambda day: demo.laid_around(today, reference, day))


def planned(today: date, path: Path | None = None) -> Plan:
    """What loading the demo on a day comes to, on an empty database; nothing is written."""
    with Store(":memory:") as store:
        book = laid_around(today) if path is None else workbook.read(path)[0]
        return plan(Desk(store, "nobody", today), book, "")


def ledger(made: Plan, holidays: str = "GB-ENG") -> dict[str, tuple[Case, tuple[FollowUp, ...]]]:
    """Every case with its follow-ups."""
    closures = [(each.on, each.site) for each in made.added.get("closures", ())]
    protocol = shipped()
    book = Rulebook(protocol, Calendar(holidays, protocol.weekdays, closures))
    return {ref: (case, follow_ups(case, [book])) for ref, case in made.cases.items()}
