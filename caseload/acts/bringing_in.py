"""Holding a workbook against what is on record: what loading it would add, complete and put right."""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from itertools import count
from typing import TYPE_CHECKING, Any

from caseload import clock
from caseload.acts.load_checks import (
    dates_ahead,
    hold_against_cases,
    hold_references,
    strange_areas,
    struck_without_reason,
)
from caseload.acts.load_plan import Plan
from caseload.exchange.layout import Heading, Part
from caseload.exchange.matching import Differing, compare, match, merged
from caseload.exchange.problems import Problem, quoted
from caseload.exchange.references import Known, dangling, owners, subjects
from caseload.exchange.told import FactRow
from caseload.exchange.workbook import Workbook
from caseload.records.case import Case
from caseload.records.columns import Kind
from caseload.records.devices import Device
from caseload.records.facts import Fact, FactKind, Of
from caseload.records.people import Person
from caseload.records.sheets import BY_NAME, SHEETS, Sheet
from caseload.store import cases, writes

if TYPE_CHECKING:
    from caseload.acts.desk import Desk
    from caseload.store.store import Store

_FEW = 200
"""Up to so many people on record are read one by one; for more it is quicker to go through all."""


def plan(desk: Desk, book: Workbook, amend: str) -> Plan:
    """Hold a workbook against the record. `amend`: why what contradicts it is to be put right; '' to refuse."""
    known = _known(desk.store)
    made = Plan(problems=[*dangling(book, known), *dates_ahead(book, desk.today), *struck_without_reason(book)])
    _tables(desk.store, book, amend, made)
    _facts(desk, book, known, amend, made)
    hold_against_cases(desk, book, made)
    strange_areas(desk, made)
    hold_references(desk.store, made)
    return made


def _known(store: Store) -> Known:
    asked = store.all(
        'SELECT "reference", "device" FROM facts WHERE "kind" = \'adjustment request\''
        ' ORDER BY CASE WHEN "struck_on" IS NULL THEN 1 ELSE 0 END'
    )
    return Known(
        people={row[0] for row in store.all('SELECT "person" FROM people')},
        devices=dict(store.all('SELECT "device", "person" FROM devices')),
        requests=dict(asked),
        sessions={row[0] for row in store.all('SELECT "session" FROM sessions')},
    )


def _tables(store: Store, book: Workbook, amend: str, made: Plan) -> None:
    for sheet in SHEETS:
        rows = book.rows(sheet.name)
        if sheet.fact or not rows:
            continue
        held = {tuple(map(str, key)) for key in store.all(f"SELECT {_names(sheet.key)} FROM {sheet.name}")}
        new = []
        for row in rows:
            key = writes.key_of(row.record)
            on_record = writes.found(store, sheet.record, key) if tuple(map(str, key)) in held else None
            if on_record is None:
                new.append(row.record)
                continue
            record, version = on_record
            found = compare(row, record, sheet)
            if _accepted(found, sheet, amend, made):
                made.replaced.append((record, merged(found, sheet), version))
        made.count(sheet.name, "new", len(new))
        if new:
            made.added[sheet.name] = new


def _names(columns: Iterable[str]) -> str:
    return ", ".join(f'"{name}"' for name in columns)


def _accepted(found: Differing, sheet: Sheet, amend: str, made: Plan) -> bool:
    """Whether something is to be changed; counted, and a problem for each cell that may not be."""
    if not found.contrary:
        made.count(sheet.name, "completed" if found.filled else "same")
        return bool(found.filled)
    fixed = [head for head in found.contrary if head.part is Part.SUBJECT or _whose(sheet, head)]
    for head in fixed or (() if amend else found.contrary):
        made.problems.append(Problem(sheet.name, found.row.row, head.name, _contrary(found, head, bool(fixed))))
    made.count(sheet.name, "amended")
    return not fixed and bool(amend)


def _whose(sheet: Sheet, head: Heading) -> bool:
    return sheet.name == "devices" and head.name == "person"


def _contrary(found: Differing, head: Heading, fixed: bool) -> str:
    if fixed:
        kept = found.on_record.person
        return f"is on record as another's ({quoted(kept)}), expected the same: strike the other out instead"
    if head.column.kind in (Kind.TEXT, Kind.OPEN_WORD, Kind.LIST):  # may hold names and notes: not repeated
        kept = "something else"
    else:
        kept = _shown(_of(found.on_record, head))
    return f"is on record as {kept}, expected the same or a blank; to put the record right, use --amend REASON"


def _of(on_record: Any, head: Heading) -> Any:
    body = on_record.body if isinstance(on_record, Fact) and head.part is Part.RECORD else on_record
    return getattr(body, head.column.name)


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "; ".join(value) if isinstance(value, tuple) else str(value)


