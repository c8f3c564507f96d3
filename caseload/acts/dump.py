"""Writing everything that is on record as a workbook, from which it can be brought in again."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from caseload.errors import Refused
from caseload.exchange import workbook
from caseload.exchange.problems import Wrong
from caseload.exchange.told import FactRow, TableRow
from caseload.exchange.workbook import Progress, Workbook
from caseload.plain import plain
from caseload.records.facts import BY_NAME, Fact, Of
from caseload.records.sheets import SHEETS
from caseload.store import cases
from caseload.store.mapping import from_row, names

if TYPE_CHECKING:
    from caseload.store.store import Store


def dump(store: Store, path: str | Path, progress: Progress | None = None) -> int:
    """Write a folder, a .zip or an .xlsx by the ending of `path`, for its owner's eyes only; how many rows.

    Struck-out facts are among them. Raises Refused when the place is taken or cannot be written.
    """
    book = everything(store)
    try:
        workbook.write(book, path, progress)
    except Wrong as wrong:
        raise Refused([str(wrong)]) from None
    except OSError as error:
        why = (error.strerror or type(error).__name__).lower()
        raise Refused([f"{plain(Path(path).name)} could not be written: {why}"]) from None
    return len(book)


def everything(store: Store) -> Workbook:
    """All that is on record, people by reference and each one's facts in the order in which they count."""
    sheets: dict[str, list[Any]] = {sheet.name: [] for sheet in SHEETS}
    with store.change():  # so that nobody writes between two of the reads
        for batch in cases.cases(store):
            for case in batch:
                sheets["people"].append(TableRow(case.person))
                sheets["devices"].extend(TableRow(device) for device in case.devices)
                for fact in sorted(case.facts, key=lambda fact: (fact.on, fact.order)):
                    sheets[BY_NAME[fact.kind].sheet].append(_row(fact))
        for sheet in SHEETS:
            if sheet.fact is None and sheet.name not in ("people", "devices"):
                key = ", ".join(f'"{name}"' for name in sheet.key)
                rows = store.all(f"SELECT {names(sheet.record)} FROM {sheet.name} ORDER BY {key}")
                sheets[sheet.name] = [TableRow(from_row(sheet.record, row)) for row in rows]
    return Workbook({name: rows for name, rows in sheets.items() if rows})


def _row(fact: Fact) -> FactRow:
    of = BY_NAME[fact.kind].of
    subject = fact.person if of is Of.PERSON else fact.device or ""
    if of is Of.REQUEST:
        subject = fact.body.request
    return FactRow(
        subject, fact.on, fact.body, fact.at, fact.by, fact.note, fact.typed_on,
        fact.struck_on, fact.struck_by, fact.struck_reason,
    )  # fmt: skip
