"""From stories to a workbook: told one person after another, written as it is told, never held whole."""

from __future__ import annotations

import contextlib
import csv
import random
import tempfile
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from caseload.demo import REFERENCE_FILE
from caseload.exchange.cells import written
from caseload.exchange.layout import headings
from caseload.records.sheets import SHEETS
from demo_clinic import names
from demo_clinic.cast import STORIES
from demo_clinic.rota import bookings, rota, time_off
from demo_clinic.tale import Register, Row, Tale

REFERENCE = date(2026, 6, 3)
"""A Wednesday; the program lays the dates around its own today, weekday for weekday."""
PER_CLINIC = len(STORIES)
_STAMP = (1980, 1, 1, 0, 0, 0)


def make(path: Path, size: int = PER_CLINIC, seed: int = 1) -> None:
    """Write a workbook of `size` people to a zip; the same bytes for the same size and seed."""
    with tempfile.TemporaryDirectory() as folder, contextlib.ExitStack() as open_files:
        writers = {
            sheet.name: _writer(sheet, open_files.enter_context(_csv_file(Path(folder), sheet.name)))
            for sheet in SHEETS
        }
        tell(lambda sheet, row: writers[sheet](row), size, seed)
        open_files.close()
        _pack(path, Path(folder))


def tell(put: Callable[[str, Row], None], size: int = PER_CLINIC, seed: int = 1) -> None:
    """Tell the stories of `size` people, one cast to a clinic."""
    register = Register(REFERENCE, put)
    for first in range(0, size, PER_CLINIC):
        clinic = names.clinic(first // PER_CLINIC)
        people = {}
        for n, story in enumerate(STORIES[: size - first]):
            rng = random.Random(f"{seed} {first + n}")
            tale = Tale(register, clinic, f"P{first + n + 1:04d}", names.name(first + n, rng), n % 2, rng)
            story(tale)
            tale.end()
            people[story.__name__] = (tale.ref, tale.devices[0].ref if tale.devices else "")
        sessions = rota(register, clinic)
        bookings(register, sessions, people)
        time_off(register, clinic)


def _csv_file(folder: Path, name: str) -> Any:
    return (folder / f"{name}.csv").open("w", encoding="utf-8", newline="")


def _writer(sheet: Any, file: Any) -> Callable[[Row], None]:
    """A function that writes one row of typed values under the headings of a sheet."""
    heads = headings(sheet)
    rows = csv.writer(file, lineterminator="\r\n")
    rows.writerow(head.name for head in heads)
    known = {head.name for head in heads}

    def write(row: Row) -> None:
        if unknown := row.keys() - known:
            raise ValueError(f"{sheet.name} has no {', '.join(sorted(unknown))}")
        rows.writerow([written(head.column, row.get(head.name)) for head in heads])

    return write


def _pack(path: Path, folder: Path) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(_entry(REFERENCE_FILE), REFERENCE.isoformat() + "\n")
        for sheet in SHEETS:
            with archive.open(_entry(f"{sheet.name}.csv"), "w") as entry:
                entry.write((folder / f"{sheet.name}.csv").read_bytes())


def _entry(name: str) -> zipfile.ZipInfo:
    """Dated alike, so that the same stories give the same bytes."""
    info = zipfile.ZipInfo(name, _STAMP)
    info.compress_type, info.external_attr = zipfile.ZIP_DEFLATED, 0o644 << 16
    return info
