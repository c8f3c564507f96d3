"""Adjustment: table and sentences (rules.md 4.5). 2 March 2026 is a Monday, Easter Monday 6 April."""

from __future__ import annotations

import pytest

from tests.rules.build import case, device, fact, ledger, rows

WATCH = {"skin": "mark", "fade_minutes": 25.0}
STOP = {"skin": "mark", "fade_minutes": 35.0}
URGENT = {"skin": "blister"}


def ask(on, cause, request="Q1", **more):
    return fact("adjustment request", on, request=request, cause=cause, **more)


def look(on, found, how="seen", area="heel"):
    return fact("look", on, area=area, how=how, **found)


def owed(*facts, **about):
    return ledger(case(*facts, **about), "adjustment")


@pytest.mark.parametrize(
    ("cause", "expected"),
    [
        # From Thursday 2 April over Easter: 1 wd = 7th, 3 = 9th, 10 = 20th, 20 = Tuesday 5 May (4 May closed).
        ("unsafe damage", "04-07 04-08 tier 1"),
        ("unsafe to walk in", "04-07 04-08 tier 1"),
        ("fall", "04-09 04-13 tier 2"),
        ("discomfort", "04-20 04-27 tier 3"),
        ("growth", "04-20 04-27 tier 3"),
        ("worn out", "05-05 05-19 tier 4"),
        ("footwear", "05-05 05-19 tier 4"),
        ("noise or appearance", "05-05 05-19 tier 4"),
    ],
)
def test_how_soon_by_cause(cause, expected):
    assert owed(ask("2026-04-02", cause)) == [f"04-02 04-02 {expected} owed"]


@pytest.mark.parametrize(
    ("found", "expected"),
    [(URGENT, "04-07 04-08 tier 1"), (STOP, "04-09 04-13 tier 2"), (WATCH, "04-20 04-27 tier 3")],
)
def test_a_rub_request_by_the_grade_of_the_areas_latest_look_on_or_before_its_date(found, expected):
    for on in ("2026-04-02", "2026-03-30"):
        assert owed(look(on, found), ask("2026-04-02", "rub", area="heel")) == [f"04-02 04-02 {expected} owed"]


def test_the_latest_look_not_the_worst():
    found = [look("2026-03-30", URGENT), look("2026-03-31", WATCH), ask("2026-04-02", "rub", area="heel")]
    assert owed(*found) == ["04-02 04-02 04-20 04-27 tier 3 owed"]


@pytest.mark.parametrize(
    "before", [[], [look("2026-03-31", {"skin": "clear"})], [look("2026-03-31", URGENT, area="calf")]]
)
def test_stop_if_there_is_none_or_it_is_clear(before):
    assert owed(*before, ask("2026-04-02", "rub", area="heel")) == ["04-02 04-02 04-09 04-13 tier 2 owed"]


def test_each_later_look_at_the_area_that_is_not_clear_proposes_its_grades_limit():
    """Watched: Monday 16 March. A blister seen on the 4th: the 5th, grace to the 6th, tier 1."""
    asked = [look("2026-03-02", WATCH), ask("2026-03-02", "rub", area="heel")]
    assert owed(*asked) == ["03-02 03-02 03-16 03-23 tier 3 owed"]
    assert owed(*asked, look("2026-03-04", URGENT)) == ["03-02 03-02 03-05 03-06 tier 1 owed"]
    assert owed(*asked, look("2026-03-04", URGENT, area="calf")) == ["03-02 03-02 03-16 03-23 tier 3 owed"]
    assert owed(*asked, look("2026-03-04", {"skin": "clear"})) == ["03-02 03-02 03-16 03-23 tier 3 owed"]


def test_a_wear_report_of_the_area_is_such_a_look():
    asked = [look("2026-03-02", WATCH), ask("2026-03-02", "rub", area="heel")]
    told = fact("wear report", "2026-03-04", hours=2.0, area="heel", fade_minutes=35.0)
    assert owed(*asked, told) == ["03-02 03-02 03-09 03-11 tier 2 owed"]


def test_before_the_day_the_row_ends():
    asked = [look("2026-03-02", WATCH), ask("2026-03-02", "rub", area="heel")]
    done = fact("adjustment", "2026-03-04", request="Q1", outcome="done")
    assert owed(*asked, look("2026-03-04", URGENT), done) == ["03-02 03-02 03-16 03-23 tier 3 done 03-04"]
    assert owed(*asked, look("2026-03-03", URGENT), done) == ["03-02 03-02 03-04 03-05 tier 1 done 03-04"]


