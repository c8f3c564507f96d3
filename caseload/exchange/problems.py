"""What is wrong in a workbook, and where."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

from caseload.plain import plain


class Wrong(Exception):  # noqa: N818 - said of the cell, as Refused is of an act
    """A cell that cannot be read; its message says what is wrong and what was expected."""


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing that is wrong; as text `sheet:row:column: what is wrong, what was expected`."""

    sheet: str
    """Empty when it is about the workbook as a whole."""
    row: int
    """As the spreadsheet numbers it, the header row being 1; 0 when it is about the sheet as a whole."""
    column: str
    said: str

    def __str__(self) -> str:
        """The sentence, with the place in front of it."""
        place = [part for part in (self.sheet, str(self.row) if self.row else "", self.column) if part]
        return ":".join([*place, f" {self.said}"]) if place else self.said


def quoted(text: str) -> str:
    """A cell in the words of a problem: short, and harmless on a terminal."""
    return f"'{plain(text, longest=40)}'"


def nearest(word: str, choices: Iterable[str]) -> str:
    """The choice most like `word` in spelling, or '' when none is."""
    by_fold = {choice.casefold(): choice for choice in choices}
    found = get_close_matches(word.casefold(), by_fold, n=1, cutoff=0.6)
    return by_fold[found[0]] if found else ""


def did_you_mean(word: str, choices: Iterable[str]) -> str:
    """`; did you mean 'X'?`, or '' when nothing is near."""
    near = nearest(word, choices)
    return f"; did you mean '{near}'?" if near else ""
