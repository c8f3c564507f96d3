"""Text in cells: no text is ever a live formula in a spreadsheet, and every text comes back exactly.

A text that a spreadsheet would run, or whose spaces or apostrophes a reader would trim, is written with an
apostrophe in front, which is how spreadsheets themselves mark a text; `unprotect` takes just that one away.
"""

from __future__ import annotations

import re

_RISKY = "=+-@'"
_ENDS_IN_SPACE = re.compile(r"\s'*\Z")
_CLOSED = re.compile(r"\s'+\Z")
_ENTRY = re.compile(r"(?:\\.|[^;\\]|\\\Z)+", re.DOTALL)
_ESCAPED = re.compile(r"\\([\\;])")


def protect(text: str) -> str:
    """`text` as it is written into a cell."""
    if _ENDS_IN_SPACE.search(text):
        return f"'{text}'"
    if text and (text[0] in _RISKY or text[0].isspace()):
        return f"'{text}"
    return text


def unprotect(cell: str) -> str:
    """The text a cell holds: stray spaces taken off, and the apostrophe of `protect` if there is one."""
    cell = cell.strip()
    if not cell.startswith("'") or len(cell) < 2:
        return cell
    if _CLOSED.search(cell):
        return cell[1:-1]
    if cell[1] in _RISKY or cell[1].isspace():
        return cell[1:]
    return cell


def join_list(entries: tuple[str, ...]) -> str:
    r"""Entries with `;` between them; a `;` or `\` inside one is written `\;`, `\\`."""
    return ";".join(entry.replace("\\", "\\\\").replace(";", "\\;") for entry in entries)


def split_list(text: str) -> tuple[str, ...]:
    """The entries of such a list, without the blank ones."""
    if "\\" not in text:
        return tuple(entry for part in text.split(";") if (entry := part.strip()))
    parts = (_ESCAPED.sub(r"\1", part.strip()) for part in _ENTRY.findall(text))
    return tuple(part for part in parts if part)
