"""The demo: an invented caseload in a database of its own, its dates laid around today."""

from __future__ import annotations

import zipfile
from dataclasses import fields, is_dataclass, replace
from datetime import date, timedelta
from importlib import resources
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caseload import settings
from caseload.acts import load
from caseload.errors import Refused
from caseload.exchange import workbook
from caseload.exchange.workbook import FactRow, Progress, TableRow, Workbook

if TYPE_CHECKING:
    from caseload.acts.desk import Desk

REFERENCE_DAY = "day.txt"
"""The file of the demo workbook that says, in ISO, which day it was made around."""
_STALE = 7
"""Days after which the demo no longer lies around today."""


def own_place() -> str:
    """The demo's own database, beside the user's."""
    return str(settings.data_folder() / "caseload-demo.db")


def shipped() -> Path:
    """The demo workbook that comes with the package."""
    folder = resources.files("caseload") / "demo"
    found = sorted(Path(str(folder)).glob("*.zip"))
    if not found:
        raise Refused(["The demo workbook is not part of this installation."])
    return found[0]


def clear(place: str, *, own: bool) -> None:
    """Take the demo's database away so that it is made anew; never one that somebody else named."""
    if not own:
        raise Refused(
            ["Only the demo's own database is made anew; take --db away, or name one that does not exist."]
        )
    for ending in ("", "-wal", "-shm"):
        Path(place + ending).unlink(missing_ok=True)


def make(desk: Desk, progress: Progress | None = None, path: Path | None = None) -> str:
    """Load the demo into an empty database; leave one that holds somebody as it is.

    Returns a sentence for whoever looks at a demo that was laid around another week, or ''.
    """
    made = desk.store.one('SELECT "ref" FROM audit WHERE "act" = \'demo\' ORDER BY "id" DESC LIMIT 1')
    if desk.store.one("SELECT 1 FROM people LIMIT 1"):
        if made is None:
            raise Refused(["This database holds a caseload that is not the demo; nothing was changed."])
        around = date.fromisoformat(made[0])
        if abs((desk.today - around).days) < _STALE:
            return ""
        return f"This demo lies around {around}; caseload demo --fresh lays it around today."
    path = path or shipped()
    book, problems = workbook.read(path, progress=progress)
    if problems:
        raise Refused(str(problem) for problem in problems)
    shift = (desk.today - _reference_day(path)).days // 7 * 7
    load.bring_in(desk, shifted(book, timedelta(days=shift)), path.name, progress=progress)
    with desk.act("demo") as work:
        work.note("demo", desk.today.isoformat())
    return ""


def _reference_day(path: Path) -> date:
    with zipfile.ZipFile(path) as archive:
        return date.fromisoformat(archive.read(REFERENCE_DAY).decode("ascii").strip())


def shifted(book: Workbook, by: timedelta) -> Workbook:
    """A workbook with every date moved; whole weeks keep the days of the week."""
    moved: dict[str, list[Any]] = {}
    for sheet, rows in book.sheets.items():
        moved[sheet] = [_row(row, by) for row in rows]
    return Workbook(moved, book.keys, book.warnings)


def _row(row: Any, by: timedelta) -> Any:
    if isinstance(row, TableRow):
        return TableRow(_dated(row.record, by), row.row)
    assert isinstance(row, FactRow)
    return _dated(replace(row, body=_dated(row.body, by)), by)


def _dated(record: Any, by: timedelta) -> Any:
    assert is_dataclass(record) and not isinstance(record, type)
    values = {field.name: getattr(record, field.name) for field in fields(record)}
    return replace(record, **{name: day + by for name, day in values.items() if type(day) is date})
