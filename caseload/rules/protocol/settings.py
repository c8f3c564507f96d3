"""What a protocol holds, each setting declared once with its range; `read.py` fills it from the file.

The tables stand in the order of rules.md 4; a setting's help is the comment beside it in `default.toml`.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from datetime import date
from typing import Any

from caseload.rules.spans import Span


@dataclass(frozen=True, slots=True)
class Limit:
    """How soon something is owed, and how long it may wait beyond that."""

    due: Span | None
    """Counted from the anchor; None where the date itself is given (a promised day, a date by hand)."""
    early: Span | None
    """How long before the due day it opens; None = at once, on the day it started."""
    grace: Span | None
    """From the due day to the last day; None where the last day itself is given."""
    tier: int
    source: str


@dataclass(frozen=True, slots=True)
class SkinLimit:
    """How soon an area that was not clear is looked at again."""

    told: Span
    seen: Span
    told_vulnerable: Span
    seen_vulnerable: Span
    grace: Span
    tier: int
    source: str

    def due(self, seen: bool, vulnerable: bool) -> Span:
        """The span from the look to the next one."""
        if vulnerable:
            return self.seen_vulnerable if seen else self.told_vulnerable
        return self.seen if seen else self.told


@dataclass(frozen=True, slots=True)
class Setting:
    """What one setting of a table may hold."""

    kind: str
    """`limit`, `skin limit`, `span`, `whole`, `number`, `text`, `levels` or `bands`."""
    low: float = 0
    high: float = 0
    """Range: of a number in `unit`; of a limit's or span's length in days."""
    unit: str = ""
    plain: bool = False
    """Of a span, or of the due of a limit: it may not count working days."""
    given: str = ""
    """The part of a limit, `due` or `grace`, whose date itself is on record."""

    @property
    def allowed(self) -> str:
        """The range in words, as it stands in the comments of the protocol file."""
        if self.kind in ("limit", "skin limit", "span"):
            return f"{self.low:g} to {self.high:g} days"
        if self.kind in ("whole", "number", "bands"):
            return f"{self.low:g} to {self.high:g} {self.unit}".strip()
        return ""


def _setting(kind: str, low: float = 0, high: float = 0, unit: str = "", **more: Any) -> Any:
    return dataclasses.field(metadata={"setting": Setting(kind, low, high, unit, **more)})


def limit(most_days: int, **more: Any) -> Any:
    """A limit whose spans are at most so many days; `plain` and `given` as in `Setting`."""
    return _setting("limit", 0, most_days, **more)


@dataclass(frozen=True, slots=True, kw_only=True)
class FitCheckRules:
    """rules.md 4.1"""

    delivered: Limit = limit(30)
    adjustment_pressing: Limit = limit(30)
    adjustment: Limit = limit(60)
    footwear: Limit = limit(60)
    device_back: Limit = limit(30)
    needs_adjustment: Limit = limit(60)
    not_to_be_worn: Limit = limit(14)
    wear_stopped: Limit = limit(14)


@dataclass(frozen=True, slots=True, kw_only=True)
class DonningRules:
    """rules.md 4.2"""

    practice: Limit = limit(60)
    enough: tuple[str, ...] = _setting("levels")
    enough_alone: tuple[str, ...] = _setting("levels")
    stalled_after: int = _setting("whole", 2, 10, "practices")


@dataclass(frozen=True, slots=True, kw_only=True)
class WearRules:
    """rules.md 4.3"""

    first_check: Limit = limit(30)
    first_check_vulnerable: Limit = limit(30)
    check: Limit = limit(60)
    check_vulnerable: Limit = limit(60)
    goal_hours: float = _setting("number", 0.5, 24, "hours")
    start_again_after: int = _setting("whole", 2, 60, "days stopped")
    walking: str = _setting("text")
    standard: str = _setting("text")
    standard_slow: str = _setting("text")
    gentle: str = _setting("text")
    gentle_vulnerable: str = _setting("text")


@dataclass(frozen=True, slots=True, kw_only=True)
class SkinRules:
    """rules.md 4.4"""

    watch_from_minutes: float = _setting("number", 5, 60, "minutes")
    stop_over_minutes: float = _setting("number", 10, 120, "minutes")
    vulnerable_stop_from_minutes: float = _setting("number", 5, 120, "minutes")
    watch_from_pain: float = _setting("number", 0.5, 10, "of 10")
    stop_from_pain: float = _setting("number", 1, 10, "of 10")
    urgent: SkinLimit = _setting("skin limit", 0, 7)
    stop: SkinLimit = _setting("skin limit", 0, 21)
    watch: SkinLimit = _setting("skin limit", 0, 42)


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjustmentRules:
    """rules.md 4.5"""

    rub_urgent: Limit = limit(7)
    unsafe: Limit = limit(7)
    rub_stop: Limit = limit(21)
    fall: Limit = limit(21)
    rub_watch: Limit = limit(60)
    discomfort: Limit = limit(90)
    growth: Limit = limit(90)
    worn_out: Limit = limit(180)
    footwear: Limit = limit(180)
    noise_or_appearance: Limit = limit(180)
    repeat_within: Span = _setting("span", 14, 365, plain=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReassessmentRules:
    """rules.md 4.6, in the order in which ties are settled."""

    fall_serious: Limit = limit(60)
    fall_other: Limit = limit(120)
    rub_cleared: Limit = limit(180)
    measured_worse: Limit = limit(180)
    taken_over: Limit = limit(120, given="due")
    settling_in_first: Limit = limit(90, plain=True)
    settling_in_second: Limit = limit(120, plain=True)
    settling_in_third: Limit = limit(240, plain=True)
    by_hand: Limit = limit(120, given="due")
    improving: Limit = limit(400)
    declining: Limit = limit(400)
    stable: Limit = limit(800)
    no_trajectory: Limit = limit(400)
    foot_risk_1: Limit = limit(400)
    foot_risk_2: Limit = limit(400)
    foot_risk_3: Limit = limit(200)
    under_6: Limit = limit(400)
    under_16: Limit = limit(400)
    falls_together: int = _setting("whole", 2, 10, "falls")
    falls_within: Span = _setting("span", 7, 400, plain=True)
    spread_weeks: int = _setting("whole", 1, 52, "weeks")
    spread_weeks_pressing: int = _setting("whole", 1, 52, "weeks")
    not_sooner_than: Span = _setting("span", 0, 60)


@dataclass(frozen=True, slots=True, kw_only=True)
class PeopleRules:
    """rules.md 4.7"""

    rebooking: Limit = limit(30)
    escalation: Limit = limit(7)
    escalation_by_sign: Limit = limit(7)
    told_within: Span = _setting("span", 0, 30, plain=True)
    open_access_ending: Limit = limit(180, plain=True, given="grace")


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyRules:
    """rules.md 4.8"""

    ordered: Limit = limit(120)
    change_device: Limit = limit(60)
    back_from_workshop: Limit = limit(60)
    back_after_a_fall_tier: int = _setting("whole", 1, 5, "")
    replacement: Limit = limit(4000, plain=True)
    before_the_end: Span = _setting("span", 0, 365, plain=True)
    replacement_child: Limit = limit(4000, plain=True)
    replacement_kept: Limit = limit(800)
    replacement_kept_child: Limit = limit(800)


@dataclass(frozen=True, slots=True, kw_only=True)
class AwayRules:
    """rules.md 4, Away and Pause"""

    after_back: Span = _setting("span", 0, 30)
    without_a_promise: Span = _setting("span", 0, 60)
    after_pause: Span = _setting("span", 0, 30)


@dataclass(frozen=True, slots=True, kw_only=True)
class EndRules:
    """rules.md 4.9"""

    shown_for: Span = _setting("span", 0, 365, plain=True)


@dataclass(frozen=True, slots=True, kw_only=True)
class MeasureRules:
    """rules.md 8. Bands are (baseline up to and including, error); the last has no upper end."""

    gait_speed: tuple[tuple[float, float], ...] = _setting("bands", 0, 2, "m/s")
    tug_seconds: float = _setting("number", 0, 30, "s")
    tug_share: float = _setting("number", 0, 1, "of the baseline")
    berg_points: float = _setting("number", 0, 56, "points")
    baseline_within: Span = _setting("span", 28, 4000, plain=True)


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution shown where a decision is taken (rules.md 9)."""

    id: str
    when: tuple[str, ...]
    """Words that call for it: a grade, a sign, a follow-up, `always` ..."""
    sentence: str
    """May hold `{DATE}` and the names of phone keys in braces."""
    call: str
    """A phone key, or empty."""
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Protocol:
    """A clinic's rules from a day on."""

    version: str
    first_day: date
    """From this day it is in force; what ended or was missed before it keeps the protocol it had."""
    title: str
    region: str
    """Of the public holidays: a country, or country-part as `GB-ENG`; empty for none."""
    weekdays: frozenset[int]
    """Working weekdays; Monday is 0."""
    fit_check: FitCheckRules
    donning: DonningRules
    wear: WearRules
    skin: SkinRules
    adjustment: AdjustmentRules
    reassessment: ReassessmentRules
    people: PeopleRules
    supply: SupplyRules
    away: AwayRules
    ends: EndRules
    measures: MeasureRules
    minutes: dict[str, int]
    """Minutes a piece of work takes, by kind of follow-up and by kind of adjustment."""
    areas: tuple[str, ...]
    """The landmarks under a device, from the toes up."""
    phones: dict[str, str]
    """Numbers to call; required keys, `protocol check` warns while one is empty."""
    cautions: tuple[Caution, ...]


def settings_of(table: type[Any]) -> dict[str, Setting]:
    """The settings a table declares, by name, in order."""
    return {field.name: field.metadata["setting"] for field in dataclasses.fields(table)}
