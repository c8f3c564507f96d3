"""Columns of text for people, in the width there is; never parsed as markup."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Sequence

from rich.cells import cell_len, set_cell_size

from caseload.plain import plain


def print_table(rows: Sequence[Sequence[str]], give: int) -> None:
    """Print rows in columns two spaces apart; on a terminal column `give` is cut so that a line fits."""
    cells = [[plain(cell) for cell in row] for row in rows]
    if not cells:
        return
    widths = [max(cell_len(row[place]) for row in cells) for place in range(len(cells[0]))]
    if sys.stdout.isatty():
        beyond = sum(widths) + 2 * (len(widths) - 1) - shutil.get_terminal_size().columns
        widths[give] = max(widths[give] - max(beyond, 0), 8)
    for row in cells:
        print("  ".join(_fitted(cell, width) for cell, width in zip(row, widths, strict=True)).rstrip())


def _fitted(cell: str, width: int) -> str:
    if cell_len(cell) <= width:
        return cell + " " * (width - cell_len(cell))
    closing = "\u2069" if cell.endswith("\u2069") else ""  # what was isolated is closed again
    return set_cell_size(cell, width - 1) + closing + "…"
