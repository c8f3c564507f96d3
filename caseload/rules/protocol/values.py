"""Reading one value of a protocol file, or saying in one sentence what is wrong with it."""

from __future__ import annotations

import re
from datetime import date
from difflib import get_close_matches
from typing import Any

from caseload.records.words import LEVELS, NOT_ATTEMPTED
from caseload.rules.calendar import known_region
from caseload.rules.protocol.settings import Caution, Limit, Setting, SkinLimit
from caseload.rules.spans import Span, Unit, read_span

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


class Mistake(Exception):  # noqa: N818  a mistake of whoever wrote the file, not of the program
    """One value is wrong; its text is the sentence."""


def nearest(word: str, offered: list[str]) -> str:
    near = get_close_matches(word, offered, 1)
    return f" Did you mean {near[0]}?" if near else ""


def read_setting(setting: Setting, raw: Any) -> Any:
    if setting.kind == "limit":
        return _limit(setting, raw)
    if setting.kind == "skin limit":
        return _skin_limit(setting, raw)
    if setting.kind == "span":
        return _span(setting, raw, setting.plain)
    if setting.kind in ("whole", "number"):
        return number(setting, raw)
    if setting.kind == "bands":
        return _bands(setting, raw)
    return _levels(raw) if setting.kind == "levels" else text(raw)


def _levels(raw: Any) -> tuple[str, ...]:
    scale = [level for level in LEVELS if level not in NOT_ATTEMPTED]
    for level in words(raw):
        if level not in scale:
            raise Mistake(f"{level!r} is no level of assistance; expected {', '.join(scale)}.")
    return tuple(raw)


def _span(setting: Setting, raw: Any, plain: bool = False) -> Span:
    """`plain`: it may not count working days, for it is counted backwards or rolled only afterwards."""
    span = read_span(raw) if isinstance(raw, str) else None
    if span is None:
        raise Mistake(f'{raw!r} is no span; write it as "2 days", "3 working days", "6 weeks" or "5 months".')
    if plain and span.unit == Unit.WORKING_DAYS:
        raise Mistake(f"{span} cannot be counted here; write it in days, weeks, months or years.")
    if not setting.low <= span.about_days <= setting.high:
        raise Mistake(f"{span} lies outside what is allowed, {setting.allowed}.")
    return span


def _tier(raw: Any) -> int:
    if isinstance(raw, bool) or not isinstance(raw, int) or not 1 <= raw <= 5:
        raise Mistake(f"tier is {raw!r}; a tier is 1, 2, 3, 4 or 5.")
    return raw


def _parts(raw: Any, wanted: tuple[str, ...]) -> dict[str, Any]:
    if not isinstance(raw, dict):
        raise Mistake(f"expected {{ {', '.join(wanted)} }}.")
    for key in raw:
        if key not in wanted:
            raise Mistake(f"{key} does not belong here.{nearest(key, list(wanted))}")
    for key in wanted:
        if key not in raw:
            raise Mistake(f"{key} is missing.")
    if not isinstance(raw["source"], str) or not raw["source"].strip():
        raise Mistake('source is empty; name it, or write "common practice".')
    return raw


def _limit(setting: Setting, raw: Any) -> Limit:
    parts = _parts(raw, ("due", "early", "grace", "tier", "source"))
    for name in ("due", "grace"):
        if (parts[name] == "given") != (setting.given == name):
            expected = "is given on record" if setting.given == name else "is on no record"
            raise Mistake(
                f"the {name} date {expected}; expected {'given' if setting.given == name else 'a span'}."
            )
    due = None if setting.given == "due" else _span(setting, parts["due"], setting.plain)
    early = None if parts["early"] == "at once" else _span(setting, parts["early"], plain=True)
    grace = None if setting.given == "grace" else _span(setting, parts["grace"])
    return Limit(due, early, grace, _tier(parts["tier"]), parts["source"])


def _skin_limit(setting: Setting, raw: Any) -> SkinLimit:
    spans = ("told", "seen", "told_vulnerable", "seen_vulnerable", "grace")
    parts = _parts(raw, (*spans, "tier", "source"))
    return SkinLimit(
        **{name: _span(setting, parts[name]) for name in spans},
        tier=_tier(parts["tier"]),
        source=parts["source"],
    )


def number(setting: Setting, raw: Any) -> float:
    wanted = int if setting.kind == "whole" else (int, float)
    if isinstance(raw, bool) or not isinstance(raw, wanted):
        raise Mistake(f"{raw!r} is no {'whole ' if setting.kind == 'whole' else ''}number.")
    if not setting.low <= raw <= setting.high:
        raise Mistake(f"{raw} lies outside what is allowed, {setting.allowed}.")
    return raw


def _bands(setting: Setting, raw: Any) -> tuple[tuple[float, float], ...]:
    each = Setting("number", setting.low, setting.high, setting.unit)
    if not isinstance(raw, list) or not raw or any(not isinstance(b, list) or len(b) != 2 for b in raw):
        raise Mistake("expected a list of [baseline up to, error].")
    bands = tuple(
        (number(Setting("number", 0, 10, setting.unit), top), number(each, error)) for top, error in raw
    )
    if list(bands) != sorted(bands):
        raise Mistake("the bands must rise.")
    return bands


def text(raw: Any, may_be_empty: bool = False) -> str:
    if not isinstance(raw, str) or not (may_be_empty or raw.strip()):
        raise Mistake(f"expected a text in quotes, found {raw!r}.")
    return raw


def words(raw: Any) -> tuple[str, ...]:
    if not isinstance(raw, list) or not raw or any(not isinstance(word, str) or not word for word in raw):
        raise Mistake("expected a list of words in quotes.")
    return tuple(raw)


def day(raw: Any) -> date:
    if type(raw) is not date:
        raise Mistake(f"expected a date as 2026-11-24, without quotes, found {raw!r}.")
    return raw


def region(raw: Any) -> str:
    region = text(raw, may_be_empty=True)
    if not known_region(region):
        raise Mistake(f"no public holidays are known for {region!r}; expected a country as US, or GB-ENG.")
    return region


def weekdays(raw: Any) -> frozenset[int]:
    named = words(raw)
    for word in named:
        if word not in WEEKDAYS:
            raise Mistake(f"{word!r} is no weekday; expected {', '.join(WEEKDAYS)}.")
    return frozenset(WEEKDAYS.index(word) for word in named)


def caution(raw: Any, phones: set[str]) -> Caution:
    parts = _parts(raw, ("id", "when", "sentence", "call", "source"))
    call = text(parts["call"], may_be_empty=True)
    if call and call not in phones:
        raise Mistake(f"{call!r} is no key of [phones].{nearest(call, sorted(phones))}")
    for name in re.findall(r"\{(.*?)\}", text(parts["sentence"])):
        if name != "DATE" and name not in phones:
            raise Mistake(
                f"{{{name}}} is neither {{DATE}} nor a key of [phones].{nearest(name, sorted(phones))}"
            )
    return Caution(text(parts["id"]), words(parts["when"]), text(parts["sentence"]), call, parts["source"])
