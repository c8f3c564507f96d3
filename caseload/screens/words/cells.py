"""Text measured in the cells of a terminal: wide, combining and joined characters as they are drawn."""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size


def length(text: str) -> int:
    """Cells taken."""
    return cell_len(text)


def fitted(text: str, width: int) -> str:
    """The text in exactly `width` cells, with an ellipsis where it is cut."""
    if width <= 0:
        return ""
    if cell_len(text) <= width:
        return text + " " * (width - cell_len(text))
    cut = set_cell_size(text, width - 1).rstrip()
    return cut + "…" + " " * (width - 1 - cell_len(cut))
