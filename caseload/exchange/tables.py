"""The tables of a workbook as text, whatever holds them; nothing here knows what a cell means."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from types import TracebackType
from typing import Any

from caseload.exchange.problems import Problem, did_you_mean
from caseload.plain import plain
from caseload.records.sheets import BY_NAME, Sheet

MOST_BYTES = 200_000_000
"""Of all tables together once unpacked: some two million rows. More is a mistake, or a trap."""
MOST_COLUMNS = 200


@dataclass(slots=True)
class Table:
    """One sheet of a workbook."""

    sheet: Sheet
    rows: Iterable[tuple[int, list[str]]]
    """Row number as the spreadsheet counts, and the cells as text; to be gone through once."""
    decimal_comma: bool = False
    wrong: dict[tuple[int, int], str] = field(default_factory=dict)
    """What stood in a cell (row, place) that has no text: a formula, an error. Filled while going through."""


@dataclass(slots=True)
class Opened:
    """An open workbook, to be closed by `with`."""

    tables: list[Table] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)
    closing: list[Any] = field(default_factory=list)

    def __enter__(self) -> Opened:
        """Itself."""
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """Close whatever is open."""
        for thing in self.closing:
            thing.close()


class Unreadable(Exception):  # noqa: N818 - said of the workbook
    """The workbook as a whole, or one sheet of it, cannot be read; the message says why."""

    def __init__(self, said: str, row: int = 0) -> None:
        """`row`: where reading stopped, if it had begun."""
        super().__init__(said)
        self.row = row


def named(name: str, taken: Iterable[Table], problems: list[Problem]) -> Sheet | None:
    """The sheet a table is by its name; None, and a problem, when there is no such or it is there already."""
    sheet = BY_NAME.get("_".join(name.strip().casefold().replace("-", " ").split()))
    shown_name = plain(name, longest=60)
    if sheet is None:
        hint = did_you_mean(name.strip(), BY_NAME) or f", expected one of: {', '.join(BY_NAME)}"
        problems.append(Problem(shown_name, 0, "", f"is not the name of a sheet{hint}"))
    elif any(table.sheet is sheet for table in taken):
        problems.append(Problem(shown_name, 0, "", f"is there twice, expected one sheet {sheet.name}"))
        return None
    return sheet
