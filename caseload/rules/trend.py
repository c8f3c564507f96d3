"""A measured change counts only beyond the measure's own error, in the same condition (rules.md 8)."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from caseload.records import words
from caseload.records.facts import Fact
from caseload.rules.protocol.settings import MeasureRules
from caseload.rules.spans import add_plain

Condition = tuple[str, bool | None, str, str]
RISING_IS_BETTER = {words.GAIT_SPEED: True, words.TUG: False, words.BERG: True}
"""The measures that are judged; others are shown without a verdict."""


def condition(fact: Fact) -> Condition:
    """What must be the same for two values to be compared: measure, device on or off, aid, shoes."""
    body = fact.body
    return body.measure, body.device_on, body.aid.casefold(), body.shoes.casefold()


def error_of(measure: str, baseline: float, rules: MeasureRules) -> float | None:
    """The measure's own error at a baseline, in its unit; None for a measure that is not judged."""
    if measure == words.GAIT_SPEED:
        return _band(baseline, rules.gait_speed)
    if measure == words.TUG:
        return max(rules.tug_seconds, rules.tug_share * baseline)
    return rules.berg_points if measure == words.BERG else None


def _band(baseline: float, bands: Sequence[tuple[float, float]]) -> float:
    """Under the first limit, up to and including the others."""
    for index, (top, error) in enumerate(bands):
        if baseline < top or (index > 0 and baseline == top):
            return error
    return bands[-1][1]


def loss(measure: str, before: float, after: float) -> float:
    """By how much the value got worse; negative if it got better. For judged measures only."""
    return before - after if RISING_IS_BETTER[measure] else after - before


def measured_worse(measures: Sequence[Fact], trajectories: Sequence[Fact], rules: MeasureRules) -> list[Fact]:
    """The measures that are worse, beyond error, than the best value before them.

    Compared with the best value in that condition among those since the latest trajectory dated before it
    (the latest value on or before that trajectory's day included), not older than the protocol allows.
    """
    found = []
    alike: dict[Condition, list[Fact]] = {}
    for fact in measures:
        measure = fact.body.measure
        if measure not in RISING_IS_BETTER:
            continue
        earlier = alike.setdefault(condition(fact), [])
        baseline = _baseline(fact, earlier, trajectories, rules) if earlier else None
        earlier.append(fact)
        if baseline is None:
            continue
        error = error_of(measure, baseline, rules)
        # 1e-9: 0.70 - 0.55 is no more than 0.15, whatever binary fractions say.
        if error is not None and loss(measure, baseline, fact.body.value) > error + 1e-9:
            found.append(fact)
    return found


def _baseline(
    fact: Fact, alike: Sequence[Fact], trajectories: Sequence[Fact], rules: MeasureRules
) -> float | None:
    """The best value it is compared with, of earlier ones in the same condition; or None."""
    since = max((each.on for each in trajectories if each.on < fact.on), default=date.min)
    oldest = add_plain(fact.on, rules.baseline_within, -1)
    known: list[Fact] = []
    later: list[Fact] = []
    for each in alike:
        if each.on < fact.on:
            (known if each.on <= since else later).append(each)
    values = [each.body.value for each in (*known[-1:], *later) if each.on >= oldest]
    if not values:
        return None
    return float(max(values) if RISING_IS_BETTER[fact.body.measure] else min(values))
