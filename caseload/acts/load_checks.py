"""What is wrong with a workbook beyond its single cells: days ahead, reasons missing, references in use."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import cache
from typing import TYPE_CHECKING

from caseload import errors
from caseload.acts.load_plan import Plan
from caseload.exchange.layout import headings
from caseload.exchange.problems import Problem, quoted
from caseload.exchange.rows import value_of
from caseload.exchange.workbook import Workbook
from caseload.records.columns import Kind
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME
from caseload.records.sheets import SHEETS
from caseload.records.words import NOT_STATED
from caseload.rules import checks
from caseload.rules.known_words import as_known, nearest

if TYPE_CHECKING:
    from caseload.acts.desk import Desk
    from caseload.store.store import Store


def dates_ahead(book: Workbook, today: date) -> Iterator[Problem]:
    """Dates in the future that are no promise, plan or agreement."""
    for sheet in SHEETS:
        may_begin_later = sheet.name == "pauses"
        for head in headings(sheet):
            if head.column.kind is not Kind.DAY or head.column.may_lie_ahead:
                continue
            if may_begin_later and head.name == "on":
                continue
            latest = book.latest.get((sheet.name, head.name))
            if latest is not None and latest <= today:
                continue
            for row in book.rows(sheet.name):
                day = value_of(row, head)
                if day is not None and day > today:
                    said = f"{day} lies in the future, expected {today} or earlier: only what has happened"
                    yield Problem(sheet.name, row.row, head.name, said)


def struck_without_reason(book: Workbook) -> Iterator[Problem]:
    """Rows struck out without saying why, and reasons for striking out rows that are not."""
    for sheet in SHEETS:
        for row in book.rows(sheet.name) if sheet.fact else ():
            if row.struck_on and not row.struck_reason.strip():
                said = "is blank, expected why the row was struck out"
                yield Problem(sheet.name, row.row, "struck_reason", said)
            elif row.struck_on is None and (row.struck_reason or row.struck_by):
                said = "is blank, expected the day the row was struck out"
                yield Problem(sheet.name, row.row, "struck_on", said)


def hold_against_cases(desk: Desk, book: Workbook, made: Plan) -> None:
    """Hold every row that is new or changed against the case it belongs to."""
    skin = cache(lambda day: desk.protocol(day).skin)
    for fact in (*made.facts, *(after for _, after in made.amended)):
        if fact.counts:
            sheet = BY_NAME[fact.kind].sheet
            for problem in checks.about(fact, made.cases[fact.person], skin(fact.on), brought_in=True):
                if (sheet, problem.field) not in _TOLD:
                    _tell(made, sheet, made.rows[fact.id], problem)
    rows = {row.record.device: row.row for row in book.rows("devices")}
    changed = (after for _, after, _ in made.replaced if isinstance(after, Device))
    for device in (*made.added.get("devices", ()), *changed):
        for problem in checks.device(device, made.cases.get(device.person)):
            if problem.field != "replaces":
                _tell(made, "devices", rows[device.device], problem)


def strange_areas(desk: Desk, made: Plan) -> None:
    """Warn of each area that is none of the clinic's landmarks, once: it is a place of its own."""
    areas = desk.protocol().areas
    told = {*areas, NOT_STATED, ""}
    for fact in made.facts:
        area = getattr(fact.body, "area", "")
        if area not in told:
            told.add(area)
            near = as_known(area, areas)
            near = near if near in areas else nearest(area, areas)
            hint = f"; did you mean {quoted(near)}?" if near else ""
            said = f"{quoted(area)} is not in the clinic's list of areas, and kept as a place of its own{hint}"
            made.warnings.append(Problem(BY_NAME[fact.kind].sheet, made.rows[fact.id], "area", said))


_TOLD = {("falls", "devices_worn"), ("adjustments", "request"), ("request_withdrawals", "request")}
"""What `references` has told already, and better: it knows the rows that could not be read."""


def _tell(made: Plan, sheet: str, row: int, problem: errors.Problem) -> None:
    told = Problem(sheet, row, problem.field, problem.says)
    (made.warnings if problem.warning else made.problems).append(told)


def hold_references(store: Store, made: Plan) -> None:
    """A request's or escalation's reference that is new here may be somebody else's on record."""
    new = [fact for fact in made.facts if BY_NAME[fact.kind].reference and fact.counts]
    if not new:
        return
    held = {
        (kind, reference): person
        for kind, reference, person in store.all(
            'SELECT "kind", "reference", "person" FROM facts WHERE "struck_on" IS NULL'
            " AND \"kind\" IN ('adjustment request', 'escalation')"
        )
    }
    for fact in new:
        name = BY_NAME[fact.kind].reference
        person = held.get((fact.kind, getattr(fact.body, name)), fact.person)
        if person != fact.person:
            said = f"is on record for {quoted(person)}, expected a reference that is not in use"
            made.problems.append(Problem(BY_NAME[fact.kind].sheet, made.rows[fact.id], name, said))
