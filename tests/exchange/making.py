"""Hypothesis strategies for whole workbooks, made from the declared columns; and small ones by hand."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from caseload.exchange.cells import BLANKS
from caseload.exchange.layout import headings
from caseload.exchange.told import FactRow, TableRow
from caseload.exchange.workbook import Workbook
from caseload.records.columns import Column, Kind, columns
from caseload.records.facts import Of
from caseload.records.sheets import BY_NAME, ENVELOPE, SHEETS, Sheet

HOSTILE = (
    "[bold red]Åsa[/] [/nothing]",
    "=HYPERLINK(1)",
    "+1",
    "-2",
    "@SUM(A1)",
    "'s-Hertogenbosch",
    "''",
    "'",
    "' ' '",
    " spaces around ",
    "ends in '",
    "x '",
    "\ttab",
    "line\nbreak\r\nand\rreturn",
    "bell \x07 escape \x1b[31m c1 \x9b",
    "_x0041_ _x005F_",
    "שלום \u202e reversed \u200f",
    "👩🏽‍🦽 family 👨‍👩‍👧",
    "\ufeffbom",
    "nel\x85 ls\u2028 nbsp\xa0",
    '"quoted", and; parted',
    "#N/A",
    "\ufffe\uffff",
    "1e3",
    "2026-02-01",
    "TRUE",
    "y" * 10_000,
)
DAYS = st.dates(date(1900, 1, 1), date(2199, 12, 31))
TEXTS = st.sampled_from(HOSTILE) | st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12
)
ENTRIES = st.sampled_from(["D1-L", "a;b", "c\\", "\\;", "=D", "mon"])
REFERENCES = st.sampled_from(["P1", "Å-2", "=P3", "'4", "P 5"])


def value(column: Column) -> st.SearchStrategy[Any]:
    """A value that the column may hold, blank where it may be."""
    low = 0 if column.low is None else column.low
    high = 10_000 if column.high is None else column.high
    by_kind = {
        Kind.TEXT: REFERENCES if column.refers_to else TEXTS,
        Kind.OPEN_WORD: st.sampled_from(column.words or ("heel",)) | TEXTS,
        Kind.DAY: DAYS,
        Kind.TIME: st.times().map(lambda t: f"{t.hour:02}:{t.minute:02}"),
        Kind.YES_NO: st.booleans(),
        Kind.WHOLE: st.integers(int(low), int(high)),
        Kind.NUMBER: st.floats(low, high, allow_nan=False, allow_infinity=False),
        Kind.WORD: st.sampled_from(column.words or ("",)),
        Kind.WORDS: st.lists(st.sampled_from(column.words or ("",)), max_size=3).map(tuple),
        Kind.LIST: st.lists(ENTRIES, max_size=3).map(tuple),
    }[column.kind]
    if column.required:
        return by_kind.filter(lambda v: v not in ("", ()))
    return st.just(BLANKS.get(column.kind)) | by_kind


def record(sheet: Sheet) -> st.SearchStrategy[Any]:
    """A record of the rows of a sheet."""
    return st.builds(sheet.record, **{column.name: value(column) for column in columns(sheet.record)})


def row(sheet: Sheet) -> st.SearchStrategy[Any]:
    """A row of a sheet."""
    if sheet.fact is None:
        return record(sheet).map(TableRow)
    envelope = {column.name: value(column) for column in ENVELOPE}

    def with_subject(body: Any) -> st.SearchStrategy[FactRow]:
        subject = st.just(body.request) if sheet.fact.of is Of.REQUEST else REFERENCES
        return st.builds(FactRow, subject=subject, body=st.just(body), **envelope)

    return record(sheet).flatmap(with_subject)


def _key(sheet: Sheet) -> Any:
    def key(row: Any) -> Any:
        record = row.record if isinstance(row, TableRow) else row.body
        return tuple(getattr(record, name) for name in sheet.key)

    return key if sheet.key else None


@st.composite
def workbooks(draw: st.DrawFn) -> Workbook:
    """A workbook with a few rows in a few sheets; references need not lead anywhere."""
    sheets = draw(st.lists(st.sampled_from(SHEETS), min_size=1, max_size=4, unique_by=lambda s: s.name))
    chosen = [sheet for sheet in SHEETS if sheet in sheets]
    rows = {s.name: draw(st.lists(row(s), min_size=1, max_size=3, unique_by=_key(s))) for s in chosen}
    return Workbook(sheets=rows)


def folder(place: Path, **sheets: str) -> Path:
    """A folder with one .csv per named sheet, as typed by somebody."""
    place.mkdir(exist_ok=True)
    for name, text in sheets.items():
        (place / f"{name}.csv").write_text(text, encoding="utf-8", newline="")
    return place


def text_of(place: Path) -> str:
    """All the cells of a folder of .csv, for looking through."""
    cells = []
    for file in place.glob("*.csv"):
        with file.open(encoding="utf-8", newline="") as opened:
            cells += [cell for line in csv.reader(opened) for cell in line]
    return "\n".join(cells)


def all_headings(sheet: str) -> list[str]:
    """The headings of a sheet by name."""
    return [head.name for head in headings(BY_NAME[sheet])]
