"""Opening a workbook of whatever kind stands at a path."""

from __future__ import annotations

from pathlib import Path

from caseload.exchange.csv_tables import open_csv, open_folder, open_zip
from caseload.exchange.problems import Problem, quoted
from caseload.exchange.tables import Opened, Unreadable
from caseload.exchange.xlsx_tables import open_xlsx
from caseload.plain import plain
from caseload.records.sheets import BY_NAME

KINDS = "a folder or .zip of NAME.csv files, or an .xlsx"


def open_tables(path: Path) -> tuple[Opened, list[Problem]]:
    """Open what stands at `path` and name its sheets; unknown sheets and unreadable ones are problems."""
    ending = path.suffix.lower()
    try:
        if path.is_dir():
            opened, problems = open_folder(path)
        elif not path.exists():
            raise Unreadable(f"there is no {quoted(str(path))}, expected {KINDS}")
        elif ending == ".xlsx":
            opened, problems = open_xlsx(path)
        elif ending == ".zip":
            opened, problems = open_zip(path)
        elif ending == ".csv":
            opened, problems = open_csv(path)
        else:
            raise Unreadable(f"{plain(path.name)} is none of the kinds that can be read, expected {KINDS}")
        if not opened.tables and not problems:
            names = ", ".join(list(BY_NAME)[:3])
            raise Unreadable(f"{plain(path.name)} holds no sheet, expected {names} or another of the sheets")
    except Unreadable as error:
        return Opened(), [Problem("", 0, "", str(error))]
    except OSError as error:
        why = error.strerror or type(error).__name__
        return Opened(), [Problem("", 0, "", f"{plain(path.name)} could not be read: {why.lower()}")]
    return opened, problems
