"""The ledger of an invented caseload, held row for row against an independent reading of the rules."""

from __future__ import annotations

import json
from collections import Counter

from tests.cli.conftest import EXAMPLE, Type

COMPARED = ("person", "device", "kind", "started", "opens", "due", "last_day", "done", "cancelled", "tier")


def _row(row: dict[str, object]) -> tuple[object, ...]:
    cause = row["cause"] if row["kind"] in ("adjustment", "skin look") else ""
    return (*(row[name] for name in COMPARED), cause)


def test_load_and_owed_give_the_rows_of_the_example(example: Type) -> None:
    expected = Counter(map(_row, json.loads((EXAMPLE / "rows.json").read_text("utf-8"))))
    found = Counter(map(_row, example("owed", "--all", "--json", "--holidays", "GB-ENG").data))
    assert sorted(map(str, (found - expected).elements())) == []
    assert sorted(map(str, (expected - found).elements())) == []
