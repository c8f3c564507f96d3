"""Putting tables into files: private to their owner, and whole or not at all."""

from __future__ import annotations

import csv
import io
import os
import tempfile
import zipfile
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from caseload.exchange.cells import written
from caseload.exchange.layout import Heading
from caseload.exchange.problems import Wrong
from caseload.exchange.xlsx_tables import LONGEST, escape
from caseload.plain import plain
from caseload.records.columns import Kind
from caseload.records.sheets import BY_NAME

Contents = Iterable[tuple[str, list[Heading], Iterator[list[Any]]]]

_DAY_ONE = (1980, 1, 1, 0, 0, 0)
"""The date of every file in a zip, so that the same caseload gives the same bytes."""


def write_tables(path: Path, contents: Contents) -> None:
    """Write to a .zip, an .xlsx or else a folder; `Wrong` when the place is taken or cannot hold a text."""
    ending = path.suffix.lower()
    if ending in (".zip", ".xlsx"):
        if path.is_dir():
            raise Wrong(f"{plain(path.name)} is a folder, expected the name of a {ending} file")
        _whole(path, (_zip if ending == ".zip" else _xlsx), contents)
        return
    if path.exists():
        if not path.is_dir():
            raise Wrong(
                f"{plain(path.name)} is a file, expected a new folder, or a name ending in .zip or .xlsx"
            )
        ours = {f"{name}.csv" for name in BY_NAME}
        if any(entry.name not in ours for entry in path.iterdir()):
            raise Wrong(f"the folder {plain(path.name)} holds other files, expected an empty or a new one")
    path.mkdir(mode=0o700, parents=True, exist_ok=True)
    for name, heads, rows in contents:
        _whole(path / f"{name}.csv", _csv, (heads, rows))


def _whole(path: Path, fill: Any, contents: Any) -> None:
    """Fill a file beside `path` (mode 0600) and put it in its place when it is complete and on the disk."""
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=".caseload-", suffix=path.suffix)
    try:
        with os.fdopen(handle, "wb") as file:
            fill(file, contents)
            file.flush()
            os.fsync(file.fileno())
        Path(beside).replace(path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise


def _csv(file: Any, content: tuple[list[Heading], Iterable[list[Any]]]) -> None:
    heads, rows = content
    text = io.TextIOWrapper(file, encoding="utf-8", newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(head.name for head in heads)
    columns = [head.column for head in heads]
    writer.writerows(
        [written(column, value) for column, value in zip(columns, row, strict=True)] for row in rows
    )
    text.flush()
    text.detach()


def _zip(file: Any, contents: Contents) -> None:
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, heads, rows in contents:
            info = zipfile.ZipInfo(f"{name}.csv", _DAY_ONE)
            info.compress_type, info.external_attr = zipfile.ZIP_DEFLATED, 0o600 << 16
            with archive.open(info, "w") as entry:
                _csv(entry, (heads, rows))


def _xlsx(file: Any, contents: Contents) -> None:
    import openpyxl
    from openpyxl.cell import WriteOnlyCell
    from openpyxl.styles import Font

    book = openpyxl.Workbook(write_only=True)
    try:
        for name, heads, rows in contents:
            sheet = book.create_sheet(name)
            sheet.freeze_panes = "A2"
            sheet.append([_bold(WriteOnlyCell(sheet, head.name), Font) for head in heads])
            for number, row in enumerate(rows, 2):
                cells = zip(heads, row, strict=True)
                sheet.append([_xlsx_cell(name, number, sheet, head, value) for head, value in cells])
    except BaseException:
        for sheet in book.worksheets:
            sheet.close()
        raise
    book.save(file)


def _xlsx_cell(name: str, number: int, sheet: Any, head: Heading, value: Any) -> Any:
    from openpyxl.cell import WriteOnlyCell

    if head.column.kind in (Kind.DAY, Kind.WHOLE) or (
        head.column.kind is Kind.NUMBER and (value is None or float(f"{value:.15g}") == value)
    ):
        return value  # the format keeps 15 digits of a number; one that has more is written as text
    text = escape(written(head.column, value))
    if len(text) > LONGEST:
        said = f"holds more than the {LONGEST:,} characters an .xlsx can hold in one cell"
        raise Wrong(f"{name}:{number}:{head.name}: {said}, expected a name ending in .zip")
    return _text(WriteOnlyCell(sheet, text)) if text else None


def _bold(cell: Any, font: Any) -> Any:
    cell.font = font(bold=True)
    return cell


def _text(cell: Any) -> Any:
    """Said to be text, whatever it looks like: the writer makes a formula of `=` and an error of `#N/A`."""
    cell.data_type = "s"
    return cell
