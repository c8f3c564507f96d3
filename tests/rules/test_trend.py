"""A change counts only beyond the measure's own error, in the same condition (rules.md 8)."""

from __future__ import annotations

import pytest

from caseload.rules.protocol import shipped
from caseload.rules.trend import error_of, loss, measured_worse
from tests.rules.build import fact

RULES = shipped().measures


def speeds(*values: str, trajectories: tuple[str, ...] = (), measure: str = "gait speed") -> list[str]:
    """The days measured worse, of values written `2026-03-02 0.70 [on|off] [aid]`."""
    facts = []
    for text in values:
        on, value, *rest = text.split()
        worn, aid = {"on": True, "off": False, "": None}[rest[0] if rest else ""], rest[1] if rest[1:] else ""
        facts.append(fact("measure", on, measure=measure, value=float(value), device_on=worn, aid=aid))
    judged = [fact("trajectory", on, trajectory="stable") for on in trajectories]
    return [each.on.isoformat() for each in measured_worse(facts, judged, RULES)]


@pytest.mark.parametrize(
    ("baseline", "error"),
    [
        # Lewek & Sykes 2019: 0.10 / 0.15 / 0.18 m/s under 0.4 / 0.4 to 0.8 inclusive / over 0.8.
        (0.39, 0.10),
        (0.399999, 0.10),
        (0.4, 0.15),
        (0.6, 0.15),
        (0.8, 0.15),
        (0.800001, 0.18),
        (0.81, 0.18),
        (1.4, 0.18),
    ],
)
def test_gait_speed_error_by_the_band_of_the_baseline(baseline, error):
    assert error_of("gait speed", baseline, RULES) == error


@pytest.mark.parametrize(
    ("baseline", "error"),
    # The larger of 3.2 s (Alghadir 2018) and 20 %: they meet at 16 s.
    [(10, 3.2), (16, 3.2), (17, 3.4), (30, 6.0)],
)
def test_tug_error_is_the_larger_of_3_2_s_and_20_per_cent(baseline, error):
    assert error_of("TUG", baseline, RULES) == pytest.approx(error)


def test_berg_error_is_6_points():
    """Stevenson 2001."""
    assert error_of("Berg", 40, RULES) == 6


def test_other_measures_have_no_verdict():
    assert error_of("6MWT", 300, RULES) is None
    assert speeds("2026-01-05 400", "2026-03-02 100", measure="6MWT") == []


@pytest.mark.parametrize(
    ("measure", "before", "after", "worse"),
    [
        ("gait speed", "0.39", "0.29", False),
        ("gait speed", "0.39", "0.28", True),
        ("gait speed", "0.40", "0.26", False),
        ("gait speed", "0.70", "0.55", False),  # 0.70 - 0.55 is 0.1499... or 0.1500...1 in binary
        ("gait speed", "0.80", "0.65", False),
        ("gait speed", "0.80", "0.64", True),
        ("gait speed", "0.81", "0.63", False),
        ("gait speed", "0.81", "0.62", True),
        ("gait speed", "0.60", "0.90", False),
        ("TUG", "12", "15.2", False),
        ("TUG", "12", "15.3", True),
        ("TUG", "30", "36", False),
        ("TUG", "30", "36.1", True),
        ("TUG", "30", "20", False),
        ("Berg", "44", "38", False),
        ("Berg", "44", "37", True),
        ("Berg", "37", "50", False),
    ],
)
def test_worse_is_strictly_beyond_the_error_and_in_the_direction_of_the_measure(measure, before, after, worse):
    found = speeds(f"2026-01-05 {before}", f"2026-03-02 {after}", measure=measure)
    assert found == (["2026-03-02"] if worse else [])


def test_loss_is_negative_for_a_gain():
    assert loss("gait speed", 0.5, 0.7) == pytest.approx(-0.2)
    assert loss("TUG", 12, 10) == -2


def test_the_same_condition_only():
    assert speeds("2026-01-05 0.70 on", "2026-03-02 0.40 off") == []
    assert speeds("2026-01-05 0.70 on stick", "2026-03-02 0.40 on frame") == []
    assert speeds("2026-01-05 0.70 on Stick", "2026-03-02 0.40 on stick") == ["2026-03-02"]


def test_compared_with_the_best_value_before_it_not_the_first_nor_the_last():
    assert speeds("2026-01-05 0.55", "2026-02-02 0.70", "2026-02-09 0.60", "2026-03-02 0.54") == ["2026-03-02"]
    assert speeds("2026-01-05 15", "2026-02-02 10", "2026-03-02 14", measure="TUG") == ["2026-03-02"]


def test_a_value_of_the_same_day_is_not_before_it():
    assert speeds("2026-03-02 0.70", "2026-03-02 0.40") == []


def test_only_values_since_the_latest_trajectory_and_the_latest_on_or_before_its_day():
    values = ("2026-01-05 0.70", "2026-02-02 0.55", "2026-03-02 0.45")
    assert speeds(*values) == ["2026-03-02"]
    assert speeds(*values, trajectories=("2026-02-02",)) == []
    assert speeds(*values, trajectories=("2026-02-01",)) == ["2026-03-02"]
    assert speeds("2026-01-05 0.70", "2026-02-02 0.55", "2026-03-02 0.39", trajectories=("2026-02-10",)) == [
        "2026-03-02"
    ]


def test_a_trajectory_of_the_very_day_is_not_dated_before_it():
    values = ("2026-01-05 0.70", "2026-02-02 0.60", "2026-03-02 0.50")
    assert speeds(*values, trajectories=("2026-03-02",)) == ["2026-03-02"]
    assert speeds(*values, trajectories=("2026-03-01",)) == []


def test_no_more_than_24_months_old():
    assert speeds("2024-03-02 0.70", "2026-03-02 0.40") == ["2026-03-02"]
    assert speeds("2024-03-01 0.70", "2026-03-02 0.40") == []
