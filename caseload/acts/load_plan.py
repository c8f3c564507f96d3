"""What loading a workbook comes to, before anything of it is written."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from caseload.exchange.problems import Problem
from caseload.records.case import Case
from caseload.records.facts import Fact


@dataclass(slots=True)
class Plan:
    """What loading comes to; nothing of it is written yet."""

    added: dict[str, list[Any]] = field(default_factory=dict)
    """New records by sheet: people, devices, sessions ..."""
    replaced: list[tuple[Any, Any, int]] = field(default_factory=list)
    """Records before and after, with the version on record."""
    facts: list[Fact] = field(default_factory=list)
    """New facts, sorted by person."""
    amended: list[tuple[Fact, Fact]] = field(default_factory=list)
    """Facts before and after."""
    cases: dict[str, Case] = field(default_factory=dict)
    """Everyone touched, as they will be."""
    rows: dict[str, int] = field(default_factory=dict)
    """The row each new or amended fact stood in, by its id."""
    known: set[str] = field(default_factory=set)
    """Those of them who are on record already."""
    counts: dict[str, dict[str, int]] = field(default_factory=dict)
    """By sheet how many rows are `new`, `completed`, `amended` and `same`."""
    problems: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)

    def count(self, sheet: str, what: str, by: int = 1) -> None:
        """Count rows of a sheet."""
        if by:
            counted = self.counts.setdefault(sheet, {"new": 0, "completed": 0, "amended": 0, "same": 0})
            counted[what] += by
