"""Attributes that are kept with dates: the value in force on a day (rules.md 1, 3)."""

from __future__ import annotations

import pytest

from caseload.rules.attributes import Attributes
from tests.rules.build import case, day, fact, person


def reading(*changes: tuple[str, str, str], **who: str) -> Attributes:
    facts = case(*(fact("change", on, what=what, to=to) for on, what, to in changes)).facts
    return Attributes(person(**who), sorted(facts, key=lambda each: (each.on, each.order)))


def test_the_latest_on_or_before_a_day_is_in_force_on_it():
    found = reading(("2026-03-04", "site", "south"), ("2026-03-09", "site", "west"), site="north")
    assert [found.on("site", day(f"2026-03-0{n}")) for n in (3, 4, 8, 9)] == ["north", "south", "south", "west"]
    assert found.latest("site") == "west"


def test_of_two_on_one_day_the_last_recorded_counts():
    found = reading(("2026-03-04", "site", "south"), ("2026-03-04", "site", "west"))
    assert found.on("site", day("2026-03-04")) == "west"
    assert reading(
        ("2026-03-04", "status", "open access"), ("2026-03-04", "status", "discharged")
    ).statuses() == [(day("2026-03-04"), "discharged", None)]


def test_a_status_with_no_row_is_active():
    assert reading().on("status", day("2026-03-04")) == "active"


@pytest.mark.parametrize(
    ("who", "vulnerable", "unrecorded"),
    [
        ({"sensation": "intact"}, False, False),
        ({"sensation": "reduced"}, True, False),
        ({"sensation": "absent"}, True, False),
        ({"sensation": ""}, True, True),
        ({"sensation": "intact", "circulation_concern": "yes"}, True, False),
        ({"sensation": "intact", "circulation_concern": "no"}, False, False),
        ({"sensation": "", "circulation_concern": "yes"}, True, False),
    ],
)
def test_vulnerable_skin(who, vulnerable, unrecorded):
    """Sensation reduced, absent or not on record, or a circulation concern."""
    found = reading(**who)
    assert found.vulnerable(day("2026-03-04")) is vulnerable
    assert found.unrecorded_skin(day("2026-03-04")) is unrecorded


def test_a_run_of_the_same_value_is_not_broken_by_recording_it_again():
    found = reading(
        ("2026-03-04", "foot_risk", "2"), ("2026-04-01", "foot_risk", "2"), ("2026-05-01", "foot_risk", "3")
    )
    assert found.run("foot_risk", day("2026-05-01")) == ("2", day("2026-03-04"))
    assert found.run("foot_risk", None) == ("3", day("2026-05-01"))
    assert found.run("foot_risk", day("2026-03-04")) == ("", None)


def test_a_first_value_recorded_again_has_held_from_the_beginning():
    found = reading(("2026-03-04", "foot_risk", "2"), foot_risk="2")
    assert found.run("foot_risk", None) == ("2", None)
