"""A settled device: delivered on 8 January 2024, reassessed on Monday 2 March 2026: settling-in is past.

Its trajectory is stable unless said otherwise: six months, 2 September 2026.
"""

from __future__ import annotations

from tests.rules.build import case, device, fact, ledger, rows

SETTLED = [device(delivered="2024-01-08")]


def review(on, decision="continue", **more):
    return fact("reassessment", on, decision=decision, **more)


def heading(trajectory, on="2024-01-08"):
    return fact("trajectory", on, trajectory=trajectory)


def status(on, to, **more):
    return fact("change", on, what="status", to=to, **more)


def risk(on, to):
    return fact("change", on, what="foot_risk", to=to)


def speed(on, value):
    return fact("measure", on, measure="gait speed", value=value, device_on=True)


def owed(*facts, trajectory="stable", **about):
    """The last reassessment row of a settled device, reviewed on 2 March 2026."""
    judged = [heading(trajectory)] if trajectory else []
    found = case(review("2026-03-02"), *judged, *facts, **({"devices": SETTLED} | about))
    return ledger(found, "reassessment")[-1]


def why(*facts, trajectory="stable", **about):
    """The binding rule of that row."""
    judged = [heading(trajectory)] if trajectory else []
    found = case(review("2026-03-02"), *judged, *facts, **({"devices": SETTLED} | about))
    return rows(found, "reassessment")[-1].why.rule


def look(on, found, how="seen"):
    return fact("look", on, area="heel", how=how, **found)


STOP, CLEAR, WATCH = (
    {"skin": "mark", "fade_minutes": 35.0},
    {"skin": "clear"},
    {"skin": "mark", "fade_minutes": 25.0},
)
