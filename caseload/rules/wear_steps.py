"""A wear plan as a list of steps, as a workbook writes it: `1d 2h/1h max 6h; 1d 3h/1h max 8h`."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

_STEP = re.compile(
    r"(?P<days>\d{1,3})\s*d"
    r"(?:\s+(?P<spell>\d+(?:\.\d+)?)\s*h(?:\s*/\s*(?P<rest>\d+(?:\.\d+)?)\s*h)?)?"
    r"(?:\s+max\s+(?P<most>\d+(?:\.\d+)?)\s*h)?"
)


@dataclass(frozen=True, slots=True)
class Step:
    """Some days of a wear plan with the same limits."""

    days: int
    spell: float | None
    """Longest spell in hours; None = not limited."""
    rest: float | None
    """Rest between spells in hours; None = not said."""
    most: float | None
    """Most hours in all in a day; None = not limited."""


@cache
def read_steps(text: str) -> tuple[tuple[Step, ...], str]:
    """The steps of a plan and '', or no steps and one sentence about what is wrong."""
    steps = []
    for number, part in enumerate(text.split(";"), 1):
        match = _STEP.fullmatch(part.strip().lower())
        if match is None or int(match["days"]) == 0:
            return (
                (),
                f'step {number}, {part.strip()[:40]!r}, is not understood; write it as "1d 2h/1h max 6h".',
            )
        hours = [float(match[name]) if match[name] else None for name in ("spell", "rest", "most")]
        if any(value is not None and not 0 < value <= 24 for value in hours):
            return (), f"step {number} holds hours that are not within a day."
        steps.append(Step(int(match["days"]), *hours))
    return tuple(steps), ""