def test_a_later_look_proposes_nothing_to_another_cause():
    assert owed(ask("2026-03-02", "discomfort", area="heel"), look("2026-03-04", URGENT)) == [
        "03-02 03-02 03-16 03-23 tier 3 owed"
    ]


def test_the_tier_is_that_of_the_worst_grade_even_where_a_milder_one_is_binding():
    """Stop on the 2nd is due on the 5th; urgent seen on the 6th proposes the 9th."""
    asked = [look("2026-03-02", STOP), ask("2026-03-02", "rub", area="heel")]
    assert owed(*asked, look("2026-03-06", URGENT)) == ["03-02 03-02 03-05 03-09 tier 1 owed"]


def test_a_date_set_by_hand_proposes_itself_with_the_causes_grace():
    by_hand = ask("2026-03-02", "discomfort", needed_by="2026-03-07", needed_reason="wedding")
    assert owed(by_hand) == ["03-02 03-02 03-09 03-16 tier 3 owed"]
    later = ask("2026-03-02", "discomfort", needed_by="2026-05-01", needed_reason="holiday")
    assert owed(later) == ["03-02 03-02 03-16 03-23 tier 3 owed"]


def test_a_date_by_hand_before_the_request_is_the_day_of_the_request():
    assert owed(ask("2026-03-07", "growth", needed_by="2026-03-01")) == ["03-07 03-07 03-09 03-16 tier 3 owed"]


def test_done_by_an_adjustment_done_partly_and_not_possible_leave_it_open():
    tried = [
        fact("adjustment", f"2026-03-0{n}", request="Q1", outcome=out)
        for n, out in ((3, "partly"), (4, "not possible"))
    ]
    asked = ask("2026-03-02", "discomfort")
    assert owed(asked, *tried) == ["03-02 03-02 03-16 03-23 tier 3 owed"]
    done = fact("adjustment", "2026-03-05", request="Q1", outcome="done")
    assert owed(asked, *tried, done) == ["03-02 03-02 03-16 03-23 tier 3 done 03-05"]


def test_done_on_the_very_day_it_was_asked_for():
    done = fact("adjustment", "2026-03-02", request="Q1", outcome="done")
    assert owed(done, ask("2026-03-02", "fall")) == ["03-02 03-02 03-05 03-09 tier 2 done 03-02"]


def test_cancelled_by_the_withdrawal_and_done_also_on_that_day():
    asked, back = (
        ask("2026-03-02", "discomfort"),
        fact("request withdrawal", "2026-03-05", request="Q1", reason="better"),
    )
    assert owed(asked, back) == ["03-02 03-02 03-16 03-23 tier 3 cancelled 03-05"]
    for on, end in (
        ("2026-03-04", "done 03-04"),
        ("2026-03-05", "done 03-05"),
        ("2026-03-06", "cancelled 03-05"),
    ):
        done = fact("adjustment", on, request="Q1", outcome="done")
        assert owed(asked, back, done) == [f"03-02 03-02 03-16 03-23 tier 3 {end}"]


def test_one_row_per_request():
    asked = [ask("2026-03-02", "discomfort", "Q1"), ask("2026-03-02", "discomfort", "Q2")]
    done = fact("adjustment", "2026-03-04", request="Q2", outcome="done")
    found = rows(case(*asked, done), "adjustment")
    assert {(row.cause, str(row.done)) for row in found} == {("Q1", "None"), ("Q2", "2026-03-04")}


def test_a_request_before_delivery_or_on_the_last_day_starts_nothing():
    assert owed(ask("2026-03-01", "fall")) == []
    ends = [device(delivered="2026-03-02", ended="2026-03-05")]
    assert owed(ask("2026-03-05", "fall"), devices=ends) == []
    assert owed(ask("2026-03-04", "fall"), devices=ends) == ["03-04 03-04 03-09 03-11 tier 2 cancelled 03-05"]


def test_counted_from_its_date_and_not_from_the_day_it_may_begin():
    waits = ask("2026-03-02", "growth", not_before="2026-03-30", waiting_for="strap")
    assert owed(waits) == ["03-02 03-02 03-16 03-23 tier 3 owed"]
