"""The demo: an invented caseload in a database of its own, its dates laid around today."""

from __future__ import annotations

import zipfile
from collections.abc import Callable
from dataclasses import fields, replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from caseload import settings
from caseload.acts import load, protocol
from caseload.demo import REFERENCE_FILE, WORKBOOK, laid_around
from caseload.errors import Refused
from caseload.exchange import workbook
from caseload.exchange.told import TableRow
from caseload.exchange.workbook import Progress, Workbook
from caseload.rules.protocol import shipped_text

if TYPE_CHECKING:
    from caseload.acts.desk import Desk

INVENTED_PHONES = {
    "orthotist": "555 0142",
    "clinic": "555 0118",
    "out_of_hours": "555 0170",
    "medical": "555 0133",
    "emergency": "the emergency number",
}
_STALE = 7
"""Days after which the demo no longer lies around today."""


def own_place() -> str:
    """The demo's own database, beside the user's."""
    return str(settings.data_folder() / "caseload-demo.db")


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
    path = path or WORKBOOK
    book, problems = workbook.read(path, progress=progress)
    if problems:
        raise Refused(str(problem) for problem in problems)
    reference = _reference_day(path)
    protocol.use(desk, with_invented_phones(shipped_text()))
    load.bring_in(
        desk, moved(book, lambda day: laid_around(desk.today, reference, day)), path.name, progress=progress
    )
    with desk.act("demo") as work:
        work.note("demo", desk.today.isoformat())
    return ""


def with_invented_phones(text: str) -> str:
    """The shipped protocol as the invented clinic keeps it: with numbers to call that are nobody's."""
    for key, number in INVENTED_PHONES.items():
        text = text.replace(f'\n{key} = ""', f'\n{key} = "{number}"')
    return text


def _reference_day(path: Path) -> date:
    with zipfile.ZipFile(path) as archive:
        return date.fromisoformat(archive.read(REFERENCE_FILE).decode("ascii").strip())


def moved(book: Workbook, move: Callable[[date], date]) -> Workbook:
    """A workbook with every date moved."""
    by_day = cache(move)
    sheets = {sheet: [_row(row, by_day) for row in rows] for sheet, rows in book.sheets.items()}
    return Workbook(sheets, book.keys, book.warnings)


def _row(row: Any, move: Callable[[date], date]) -> Any:
    if isinstance(row, TableRow):
        return TableRow(_dated(row.record, move), row.row)
    return _dated(replace(row, body=_dated(row.body, move)), move)


def _dated(record: Any, move: Callable[[date], date]) -> Any:
    values = {field.name: getattr(record, field.name) for field in fields(record)}
    return replace(record, **{name: move(day) for name, day in values.items() if type(day) is date})
