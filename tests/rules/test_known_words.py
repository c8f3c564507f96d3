"""Words that are nearly a known one."""

from __future__ import annotations

import pytest

from caseload.rules.known_words import as_known, nearest, stranger

AREAS = ("heel", "navicular", "fibular head", "fifth metatarsal head")


def test_case_and_spaces_make_no_other_word() -> None:
    assert as_known(" Fibular  HEAD", AREAS) == "fibular head"
    assert as_known("Straße", ("STRASSE",)) == "STRASSE"
    assert as_known(" left of the heel", AREAS) == " left of the heel"


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("nav", "navicular"), ("heal", "heel"), ("elbow", ""), ("", ""), ("fi", "fibular head")],
)
def test_the_nearest(typed: str, meant: str) -> None:
    assert nearest(typed, AREAS) == meant


def test_only_a_stranger_is_asked_about() -> None:
    assert stranger("Heel", AREAS) == ""
    assert stranger("  ", AREAS) == ""
    assert stranger("nav", AREAS) == "; did you mean navicular?"
    assert stranger("elbow", AREAS) == "."
