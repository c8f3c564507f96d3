"""A workbook in memory: plain records by sheet, each with the row it stood in; read and written by path."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from caseload.exchange.dates import Order
from caseload.exchange.layout import headings
from caseload.exchange.opening import open_tables
from caseload.exchange.problems import Problem
from caseload.exchange.rows import read_rows, value_of
from caseload.records.sheets import SHEETS

Progress = Callable[[str, int, int], None]
"""Told what is being done, how much is done and of how much; it stops the work by raising."""


@dataclass(slots=True)
class Workbook:
    """What a workbook says. Two are equal when they say the same, wherever it stood."""

    sheets: dict[str, list[Any]] = field(default_factory=dict)
    """`TableRow`s or `FactRow`s by the name of the sheet, in the order of its rows; without unreadable ones."""
    keys: dict[str, dict[Any, int] | None] = field(default_factory=dict, compare=False)
    """The row of each key by sheet, of unreadable rows too: what stands there may be referred to. None for a
    sheet that could not be gone through, so that nobody can say what stands there."""
    warnings: list[str] = field(default_factory=list, compare=False)
    """What was taken in a way somebody may want to know of."""
    latest: dict[tuple[str, str], date] = field(default_factory=dict, compare=False)
    """The latest day under a heading, by sheet and heading, of those that were read from cells."""

    def rows(self, sheet: str) -> list[Any]:
        """The rows of one sheet; none when the workbook does not have it."""
        return self.sheets.get(sheet, [])

    def __len__(self) -> int:
        """How many rows it holds."""
        return sum(len(rows) for rows in self.sheets.values())


def read(
    path: str | Path, dates: Order = "iso", progress: Progress | None = None
) -> tuple[Workbook, list[Problem]]:
    """Read a folder or .zip of NAME.csv, one .csv, or an .xlsx: what could be read, and all that could not.

    Nothing is looked up and nothing is written. References are held against each other in `references`.
    """
    opened, problems = open_tables(Path(path))
    book = Workbook(warnings=opened.warnings)
    with opened:
        for number, table in enumerate(opened.tables):
            if progress:
                progress(f"reading {table.sheet.name}", number, len(opened.tables))
            book.sheets[table.sheet.name], book.keys[table.sheet.name] = read_rows(
                table, dates, problems, book.latest
            )
    book.sheets = {sheet.name: book.sheets[sheet.name] for sheet in SHEETS if book.sheets.get(sheet.name)}
    order = {sheet.name: place for place, sheet in enumerate(SHEETS)}
    problems.sort(key=lambda p: (order.get(p.sheet, -1), p.sheet, p.row))
    return book, problems


def write(book: Workbook, path: str | Path, progress: Progress | None = None) -> None:
    """Write every sheet to a .zip, an .xlsx or else a folder, readable by its owner only.

    Raises `Wrong` with a sentence when the place is taken by something else or cannot hold what is to be
    written; what stood there before is then untouched.
    """
    from caseload.exchange.writing import write_tables

    def contents() -> Iterator[tuple[str, list[Any], Iterator[list[Any]]]]:
        for number, sheet in enumerate(SHEETS):
            if progress:
                progress(f"writing {sheet.name}", number, len(SHEETS))
            heads = headings(sheet)
            rows = ([value_of(row, head) for head in heads] for row in book.rows(sheet.name))
            yield sheet.name, list(heads), rows

    write_tables(Path(path), contents())
