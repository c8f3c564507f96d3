"""Reading a protocol file: every mistake at once, one sentence each, with its line."""

from __future__ import annotations

import dataclasses
import re
import tomllib
from collections.abc import Callable
from functools import cache, partial
from importlib import resources
from typing import Any

from caseload.records.followups import FollowUpKind
from caseload.rules.protocol import settings
from caseload.rules.protocol.lines import Lines
from caseload.rules.protocol.settings import Caution, Protocol, Setting
from caseload.rules.protocol.values import (
    Mistake,
    caution,
    day,
    nearest,
    number,
    read_setting,
    region,
    text,
    weekdays,
    words,
)
from caseload.rules.wear_steps import read_steps

PHONES = ("orthotist", "clinic", "out_of_hours", "medical", "emergency")
TABLES: dict[str, type[Any]] = {
    "fit_check": settings.FitCheckRules,
    "donning": settings.DonningRules,
    "wear": settings.WearRules,
    "skin": settings.SkinRules,
    "adjustment": settings.AdjustmentRules,
    "reassessment": settings.ReassessmentRules,
    "people": settings.PeopleRules,
    "supply": settings.SupplyRules,
    "away": settings.AwayRules,
    "ends": settings.EndRules,
    "measures": settings.MeasureRules,
}
PLANS = ("standard", "standard_slow", "gentle", "gentle_vulnerable")


@dataclasses.dataclass(frozen=True, slots=True)
class Problem:
    """One mistake in a protocol file."""

    line: int
    """From 1; 0 if it belongs to no line."""
    sentence: str

    def __str__(self) -> str:
        return f"line {self.line}: {self.sentence}" if self.line else self.sentence


def read_protocol(text: str) -> tuple[Protocol | None, list[Problem]]:
    """The protocol a file holds, or None and one problem per mistake, in the order of the file."""
    try:
        found = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        where = re.search(r"at line (\d+)", str(error))
        return None, [Problem(int(where[1]) if where else 0, f"this is not TOML: {error}")]
    reader = _Reader(found, Lines(text))
    protocol = reader.protocol()
    problems = sorted(reader.problems, key=lambda problem: problem.line)
    return (None, problems) if problems else (protocol, [])


def shipped_text() -> str:
    """The commented file that comes with the package."""
    return resources.files("caseload.rules.protocol").joinpath("default.toml").read_text("utf-8")


@cache
def shipped() -> Protocol:
    """The shipped default protocol."""
    protocol, problems = read_protocol(shipped_text())
    if protocol is None:
        raise ValueError(f"the shipped protocol has mistakes: {problems}")
    return protocol


class _Reader:
    """One pass over a parsed file, collecting problems."""

    def __init__(self, found: dict[str, Any], lines: Lines) -> None:
        self.found = found
        self.lines = lines
        self.problems: list[Problem] = []

    def protocol(self) -> Protocol | None:
        known = {
            "version",
            "first_day",
            "title",
            "region",
            "weekdays",
            "minutes",
            "areas",
            "phones",
            "caution",
        }
        for key in self.found:
            if key not in known and key not in TABLES:
                self._problem((key,), f"{key} is no setting of a protocol.{nearest(key, [*known, *TABLES])}")
        tables = {name: self._table(name, record) for name, record in TABLES.items()}
        values: dict[str, Any] = {
            "version": self._value(("version",), text),
            "first_day": self._value(("first_day",), day),
            "title": self._value(("title",), text, ""),
            "region": self._value(("region",), region),
            "weekdays": self._value(("weekdays",), weekdays),
            "minutes": self._minutes(),
            "areas": self._value(("areas", "landmarks"), words),
            "phones": self._phones(),
            "cautions": self._cautions(),
        }
        self._hang_together(tables)
        return None if self.problems else Protocol(**values, **tables)

    def _table(self, name: str, record: type[Any]) -> Any:
        declared = settings.settings_of(record)
        table = self.found.get(name)
        if not isinstance(table, dict):
            self._problem((name,), f"the table [{name}] is missing.")
            return None
        for key in table:
            if key not in declared:
                self._problem((name, key), f"{key} is no setting of [{name}].{nearest(key, list(declared))}")
        values = {
            key: self._value((name, key), partial(read_setting, setting)) for key, setting in declared.items()
        }
        return record(**values) if all(value is not None for value in values.values()) else None

    def _value(self, path: tuple[str, ...], read: Callable[[Any], Any], default: Any = None) -> Any:
        raw: Any = self.found
        for key in path:
            raw = raw.get(key) if isinstance(raw, dict) else None
        if raw is None:
            if default is None:
                self._problem(path, f"{path[-1]} is missing{f' from [{path[0]}]' if path[1:] else ''}.")
            return default
        try:
            return read(raw)
        except Mistake as mistake:
            self._problem(path, f"{path[-1]}: {mistake}")
            return None

    def _minutes(self) -> dict[str, int]:
        setting = Setting("whole", 1, 480, "minutes")
        table = self.found.get("minutes", {})
        for kind in FollowUpKind:
            self._value(("minutes", kind.value), partial(number, setting))
        return {key: raw for key, raw in table.items() if isinstance(raw, int)}

    def _phones(self) -> dict[str, str]:
        table = self.found.get("phones", {})
        for key in PHONES:
            self._value(("phones", key), partial(text, may_be_empty=True))
        return {key: raw for key, raw in table.items() if isinstance(raw, str)}

    def _cautions(self) -> tuple[Caution, ...]:
        read = []
        for nth, raw in enumerate(self.found.get("caution", ())):
            line = self.lines.of_item("caution", nth)
            try:
                read.append(caution(raw, set(self.found.get("phones", {}))))
            except Mistake as mistake:
                self.problems.append(Problem(line, f"caution: {mistake}"))
        if not any("always" in caution.when for caution in read) and not self.problems:
            self._problem(
                ("caution",), 'no caution is shown "always"; that a local policy comes first must be.'
            )
        return tuple(read)

    def _hang_together(self, tables: dict[str, Any]) -> None:
        """What only makes sense together."""
        skin = tables["skin"]
        if skin and skin.watch_from_minutes > skin.stop_over_minutes:
            self._problem(("skin", "stop_over_minutes"), "stop_over_minutes lies below watch_from_minutes.")
        if skin and skin.watch_from_pain > skin.stop_from_pain:
            self._problem(("skin", "stop_from_pain"), "stop_from_pain lies below watch_from_pain.")
        for name in PLANS if tables["wear"] else ():
            _, wrong = read_steps(getattr(tables["wear"], name))
            if wrong:
                self._problem(("wear", name), f"{name}: {wrong}")

    def _problem(self, path: tuple[str, ...], sentence: str) -> None:
        self.problems.append(Problem(self.lines.of(path), sentence))
