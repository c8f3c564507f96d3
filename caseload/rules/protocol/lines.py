"""Where a setting stands in a TOML file: the parser does not say, and a clinic must be told."""

from __future__ import annotations

import re

_TABLE = re.compile(r"\s*\[([^\[\]]+)\]")
_ITEM = re.compile(r"\s*\[\[([^\[\]]+)\]\]")
_KEY = re.compile(r"""\s*("[^"]+"|'[^']+'|[A-Za-z0-9_-]+)\s*=""")


class Lines:
    """The line of each table, key and item of a file."""

    def __init__(self, text: str) -> None:
        self._of: dict[tuple[str, ...], int] = {}
        self._items: dict[str, list[int]] = {}
        table: tuple[str, ...] = ()
        for number, line in enumerate(text.splitlines(), 1):
            if item := _ITEM.match(line):
                table = (item[1].strip(), str(number))
                self._items.setdefault(item[1].strip(), []).append(number)
                self._of.setdefault((item[1].strip(),), number)
            elif header := _TABLE.match(line):
                table = (header[1].strip(),)
                self._of.setdefault(table, number)
            elif key := _KEY.match(line):
                self._of.setdefault((*table, key[1].strip("\"'")), number)

    def of(self, path: tuple[str, ...]) -> int:
        """The line of a key, or of its table where the key is missing; 0 if neither is there."""
        return self._of.get(path) or self._of.get(path[:-1], 0)

    def of_item(self, table: str, number: int) -> int:
        """The line at which the n-th item of an array of tables begins."""
        lines = self._items.get(table, [])
        return lines[number] if number < len(lines) else 0
