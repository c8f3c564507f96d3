"""One measured ratio, and the table of them."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Ratio:
    """What was measured over what it is compared with."""

    what: str
    ours: float
    """Seconds."""
    theirs: float
    """Seconds."""
    goal: float | None
    """At most; None for a figure that is only told."""
    note: str = ""

    @property
    def value(self) -> float:
        return self.ours / self.theirs

    @property
    def met(self) -> bool:
        return self.goal is None or self.value <= self.goal


def seconds(work: Callable[[], Any]) -> float:
    """How long it takes, by the wall clock."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def in_turn(ours: Callable[[], Any], theirs: Callable[[], Any], times: int) -> tuple[float, float]:
    """The medians of both, measured by turns so that a busy machine slows them alike."""
    pairs = [(seconds(ours), seconds(theirs)) for _ in range(times)]
    return statistics.median(a for a, _ in pairs), statistics.median(b for _, b in pairs)


def table(ratios: Sequence[Ratio]) -> str:
    """The ratios under each other."""
    lines = [f"{'':54}{'ours':>10}{'theirs':>10}{'ratio':>8}{'goal':>7}"]
    for each in ratios:
        goal = "" if each.goal is None else f"{each.goal:g}"
        verdict = "" if each.met else "  missed"
        lines.append(
            f"{each.what:54}{_said(each.ours):>10}{_said(each.theirs):>10}{each.value:8.2f}{goal:>7}{verdict}"
        )
        if each.note:
            lines.append(f"    {each.note}")
    return "\n".join(lines)


def _said(time: float) -> str:
    return f"{time * 1000:.2f} ms" if time < 1 else f"{time:.2f} s"
