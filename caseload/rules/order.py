"""Order of work (rules.md 5): tier, relative lateness, due, the skin most at risk, reference."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date

from caseload.records.followups import FollowUp

SHORTEST = 5
"""Days an interval counts as at least, so that a day late on a same-day promise is not infinitely late."""

Risk = tuple[int, bool]
"""(foot-risk category 0-3, vulnerable skin) of a person on the day."""


def late_days(row: FollowUp, on: date) -> int:
    """Whole days beyond the due date; 0 for what is not late, or is no longer owed on the day."""
    if row.ended is not None and row.ended <= on:
        return 0
    return max(0, (on - row.due).days)


def relative_lateness(row: FollowUp, on: date) -> float:
    """Days late as a share of the interval: two weeks on six weeks outranks two weeks on six months."""
    late = late_days(row, on)
    return late / max(SHORTEST, (row.due - row.anchor).days) if late else 0.0


def sort_key(row: FollowUp, on: date, risk: Risk = (0, False)) -> tuple[object, ...]:
    """The key that puts rows in order of work on a day; what is no longer owed comes last."""
    foot_risk, vulnerable = risk
    return (
        row.ended is not None and row.ended <= on,
        row.tier,
        -relative_lateness(row, on),
        row.due,
        -foot_risk,
        not vulnerable,
        row.person,
        row.device or "",
        row.kind.value,
        row.cause,
        row.started,
    )


def in_order(rows: Iterable[FollowUp], on: date, risk_of: Callable[[str], Risk]) -> list[FollowUp]:
    """Rows in order of work. `risk_of`: the risk of a person by reference, on the day."""
    return sorted(rows, key=lambda row: sort_key(row, on, risk_of(row.person)))
