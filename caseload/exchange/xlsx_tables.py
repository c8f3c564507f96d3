"""A workbook that is an .xlsx: its cells as text, never its formulas evaluated."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Iterator
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

from caseload.exchange import tables
from caseload.exchange.problems import Problem
from caseload.exchange.tables import Opened, Table, Unreadable

LONGEST = 32_767
"""Characters the format allows in one cell (ECMA-376); beyond it writers cut silently."""

_ESCAPE = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")
_ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
_FORMULA = "holds a formula, expected its value: copy the column and paste it as values"


def escape(text: str) -> str:
    """`text` with what XML cannot hold as `_xHHHH_`, the way the format itself does (ECMA-376 22.9.2.19)."""
    return _ESCAPE.sub(lambda match: f"_x{ord(match.group()):04X}_", text)


def unescape(text: str) -> str:
    """What `escape` was given."""
    return _ESCAPED.sub(lambda match: chr(int(match[1], 16)), text) if "_x" in text else text


def open_xlsx(path: Path) -> tuple[Opened, list[Problem]]:
    """The worksheets of an .xlsx that hold anything."""
    import openpyxl

    try:
        with zipfile.ZipFile(path) as archive:
            unpacked = sum(info.file_size for info in archive.infolist())
    except zipfile.BadZipFile:
        raise Unreadable(
            f"{path.name} is not an .xlsx: it is damaged, an older format, or locked with a password"
        ) from None
    if unpacked > tables.MOST_BYTES:
        raise Unreadable(
            f"the workbook holds more than {tables.MOST_BYTES // 1_000_000} MB once unpacked, expected less"
        )
    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=False)
    except Exception:  # whatever a damaged file makes the reader raise, to its user it is one thing
        raise Unreadable(f"{path.name} could not be read as an .xlsx: it is damaged") from None
    opened, problems = Opened(closing=[book]), list[Problem]()
    for worksheet in book.worksheets:
        worksheet.reset_dimensions()
        if not _holds_anything(worksheet):
            continue
        sheet = tables.named(worksheet.title, opened.tables, problems)
        if sheet is not None:
            table = Table(sheet, ())
            table.rows = _rows(worksheet, table)
            opened.tables.append(table)
    return opened, problems


def _holds_anything(worksheet: Any) -> bool:
    try:
        return any(
            cell is not None for row in worksheet.iter_rows(max_row=50, values_only=True) for cell in row
        )
    except Exception:
        return True  # read again, and its damage told, when its rows are gone through


def _rows(worksheet: Any, table: Table) -> Iterator[tuple[int, list[str]]]:
    try:
        for number, row in enumerate(worksheet.iter_rows(max_col=tables.MOST_COLUMNS + 1), 1):
            cells = []
            for place, cell in enumerate(row):
                value, kind = cell.value, cell.data_type
                if kind in ("f", "e"):
                    table.wrong[number, place] = (
                        _FORMULA if kind == "f" else f"holds the error {value}, expected a value"
                    )
                    value = None
                cells.append(value if value.__class__ is str and "_x" not in value else _as_text(value))
            while cells and cells[-1] == "" and (number, len(cells) - 1) not in table.wrong:
                cells.pop()
            yield number, cells
    except Exception as error:
        raise Unreadable("could not be read to its end: the .xlsx is damaged") from error


def _as_text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, str):
        return unescape(value)
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    return str(value)
