"""One cell: from text to value and back, by the kind its column is declared with."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Any

from caseload.exchange.dates import Order, read_date
from caseload.exchange.problems import Wrong, did_you_mean, quoted
from caseload.exchange.quoting import join_list, protect, split_list, unprotect
from caseload.records.columns import Column, Kind
from caseload.records.words import YES_NO
from caseload.rules.checks import unstorable

BLANKS: dict[Kind, Any] = {
    Kind.TEXT: "",
    Kind.WORD: "",
    Kind.OPEN_WORD: "",
    Kind.TIME: "",
    Kind.WORDS: (),
    Kind.LIST: (),
}
"""What an empty cell means by kind; None for the others."""

_NUMBER = re.compile(r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?")
_COMMA = re.compile(r"[+-]?\d+,\d+")
_TIME = re.compile(r"(\d{1,2}):(\d{2})(?::00(?:\.0+)?)?")
_TRUTH = {"yes": True, "no": False, "y": True, "n": False, "true": True, "false": False}
_TEXTS = (Kind.TEXT, Kind.OPEN_WORD, Kind.LIST)

Read = Callable[[str], Any]


def reader(column: Column, dates: Order = "iso", decimal_comma: bool = False) -> Read:
    """A function that reads a cell of this column.

    It gives the column's blank for an empty cell and raises `Wrong` with a sentence for one that cannot be
    read. `decimal_comma`: `0,83` is a number, as in sheets whose columns are parted by `;`.
    """
    parse = _PARSERS[column.kind](column, dates, decimal_comma)
    is_text = column.kind in _TEXTS
    blank = BLANKS.get(column.kind)

    def read(cell: str) -> Any:
        text = unprotect(cell) if is_text else cell.strip().removeprefix("'")
        if is_text and not (text.isprintable() and len(text) < 1000) and (wrong := unstorable(text)):
            raise Wrong(f"{wrong.rstrip('.')}, expected text that can be kept")
        if text == "":
            if column.required:
                raise Wrong(f"is blank, expected {expected(column)}")
            return blank
        return parse(text)

    return read


def written(column: Column, value: Any) -> str:
    """A value as the text of a CSV cell; `reader` gives the same value back."""
    if value is None or value == "" or value == ():
        return ""
    if column.kind is Kind.LIST:
        return protect(join_list(value))
    if column.kind is Kind.WORDS:
        return ";".join(value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return repr(value).removesuffix(".0")
    return protect(value) if column.kind in _TEXTS else str(value)


def expected(column: Column) -> str:
    """What belongs into a column, in a few words."""
    if column.kind in (Kind.WORD, Kind.WORDS):
        return f"{'any' if column.kind is Kind.WORDS else 'one'} of: {', '.join(column.words)}"
    if column.kind in (Kind.WHOLE, Kind.NUMBER):
        return f"a {'whole ' if column.kind is Kind.WHOLE else ''}number{_range(column)}"
    simple = {Kind.DAY: "a date like 2026-02-01", Kind.TIME: "a time like 09:30", Kind.YES_NO: "yes or no"}
    return simple.get(column.kind, "text")


def _range(column: Column) -> str:
    unit = f" {column.unit}" if column.unit else ""
    low, high = (None if end is None else f"{end:g}" for end in (column.low, column.high))
    if low is not None and high is not None:
        return f" from {low} to {high}{unit}"
    if low is not None:
        return f" of at least {low}{unit}"
    return f" of at most {high}{unit}" if high is not None else ""


def _text(column: Column, dates: Order, comma: bool) -> Read:
    return str


def _list(column: Column, dates: Order, comma: bool) -> Read:
    return split_list


def _day(column: Column, dates: Order, comma: bool) -> Read:
    return lambda text: read_date(text, dates)


def _time(column: Column, dates: Order, comma: bool) -> Read:
    def read(text: str) -> str:
        match = _TIME.fullmatch(text)
        if not match or int(match[1]) > 23 or int(match[2]) > 59:
            raise Wrong(f"{quoted(text)} is no time, expected one like 09:30")
        return f"{int(match[1]):02}:{match[2]}"

    return read


def _yes_no(column: Column, dates: Order, comma: bool) -> Read:
    def read(text: str) -> bool:
        value = _TRUTH.get(text.casefold())
        if value is None:
            raise Wrong(f"{quoted(text)} is not understood, expected yes or no")
        return value

    return read


def _number(column: Column, dates: Order, comma: bool) -> Read:
    whole = column.kind is Kind.WHOLE

    def read(text: str) -> float | int:
        if comma and _COMMA.fullmatch(text):
            text = text.replace(",", ".")
        if not _NUMBER.fullmatch(text):
            hint = f" written with a point: {text.replace(',', '.')}" if _COMMA.fullmatch(text) else ""
            raise Wrong(f"{quoted(text)} is not a number, expected {expected(column)}{hint}")
        value = float(text)
        if whole and value != int(min(max(value, -1e15), 1e15)):
            raise Wrong(f"{quoted(text)} is not a whole number, expected {expected(column)}")
        too_low = column.low is not None and value < column.low
        if too_low or value > (1e15 if column.high is None else column.high) or value < -1e15:
            raise Wrong(f"{quoted(text)} is out of range, expected {expected(column)}")
        return int(value) if whole else value

    return read


def _word(column: Column, dates: Order, comma: bool) -> Read:
    known = {word.casefold(): word for word in column.words}
    numbered = {int(word): word for word in column.words if word.isdigit()}
    if column.words == YES_NO:
        known |= {"true": "yes", "false": "no"}

    def read(text: str) -> str:
        word = known.get(" ".join(text.casefold().split()))
        if word is None and numbered and re.fullmatch(r"\d{1,4}(?:\.0+)?", text):
            word = numbered.get(int(float(text)))
        if word is None:
            hint = did_you_mean(text, column.words)
            raise Wrong(f"{quoted(text)} is not a word for this column, expected {expected(column)}{hint}")
        return word

    return read


def _words(column: Column, dates: Order, comma: bool) -> Read:
    one = _word(column, dates, comma)
    return lambda text: tuple(one(entry) for entry in split_list(text))


_PARSERS: dict[Kind, Callable[[Column, Order, bool], Read]] = {
    Kind.TEXT: _text,
    Kind.OPEN_WORD: _text,
    Kind.LIST: _list,
    Kind.DAY: _day,
    Kind.TIME: _time,
    Kind.YES_NO: _yes_no,
    Kind.WHOLE: _number,
    Kind.NUMBER: _number,
    Kind.WORD: _word,
    Kind.WORDS: _words,
}
