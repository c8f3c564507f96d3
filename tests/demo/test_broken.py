"""Each common mistake of a workbook is named where it stands, all at once, and nothing is brought in."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from caseload.acts.desk import Desk
from caseload.acts.load import load
from caseload.errors import Refused
from caseload.store import open_store

BROKEN = Path(__file__).parents[2] / "fixtures" / "broken" / "workbook"
PLACES = [
    "peple",
    "people:1:langauge",
    "people:3:given_name",
    "people:4:born",
    "people:5:born",
    "people:6:sensation",
    "people:7:foot_risk",
    "people:8:interpreter",
    "people:9:person",
    "people:10",
    "devices:3:side",
    "devices:4:orthosis",
    "devices:5:person",
    "devices:6:life_months",
    "devices:7:life_months",
    "devices:8:replaces",
    "practices:3:on",
    "practices:4:device",
    "wear_plans:2:plan",
    "looks:2:skin",
    "looks:3:pain",
    "looks:4:pain",
    "looks:5:signs",
    "looks:6:on",
    "adjustments:2:request",
    "reassessments:2:next_reason",
    "pauses:2:until",
    "sessions:2:starts",
]


@pytest.mark.parametrize("check", [True, False])
def test_every_mistake_is_named_and_nothing_is_brought_in(check: bool) -> None:
    with open_store(":memory:") as store:
        with pytest.raises(Refused) as refused:
            load(Desk(store, "nobody", date(2026, 11, 23)), BROKEN, check=check)
        assert [problem.split(": ")[0] for problem in refused.value.problems] == PLACES
        assert store.one("SELECT COUNT(*) FROM people") == (0,)
        assert store.one("SELECT COUNT(*) FROM audit") == (0,)


def test_no_problem_repeats_a_name() -> None:
    with open_store(":memory:") as store, pytest.raises(Refused) as refused:
        load(Desk(store, "nobody", date(2026, 11, 23)), BROKEN)
    said = " ".join(refused.value.problems)
    assert not [name for name in ("Marlow", "Çelik", "Lindqvist", "Okafor", "Yilma", "Tamm") if name in said]
