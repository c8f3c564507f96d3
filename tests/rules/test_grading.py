"""The table of grades, row by row and at its boundaries (rules.md 4.4)."""

from __future__ import annotations

import pytest

from caseload.records.skin import Look
from caseload.records.wear import WearReport
from caseload.records.words import Grade
from caseload.rules.grading import grade
from caseload.rules.protocol import shipped

CLEAR, WATCH, STOP, URGENT = Grade.CLEAR, Grade.WATCH, Grade.STOP, Grade.URGENT


def of_look(vulnerable: bool = False, **found: object) -> Grade:
    look = Look(**{"area": "heel", "how": "seen", "skin": "clear"} | found)
    return grade(look, vulnerable, shipped().skin).grade


def of_report(vulnerable: bool = False, **found: object) -> Grade:
    return grade(WearReport(hours=4.0, **found), vulnerable, shipped().skin).grade


@pytest.mark.parametrize("skin", ["blister", "broken", "dark or purple"])
def test_blister_broken_and_dark_skin_are_urgent(skin):
    assert of_look(skin=skin) == URGENT
    assert of_report(skin=skin) == URGENT


@pytest.mark.parametrize(
    "sign", ["infection", "numbness", "weakness", "calf swelling", "cold or pale", "hot swollen foot"]
)
def test_any_sign_is_urgent_on_clear_skin_too(sign):
    assert of_look(signs=(sign,)) == URGENT
    assert of_report(signs=("firm or warm", sign)) == URGENT


def test_firm_or_warm_skin_is_stop():
    assert of_look(signs=("firm or warm",)) == STOP


@pytest.mark.parametrize(
    ("minutes", "usual", "vulnerable"),
    [
        # RNOH: fades within 20 min; North Bristol, George Eliot, Mersey Care: within 30 min.
        (0, CLEAR, CLEAR),
        (19, CLEAR, CLEAR),
        (19.9, CLEAR, CLEAR),
        (20, WATCH, STOP),
        (25, WATCH, STOP),
        (30, WATCH, STOP),
        (30.5, STOP, STOP),
        (31, STOP, STOP),
        (None, WATCH, STOP),
    ],
)
@pytest.mark.parametrize("blanching", ["", "yes", "unknown"])
def test_a_mark_by_the_minutes_it_lasted(minutes, usual, vulnerable, blanching):
    found = {"skin": "mark", "fade_minutes": minutes, "blanching": blanching}
    assert of_look(**found) == usual
    assert of_look(True, **found) == vulnerable


@pytest.mark.parametrize("minutes", [None, 0, 10, 25])
def test_a_mark_not_blanching_is_stop_however_soon_it_faded(minutes):
    assert of_look(skin="mark", fade_minutes=minutes, blanching="no") == STOP


@pytest.mark.parametrize(
    ("pain", "expected"), [(None, CLEAR), (0, CLEAR), (1, WATCH), (6, WATCH), (7, STOP), (10, STOP)]
)
def test_pain_by_its_number(pain, expected):
    assert of_look(pain=pain) == expected
    assert of_look(True, pain=pain) == expected


@pytest.mark.parametrize("pain", [None, 0, 3])
def test_wear_stopped_by_pain_is_stop_whatever_the_number(pain):
    assert of_look(pain=pain, stopped_wear=True) == STOP
    assert of_look(pain=0, stopped_wear=False) == CLEAR


def test_the_worst_finding_counts():
    assert of_look(skin="mark", fade_minutes=10, pain=7) == STOP
    assert of_look(skin="mark", fade_minutes=35, pain=1) == STOP
    assert of_look(skin="mark", fade_minutes=25, pain=0) == WATCH


def test_blank_pain_signs_and_stopped_wear_are_none_and_blank_blanching_unknown():
    assert of_look(skin="mark", fade_minutes=10, blanching="") == CLEAR


def test_skin_clear_overrules_a_fade_time():
    assert of_look(skin="clear", fade_minutes=60) == CLEAR
    assert of_report(skin="clear", fade_minutes=60) == CLEAR


def test_a_wear_report_without_skin_word_is_a_mark_if_a_fade_time_is_given_else_clear():
    assert of_report(fade_minutes=25) == WATCH
    assert of_report(fade_minutes=31) == STOP
    assert of_report() == CLEAR
    assert of_report(blanching="no") == CLEAR


def test_a_clinician_may_raise_it_and_never_lower_it():
    assert of_look(raised_to="watch") == WATCH
    assert of_look(skin="mark", fade_minutes=25, raised_to="urgent") == URGENT
    assert of_look(skin="blister", raised_to="watch") == URGENT


def test_a_grade_says_what_it_rests_on():
    look = Look(area="heel", how="told", skin="mark", fade_minutes=35.0)
    assert grade(look, False, shipped().skin).because == "mark lasting 35 min"
    raised = Look(area="heel", how="told", skin="clear", raised_to="stop", raised_reason="thin skin")
    assert grade(raised, False, shipped().skin).because == "raised by a clinician: thin skin"
    unknown = Look(area="heel", how="told", skin="mark")
    assert "vulnerable" in grade(unknown, True, shipped().skin).because
