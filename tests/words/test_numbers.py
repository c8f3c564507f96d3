"""Numbers as people type them, and timed walks."""

from __future__ import annotations

import pytest

from caseload.words import numbers


@pytest.mark.parametrize(
    "typed", ["12.4 s / 10 m", "12.4s 10m", "12,4 sec / 10 metres", "10 m in 12.4 s", "10m/12.4s"]
)
def test_a_timed_walk_is_a_speed(typed: str) -> None:
    found = numbers.read_walk(typed)
    assert found.value == pytest.approx(10 / 12.4, abs=0.005)
    assert found.said == "10 m in 12.4 s is 0.81 m/s"


@pytest.mark.parametrize("typed", ["0.81", "0,81", "0.81 m/s"])
def test_a_speed_is_itself(typed: str) -> None:
    assert numbers.read_walk(typed).value == 0.81


@pytest.mark.parametrize("typed", ["fast", "0 s / 10 m", "44", "10 m"])
def test_what_is_no_speed_is_said_to_be_none(typed: str) -> None:
    found = numbers.read_walk(typed)
    assert found.value is None
    assert found.problem.endswith(".")


def test_a_number_may_carry_its_unit_and_must_be_in_range() -> None:
    assert numbers.read("25 min", unit="min").value == 25
    assert numbers.read("6 h", unit="h", low=0, high=24).value == 6
    assert numbers.read("25", unit="h", low=0, high=24).problem == "25 is outside 0 to 24 h."
    assert numbers.read("6 kg", unit="h").problem
