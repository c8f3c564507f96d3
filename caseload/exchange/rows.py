"""The rows of one sheet: from cells to records and back, by a plain loop over the declared columns."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from itertools import zip_longest
from operator import itemgetter
from typing import Any

from caseload.exchange.cells import BLANKS, expected, reader
from caseload.exchange.dates import Order
from caseload.exchange.layout import Heading, Part, headings
from caseload.exchange.problems import Problem, Wrong, did_you_mean, quoted
from caseload.exchange.tables import MOST_COLUMNS, Table, Unreadable
from caseload.exchange.told import FactRow, TableRow
from caseload.records.columns import Kind
from caseload.records.facts import Of
from caseload.records.sheets import ENVELOPE, Sheet

Keys = dict[Any, int]
_MEMO = 100_000
"""Different cells of a column that are kept."""


class _Memo(dict[str, Any]):
    """Cells of one column read once each: most columns of a caseload hold few different texts.

    Measured on 300,000 rows: reading each cell afresh takes three times as long.
    """

    def __init__(self, read: Callable[[str], Any], wrongs: list[Wrong]) -> None:
        super().__init__()
        self.read = read
        self.wrongs = wrongs

    def __missing__(self, cell: str) -> Any:
        try:
            value = self.read(cell)
        except Wrong as wrong:
            self.wrongs.append(wrong)
            value = wrong
        if len(cell) < 80 and len(self) < _MEMO:
            self[cell] = value
        return value


def read_rows(
    table: Table, dates: Order, problems: list[Problem], latest: dict[tuple[str, str], date]
) -> tuple[list[Any], Keys | None]:
    """The rows of a table that could be read, and the row of every key in it, None when it could not be gone
    through; what is wrong joins `problems`, the latest day under each heading joins `latest`."""
    sheet, name = table.sheet, table.sheet.name
    source = iter(table.rows)
    try:
        for first, cells in source:
            if any(map(str.strip, cells)):
                heads = _heads(sheet, first, cells, problems)
                bare = {place for place, cell in enumerate(cells) if not cell.strip()}
                return (
                    _Reading(table, heads, bare, dates, problems, latest).read(source) if heads else ([], None)
                )
        problems.append(Problem(name, 0, "", "is empty, expected a first row with the names of the columns"))
    except Unreadable as error:
        problems.append(Problem(name, error.row, "", str(error)))
    return [], None


def _heads(sheet: Sheet, row: int, cells: list[str], problems: list[Problem]) -> list[Heading | None] | None:
    """The heading of each place, None for a place without one; None altogether when the sheet is no use."""
    known = {head.name: head for head in headings(sheet)}
    found: list[Heading | None] = []
    usable = len(cells) <= MOST_COLUMNS
    if not usable:
        problems.append(Problem(sheet.name, row, "", f"has more than {MOST_COLUMNS} columns, expected fewer"))
    for cell in cells[:MOST_COLUMNS]:
        told = "_".join(cell.strip().removesuffix("*").casefold().split())
        head = known.get(told)
        if told and head is None:
            hint = did_you_mean(told, known) or f", expected some of: {', '.join(known)}"
            problems.append(
                Problem(sheet.name, row, quoted(cell)[1:-1], f"is not the name of a column here{hint}")
            )
        elif head is not None and head in found:
            problems.append(
                Problem(sheet.name, row, head.name, "is there twice, expected one column of that name")
            )
        found.append(head if head not in found else None)
        usable = usable and (not told or head is not None)
    for head in known.values():
        if head.column.required and head not in found:
            problems.append(
                Problem(
                    sheet.name, row, head.name, f"is missing, expected this column: {expected(head.column)}"
                )
            )
            usable = False
    return found if (any(found) and usable) or _enough(sheet, found) else None


def _enough(sheet: Sheet, found: list[Heading | None]) -> bool:
    """Whether rows can be gone through for further problems though a heading was wrong."""
    return all(head in found for head in headings(sheet) if head.column.required)


@dataclass(slots=True)
class _Reading:
    """The work of reading one sheet whose headings are known."""

    table: Table
    heads: list[Heading | None]
    bare: set[int]
    """The places whose heading is blank."""
    dates: Order
    problems: list[Problem]
    latest: dict[tuple[str, str], date]

    def read(self, source: Any) -> tuple[list[Any], Keys]:
        sheet, width = self.table.sheet, len(self.heads)
        wrongs: list[Wrong] = []
        memos = [_Memo(self._reader(head, place), wrongs) for place, head in enumerate(self.heads)]
        build = _builder(sheet, self.heads)
        key_of = self._key()
        rows: list[Any] = []
        keys: Keys = {}
        held: Keys = {}
        struck = next((i for i, head in enumerate(self.heads) if head and head.name == "struck_on"), None)
        stopped = self.table.wrong
        for number, cells in source:
            if len(cells) < width:
                if not cells:
                    continue
                cells = cells + [""] * (width - len(cells))
            values = [memo[cell] for memo, cell in zip(memos, cells, strict=False)]
            is_wrong = len(cells) > width or stopped or wrongs
            if is_wrong and self._tell(number, cells, values):
                if key_of and not isinstance(key := key_of(values), Wrong):
                    keys.setdefault(key, number)
                continue
            if key_of:
                key = key_of(values)
                keys.setdefault(key, number)
                holds = struck is None or values[struck] is None  # struck out, it lets go of its reference
                if holds and held.setdefault(key, number) != number:
                    self._twice(number, key, held[key])
                    continue
            rows.append(build(values, number))
        self._note_latest(memos)
        return rows, keys

    def _note_latest(self, memos: list[_Memo]) -> None:
        """The latest day of each column of days: a memo holds every different cell there was."""
        read = {head.name: cells for head, cells in zip(self.heads, memos, strict=True) if head}
        for head in headings(self.table.sheet):
            memo: dict[str, Any] = read.get(head.name, {})
            if head.column.kind is Kind.DAY and len(memo) < _MEMO:
                days = (value for value in memo.values() if isinstance(value, date))
                self.latest[self.table.sheet.name, head.name] = max(days, default=date.min)

    def _reader(self, head: Heading | None, place: int) -> Callable[[str], Any]:
        if head is not None:
            return reader(head.column, self.dates, self.table.decimal_comma)
        return (
            _nothing if place in self.bare else str
        )  # under a wrong heading, which was told, all is passed over

    def _tell(self, number: int, cells: list[str], values: list[Any]) -> bool:
        """Whether the row is blank or holds something wrong, which is told; a blank row is passed over."""
        said = {place: text for (row, place), text in self.table.wrong.items() if row == number}
        if not said and not any(map(str.strip, cells)):
            return True
        before = len(self.problems)
        for place, (head, value) in enumerate(zip_longest(self.heads, values)):
            name = head.name if head else f"column {place + 1}"
            if place in said:
                self.problems.append(Problem(self.table.sheet.name, number, name, said[place]))
            elif isinstance(value, Wrong):
                self.problems.append(Problem(self.table.sheet.name, number, name, str(value)))
        if any(map(str.strip, cells[len(self.heads) :])):
            text = "holds a cell beyond the last heading, expected no more cells than headings"
            self.problems.append(Problem(self.table.sheet.name, number, "", text))
        return len(self.problems) > before

    def _key(self) -> Callable[[list[Any]], Any] | None:
        by_field = {head.column.name: place for place, head in enumerate(self.heads) if head}
        places = [by_field.get(name) for name in self.table.sheet.key]
        if not places:
            return None
        if len(places) == 1 and places[0] is not None:
            return itemgetter(places[0])
        return lambda values: tuple("" if place is None else values[place] for place in places)

    def _twice(self, number: int, key: Any, first: int) -> None:
        sheet = self.table.sheet
        fields = {head.column.name: head.name for head in self.heads if head}
        shown_key = ", ".join(str(part) for part in (key if isinstance(key, tuple) else (key,)) if part)
        said = f"{quoted(shown_key)} stands in row {first} already, expected each only once"
        self.problems.append(Problem(sheet.name, number, fields[sheet.key[0]], said))


def _nothing(cell: str) -> None:
    if cell.strip():
        raise Wrong("holds something under no heading, expected a heading in the first row or an empty column")


def _builder(sheet: Sheet, heads: list[Heading | None]) -> Callable[[list[Any], int], Any]:
    """A function that makes a row of the values of its cells; what has no column stands at its blank."""
    record = sheet.record
    own = {h.column.name: place for place, h in enumerate(heads) if h and h.part is Part.RECORD}
    names, said = tuple(own), _picker(tuple(own.values()))
    if sheet.fact is None:
        return lambda values, row: TableRow(record(**dict(zip(names, said(values), strict=True))), row)
    rest = {h.column.name: place for place, h in enumerate(heads) if h and h.part is Part.ENVELOPE}
    if sheet.fact.of is Of.REQUEST:
        subject = own["request"]
    else:
        subject = next(i for i, h in enumerate(heads) if h and h.part is Part.SUBJECT)
    blanks = [BLANKS.get(column.kind) for column in ENVELOPE]
    places = [rest.get(column.name, len(heads) + at) for at, column in enumerate(ENVELOPE)]
    envelope = _picker((subject, *places))
    bodies: dict[tuple[Any, ...], Any] = {}  # many facts say the same: a third of the time is saved

    def fact(values: list[Any], row: int) -> FactRow:
        key = said(values)
        body = bodies.get(key)
        if body is None:
            body = bodies[key] = record(**dict(zip(names, key, strict=True)))
        values.extend(blanks)
        of, on, at, by, note, typed, struck, struck_by, why = envelope(values)
        return FactRow(of, on, body, at, by, note, typed, struck, struck_by, why, row)

    return fact


def _picker(places: tuple[int, ...]) -> Callable[[list[Any]], tuple[Any, ...]]:
    """What `itemgetter` is for two and more, for any number."""
    if len(places) > 1:
        return itemgetter(*places)
    return lambda values: tuple(values[place] for place in places)


def value_of(row: Any, head: Heading) -> Any:
    """The value that stands under a heading in a row."""
    if head.part is Part.SUBJECT:
        return row.subject
    if head.part is Part.ENVELOPE:
        return getattr(row, head.column.name)
    return getattr(row.record if isinstance(row, TableRow) else row.body, head.column.name)
