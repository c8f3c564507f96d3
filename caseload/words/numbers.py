"""Numbers as people type them: a comma for the point, a unit behind, a walk test as it was timed."""

from __future__ import annotations

import re
from dataclasses import dataclass

_NUMBER = r"(-?\d+(?:[.,]\d+)?)"
_WALK = (
    re.compile(rf"{_NUMBER}\s*(?:s|sec|seconds?)\s*(?:/|for|over|,)?\s*{_NUMBER}\s*(?:m|metres?|meters?)"),
    re.compile(rf"{_NUMBER}\s*(?:m|metres?|meters?)\s*(?:/|in|,)?\s*{_NUMBER}\s*(?:s|sec|seconds?)"),
)


@dataclass(frozen=True, slots=True)
class Number:
    """What was understood of a typed number."""

    value: float | None
    said: str = ""
    """How it was understood, when that is not plainly what was typed: `0.81 m/s`."""
    problem: str = ""


def read(text: str, *, unit: str = "", low: float | None = None, high: float | None = None) -> Number:
    """A number, with its unit or without; a comma may stand for the point."""
    typed = text.strip()
    if not typed:
        return Number(None)
    match = re.fullmatch(rf"{_NUMBER}\s*([a-zA-Z/]*)", typed)
    if not match or (match[2] and not _same_unit(match[2], unit)):
        return Number(None, problem=f"'{typed}' is no number{f' of {unit}' if unit else ''}.")
    value = float(match[1].replace(",", "."))
    if (low is not None and value < low) or (high is not None and value > high):
        return Number(None, problem=f"{match[1]} is outside {_range(low, high)}{f' {unit}' if unit else ''}.")
    return Number(value)


def read_walk(text: str) -> Number:
    """Comfortable gait speed in m/s: typed as such, or as a timed walk (`12.4 s / 10 m`), to 0.01 m/s."""
    typed = text.strip().lower()
    for at, pattern in enumerate(_WALK):
        match = pattern.fullmatch(typed)
        if match:
            first, second = (float(part.replace(",", ".")) for part in match.groups())
            seconds, metres = (first, second) if at == 0 else (second, first)
            if seconds <= 0 or metres <= 0:
                return Number(None, problem="A timed walk needs a time and a distance above nothing.")
            speed = round(metres / seconds, 2)
            return Number(speed, f"{metres:g} m in {seconds:g} s is {speed:.2f} m/s")
    found = read(text, unit="m/s", low=0, high=4)
    if found.problem and not re.fullmatch(rf"{_NUMBER}\s*[a-z/]*", typed):
        return Number(None, problem=f"'{text.strip()}' is no speed; type 0.81, or 12.4 s / 10 m.")
    return found if found.value is None else Number(found.value, f"{found.value:g} m/s")


def _same_unit(typed: str, unit: str) -> bool:
    return bool(unit) and (unit.lower().startswith(typed.lower()) or typed.lower().rstrip("s") == unit.lower())


def _range(low: float | None, high: float | None) -> str:
    if low is None or high is None:
        return f"what is possible (at {'least' if high is None else 'most'} {low if high is None else high:g})"
    return f"{low:g} to {high:g}"
