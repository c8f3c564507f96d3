"""What `record`, `why` and `owed` say: what this act did and nothing older, and the caution it calls for."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Type
from tests.cli.test_commands import small


@pytest.fixture
def one(run: Type, tmp_path: Path) -> Type:
    """A caseload of one person with a LEFT ankle-foot orthosis."""
    assert run("load", small(tmp_path / "w")).code == 0
    return run


def test_what_was_done_earlier_today_is_not_said_again(one: Type) -> None:
    one("record", "wear-plan", "--device", "P1-L", "--plan", "gentle")
    first = one("record", "wear-report", "--device", "P1-L", "--hours", "2")
    assert "Done: wear check" in first.out
    later = one("record", "contact", "--person", "P1", "--how", "phone", "--outcome", "reached")
    assert "Done" not in later.out
    assert "Owed" not in later.out


def test_a_second_report_of_a_day_does_the_check_that_the_first_began(one: Type) -> None:
    one("record", "wear-plan", "--device", "P1-L", "--plan", "gentle")
    one("record", "wear-report", "--device", "P1-L", "--hours", "2")
    again = one("record", "wear-report", "--device", "P1-L", "--hours", "3", "--json").data
    assert [row["kind"] for row in again["done"]] == ["wear check"]


def test_a_request_withdrawn_is_no_longer_owed_and_was_not_done(one: Type) -> None:
    asked = ["--device", "P1-L", "--request", "Q-1", "--cause", "unsafe damage"]
    one("record", "adjustment-request", *asked)
    told = one("record", "request-withdrawal", "--request", "Q-1", "--reason", "a scratch")
    assert "No longer owed: adjustment, unsafe damage" in told.out
    assert "Done" not in told.out


def test_an_area_is_one_place_however_it_is_written(one: Type) -> None:
    one("record", "look", "--device", "P1-L", "--area", "heel", "--how", "seen", "--skin", "blister")
    told = one("record", "look", "--device", "P1-L", "--area", "  HEEL ", "--how", "seen", "--skin", "clear")
    assert "Done: skin look, urgent" in told.out
    assert told.err == ""
    numb = one(
        "record", "look", "--device", "P1-L", "--area", "Fibular Head", "--how", "told", "--skin", "mark"
    )
    assert "peroneal nerve" in numb.out


def test_an_area_that_is_none_of_the_clinics_is_kept_and_said(one: Type) -> None:
    told = one("record", "look", "--device", "P1-L", "--area", "nav", "--how", "told", "--skin", "blister")
    assert told.code == 0
    assert "'nav' is not in the clinic's list of areas" in told.err
    assert "did you mean navicular?" in told.err


def test_a_slip_in_a_clinicians_name_is_said(one: Type) -> None:
    slip = one("record", "change", "--person", "P1", "--what", "clinician", "--to", "Imogen Vail")
    assert "did you mean Imogen Vale?" in slip.err
    same = one("record", "change", "--person", "P1", "--what", "clinician", "--to", "imogen vail")
    assert same.err == ""
    assert one("owed", "--clinician", "Imogen Vail", "--json").data


def test_before_a_day_without_staff_the_advice_for_it_is_called_for(one: Type) -> None:
    blister = ("record", "look", "--device", "P1-L", "--area", "heel", "--how", "told", "--skin", "blister")
    assert "next staffed day" not in one(*blister, "--on", "2026-11-26").out
    assert "next staffed day is Mon 30 Nov" in one(*blister, "--on", "2026-11-27").out
    assert "next staffed day is Mon 30 Nov" in one("why", "P1", "--on", "2026-11-27").out


def test_nothing_owed_because_nobody_is_there_does_not_read_as_good_news(run: Type, tmp_path: Path) -> None:
    told = run("owed", "--db", str(tmp_path / "mistyped.db"))
    assert told.code == 0
    assert "Nobody is on record yet in" in told.err
    assert "mistyped.db" in told.err
    assert not (tmp_path / "mistyped.db").exists()


def test_what_is_owed_is_named_once(one: Type) -> None:
    one("record", "contact", "--person", "P1", "--how", "phone", "--outcome", "did not attend")
    assert "rebooking, did not attend  " in one("owed").out
    assert "rebooking, did not attend, opens" not in one("why", "P1").out
    assert "did not attend: did not attend" not in one("owed").out + one("why", "P1").out
