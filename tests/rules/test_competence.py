"""Who manages donning and doffing (rules.md 4.2)."""

from __future__ import annotations

import pytest

from caseload.rules.competence import Competence, competence
from caseload.rules.protocol import shipped
from tests.rules.build import day, fact

RULES = shipped().donning


def after(*practices: str, alone: bool = False, delivered: str | None = None) -> Competence:
    """Competence after practices written `03-02 wearer 06 05`, all in 2026."""
    facts = []
    for text in practices:
        on, who, don, doff = text.split()
        facts.append(fact("practice", f"2026-{on}", who=who, don=don, doff=doff))
    return competence(facts, RULES, alone, day(delivered) if delivered else None)


def since(found: Competence, who: str = "wearer") -> str | None:
    known = found.learners[who].competent_since
    return known.isoformat()[5:] if known else None


def test_competent_on_the_day_of_the_second_practice_that_was_enough_on_a_later_day():
    assert since(after("03-02 wearer 05 06")) is None
    assert since(after("03-02 wearer 05 06", "03-04 wearer 06 05")) == "03-04"


def test_two_on_one_day_are_not_enough_and_a_third_on_another_day_is():
    assert since(after("03-02 wearer 06 06", "03-02 wearer 06 06")) is None
    assert since(after("03-02 wearer 06 06", "03-02 wearer 06 06", "03-03 wearer 06 06")) == "03-03"


@pytest.mark.parametrize(("don", "doff"), [("04", "06"), ("06", "04"), ("01", "01")])
def test_enough_is_donning_and_doffing_both(don, doff):
    assert since(after("03-02 wearer 06 06", f"03-04 wearer {don} {doff}")) is None


def test_the_previous_scored_practice_must_be_enough_as_well():
    found = after("03-02 wearer 06 06", "03-03 wearer 03 06", "03-04 wearer 06 06")
    assert since(found) is None
    assert since(after("03-02 wearer 03 06", "03-03 wearer 06 06", "03-04 wearer 06 06")) == "03-04"


def test_06_for_a_wearer_who_lives_alone_and_not_for_a_carer():
    assert since(after("03-02 wearer 05 06", "03-04 wearer 06 06", alone=True)) is None
    assert since(after("03-02 wearer 06 06", "03-04 wearer 06 06", alone=True)) == "03-04"
    assert since(after("03-02 Ida 05 05", "03-04 Ida 05 05", alone=True), "Ida") == "03-04"


def test_wearer_and_carer_are_two_separate_things():
    found = after("03-02 wearer 06 06", "03-03 Ida 06 06")
    assert not found.reached
    found = after("03-02 wearer 06 06", "03-03 Ida 02 02", "03-04 wearer 06 06")
    assert found.reached
    assert since(found) == "03-04"
    assert since(found, "Ida") is None


def test_a_later_practice_that_is_not_enough_withdraws_it():
    found = after("03-02 wearer 06 06", "03-04 wearer 06 06", "03-09 wearer 04 06")
    assert since(found) is None
    assert not found.reached


@pytest.mark.parametrize("code", ["07", "09", "10", "88"])
def test_a_practice_not_attempted_is_not_scored(code):
    found = after(
        "03-02 wearer 06 06", f"03-03 wearer {code} 06", f"03-03 wearer 06 {code}", "03-04 wearer 06 06"
    )
    assert since(found) == "03-04"
    assert len(found.learners["wearer"].scored) == 2


def test_a_practice_before_delivery_counts_as_on_the_day_of_delivery():
    found = after("02-20 wearer 06 06", "03-02 wearer 06 06", delivered="2026-03-02")
    assert since(found) is None
    assert since(after("02-20 wearer 06 06", "03-03 wearer 06 06", delivered="2026-03-02")) == "03-03"


@pytest.mark.parametrize(
    ("levels", "stalled"),
    [
        (["03", "03"], False),
        (["03", "03", "03"], True),
        (["03", "04", "03"], True),
        (["03", "02", "04"], False),
        (["01", "03", "04", "04"], False),
        (["01", "04", "03", "04"], True),
    ],
)
def test_stalled_after_three_scored_practices_without_gain_in_donning(levels, stalled):
    found = after(*(f"03-{n + 2:02} wearer {level} 01" for n, level in enumerate(levels)))
    assert found.learners["wearer"].stalled(RULES.stalled_after) is stalled


def test_what_was_not_attempted_does_not_count_towards_a_stall():
    found = after("03-02 wearer 03 03", "03-03 wearer 88 88", "03-04 wearer 03 03")
    assert not found.learners["wearer"].stalled(RULES.stalled_after)


def test_who_is_competent_is_not_stalled():
    found = after("03-02 wearer 06 06", "03-03 wearer 06 06", "03-04 wearer 06 06")
    assert not found.learners["wearer"].stalled(RULES.stalled_after)
