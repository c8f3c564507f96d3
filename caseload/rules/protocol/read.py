"""Reading a protocol file: every mistake at once, one sentence each, with its line."""

from __future__ import annotations

import dataclasses
import re
import tomllib
from collections.abc import Callable, Iterable
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
    except (ValueError, RecursionError) as error:  # also a number of thousands of digits, brackets without end
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
        areas = self.found.get("areas")
        for key in areas if isinstance(areas, dict) else ():
            if key != "landmarks":
                self._problem(("areas", key), f"{key} is no setting of [areas].{nearest(key, ['landmarks'])}")
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
        return self._open_table("minutes", [kind.value for kind in FollowUpKind], partial(number, setting))

    def _phones(self) -> dict[str, str]:
        return self._open_table("phones", PHONES, partial(text, may_be_empty=True))

    def _open_table(self, name: str, required: Iterable[str], read: Callable[[Any], Any]) -> dict[str, Any]:
        """A table that must hold some keys, and may hold a clinic's own beside them."""
        table = self.found.get(name)
        if not isinstance(table, dict):
            self._problem((name,), f"the table [{name}] is missing.")
            return {}
        return {key: self._value((name, key), read) for key in dict.fromkeys((*required, *table))}

    def _cautions(self) -> tuple[Caution, ...]:
        found, own = self.found.get("caution", []), self.found.get("phones")
        if not isinstance(found, list):
            self._problem(("caution",), "caution: each stands under a heading [[caution]].")
            return ()
        phones = {*PHONES, *(own if isinstance(own, dict) else ())}
        read = []
        for nth, raw in enumerate(found):
            try:
                read.append(caution(raw, phones))
            except Mistake as mistake:
                line = self.lines.of_item("caution", nth)
                self.problems.append(Problem(line, f"caution: {mistake}"))
        if len(read) == len(found) and not any("always" in caution.when for caution in read):
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
