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


def wrapped(text: str, width: int) -> list[str]:
    """The text in lines of at most `width` cells, broken at spaces, and within a word only if it must be."""
    lines, line = [], ""
    for word in text.split(" "):
        while cell_len(word) > width:
            room = width - cell_len(line) - (1 if line else 0)
            if room < 4:
                lines.append(line)
                line = ""
                continue
            cut = 0
            while cell_len(word[: cut + 1]) <= room:
                cut += 1
            lines.append(f"{line} {word[:cut]}" if line else word[:cut])
            line, word = "", word[cut:]
        if not line:
            line = word
        elif cell_len(line) + 1 + cell_len(word) <= width:
            line = f"{line} {word}"
        else:
            lines.append(line)
            line = word
    return [*lines, line]