def _facts(desk: Desk, book: Workbook, known: Known, amend: str, made: Plan) -> None:
    owner, about = owners(book, known), subjects(book, known)
    people = {row.record.person: row.record for row in book.rows("people")}
    on_record_or_book = known.people | set(people)
    touched = {row.record.person for sheet in ("people", "devices") for row in book.rows(sheet)}
    by_person: dict[str, list[tuple[FactKind, list[FactRow]]]] = {
        person: [] for person in touched & on_record_or_book
    }
    for sheet in SHEETS:
        if sheet.fact is None:
            continue
        per: dict[str, list[FactRow]] = {}
        of = sheet.fact.of
        for row in book.rows(sheet.name):
            subject = about.get(row.subject, "") if of is Of.REQUEST else row.subject
            person = subject if of is Of.PERSON else owner.get(subject, "")
            if person in on_record_or_book:  # else a problem of its own has been told
                per.setdefault(person, []).append(row)
        for person, rows in per.items():
            by_person.setdefault(person, []).append((sheet.fact, rows))
    made.known = {person for person in by_person if person in known.people}
    on_record = {case.person.person: case for case in _cases(desk.store, made.known)}
    devices: dict[str, list[Device]] = {}
    for row in book.rows("devices"):
        devices.setdefault(row.record.person, []).append(row.record)
    make = _maker(desk, about)
    for person in sorted(by_person):
        case = on_record.get(person) or Case(people[person], tuple(devices.get(person, ())), ())
        facts = _of_case(case, by_person[person], person in made.known, make, amend, made)
        made.cases[person] = replace(case, facts=facts)
    _with_changed_records(made)


def _of_case(
    case: Case,
    rows: list[tuple[FactKind, list[FactRow]]],
    is_known: bool,
    make: Callable[[FactKind, FactRow, str, int], Fact],
    amend: str,
    made: Plan,
) -> tuple[Fact, ...]:
    """The facts of a person as they will be; new and amended ones join the plan."""
    facts = list(case.facts)
    order = max((fact.order for fact in facts), default=-1)
    person = case.person.person
    for kind, told in rows:
        new = told
        if is_known:
            found = match(told, (fact for fact in case.facts if fact.kind == kind.name), kind)
            new, sheet = found.new, BY_NAME[kind.sheet]
            made.count(sheet.name, "same", found.same)
            for differing in found.differing:
                if _accepted(differing, sheet, amend, made):
                    after = merged(differing, sheet)
                    made.amended.append((differing.on_record, after))
                    made.rows[after.id] = differing.row.row
                    facts[facts.index(differing.on_record)] = after
        made.count(kind.sheet, "new", len(new))
        for row in new:
            order += 1
            fact = make(kind, row, person, order)
            facts.append(fact)
            made.facts.append(fact)
            made.rows[fact.id] = row.row
    return tuple(facts)


def _maker(desk: Desk, about: dict[str, str]) -> Callable[[FactKind, FactRow, str, int], Fact]:
    ids = _ids()

    def make(kind: FactKind, row: FactRow, person: str, order: int) -> Fact:
        device: str | None = None
        if kind.of is not Of.PERSON:
            device = about[row.subject] if kind.of is Of.REQUEST else row.subject
        return Fact(
            next(ids), kind.name, person, device, row.on, row.body, order, row.at, row.by or desk.who,
            row.note, row.typed_on or desk.today, row.struck_on, row.struck_by, row.struck_reason,
        )  # fmt: skip

    return make


def _ids() -> Iterator[str]:
    """UUIDs in rising order (RFC 9562, version 7): a moment, then a random start that is counted on from.

    Rising, so that each is put at the end of the index rather than somewhere into it.
    """
    moment = int(clock.now().timestamp() * 1000) & (2**48 - 1)
    drawn = f"{secrets.randbits(24):06x}"
    head = f"{moment >> 16:08x}-{moment & 0xFFFF:04x}-7{drawn[:3]}-8{drawn[3:]}-"
    for number in count(secrets.randbits(47)):
        yield f"{head}{number:012x}"


def _cases(store: Store, people: set[str]) -> Iterator[Case]:
    if len(people) <= _FEW:
        yield from (case for person in sorted(people) if (case := cases.case(store, person)))
        return
    for batch in cases.cases(store):
        yield from (case for case in batch if case.person.person in people)


def _with_changed_records(made: Plan) -> None:
    """Put new and changed people and devices into the cases of those who were on record."""
    changed = [after for _, after, _ in made.replaced]
    added = [device for device in made.added.get("devices", ()) if device.person in made.known]
    for record in (*changed, *added):
        if isinstance(record, Person):
            made.cases[record.person] = replace(made.cases[record.person], person=record)
        elif isinstance(record, Device):
            case = made.cases[record.person]
            others = tuple(device for device in case.devices if device.device != record.device)
            made.cases[record.person] = replace(case, devices=(*others, record))
