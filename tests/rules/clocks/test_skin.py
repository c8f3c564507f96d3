"""Skin looks and rubs (rules.md 4.4). 2 March 2026 is a Monday; Easter Monday is 6 April."""

from __future__ import annotations

import pytest

from tests.rules.build import case, device, fact, ledger, person, rows

CLEAR = {"skin": "clear"}
WATCH = {"skin": "mark", "fade_minutes": 25.0}
STOP = {"skin": "mark", "fade_minutes": 35.0}
URGENT = {"skin": "blister"}
REDUCED = person(sensation="reduced")


def look(on, found, how="told", area="heel"):
    return fact("look", on, area=area, how=how, **found)


def looks(*facts, **about):
    return ledger(case(*facts, **about), "skin look")


@pytest.mark.parametrize(
    ("found", "how", "usual", "vulnerable"),
    [
        # From Thursday 2 April over Easter: 1 wd = Tue 7th, 2 = Wed 8th, 5 = Mon 13th.
        (URGENT, "told", "04-02 04-07 tier 1", "04-02 04-07 tier 1"),
        (URGENT, "picture", "04-02 04-07 tier 1", "04-02 04-07 tier 1"),
        (URGENT, "seen", "04-08 04-09 tier 1", "04-07 04-08 tier 1"),
        (STOP, "told", "04-08 04-10 tier 2", "04-07 04-09 tier 2"),
        (STOP, "picture", "04-08 04-10 tier 2", "04-07 04-09 tier 2"),
        (STOP, "seen", "04-13 04-15 tier 2", "04-08 04-10 tier 2"),
        ({"skin": "clear", "pain": 3.0}, "told", "04-13 04-20 tier 3", "04-13 04-20 tier 3"),
        ({"skin": "clear", "pain": 3.0}, "seen", "04-13 04-20 tier 3", "04-13 04-20 tier 3"),
    ],
)
def test_how_soon_by_grade_way_of_looking_and_vulnerable_skin(found, how, usual, vulnerable):
    assert looks(look("2026-04-02", found, how)) == [f"04-02 04-02 {usual} owed"]
    assert looks(look("2026-04-02", found, how), who=REDUCED) == [f"04-02 04-02 {vulnerable} owed"]


def test_urgent_told_on_good_friday_is_due_on_tuesday():
    assert looks(look("2026-04-03", URGENT)) == ["04-03 04-03 04-07 04-08 tier 1 owed"]


def test_a_clear_look_starts_nothing():
    assert looks(look("2026-03-03", CLEAR, "seen")) == []


def test_with_vulnerable_skin_a_mark_of_20_min_or_of_unknown_time_is_stop():
    for found in ({"skin": "mark", "fade_minutes": 20.0}, {"skin": "mark"}):
        assert looks(look("2026-03-03", found), who=REDUCED) == ["03-03 03-03 03-04 03-06 tier 2 owed"]
        assert looks(look("2026-03-03", found)) == ["03-03 03-03 03-10 03-17 tier 3 owed"]


def test_sensation_in_force_on_the_day_of_the_look_counts():
    change = fact("change", "2026-03-04", what="sensation", to="reduced")
    assert looks(look("2026-03-03", WATCH), change) == ["03-03 03-03 03-10 03-17 tier 3 owed"]
    assert looks(look("2026-03-04", WATCH), change) == ["03-04 03-04 03-05 03-09 tier 2 owed"]


def test_a_watch_is_done_and_cleared_by_any_look():
    assert looks(look("2026-03-03", WATCH), look("2026-03-05", CLEAR)) == [
        "03-03 03-03 03-10 03-17 tier 3 done 03-05"
    ]


def test_a_look_that_does_the_row_and_is_not_clear_starts_the_next():
    assert looks(look("2026-03-03", WATCH), look("2026-03-05", WATCH, "picture")) == [
        "03-03 03-03 03-10 03-17 tier 3 done 03-05",
        "03-05 03-05 03-12 03-19 tier 3 owed",
    ]


def test_in_a_rub_that_has_reached_stop_only_a_seen_look_clears_or_does_a_row():
    assert looks(look("2026-03-03", STOP), look("2026-03-04", CLEAR)) == ["03-03 03-03 03-05 03-09 tier 2 owed"]
    assert looks(look("2026-03-03", STOP), look("2026-03-04", CLEAR, "seen")) == [
        "03-03 03-03 03-05 03-09 tier 2 done 03-04"
    ]


def test_it_stays_so_after_the_grade_has_fallen():
    found = [look("2026-03-03", STOP), look("2026-03-04", WATCH, "seen"), look("2026-03-06", CLEAR)]
    assert looks(*found)[1] == "03-04 03-04 03-11 03-18 tier 3 owed"


def test_the_look_in_question_included():
    """Told as stop in a rub that was only watched: it cannot do the row, and proposes its own date to it."""
    assert looks(look("2026-03-03", WATCH), look("2026-03-04", STOP)) == ["03-03 03-03 03-06 03-10 tier 2 owed"]
    assert looks(look("2026-03-03", WATCH), look("2026-03-04", STOP, "seen")) == [
        "03-03 03-03 03-10 03-17 tier 3 done 03-04",
        "03-04 03-04 03-11 03-13 tier 2 owed",
    ]


def test_a_look_that_cannot_do_it_proposes_its_own_date_and_the_earliest_binds():
    found = case(look("2026-03-03", STOP), look("2026-03-04", STOP), look("2026-03-04", URGENT))
    (row,) = rows(found, "skin look")
    assert [str(each.proposes) for each in row.reasons] == ["2026-03-05", "2026-03-06", "2026-03-04"]
    assert looks(*found.facts) == ["03-03 03-03 03-04 03-05 tier 1 owed"]


def test_a_row_counts_looks_dated_before_the_day_it_ended():
    found = [look("2026-03-03", STOP), look("2026-03-04", URGENT), look("2026-03-04", CLEAR, "seen")]
    assert looks(*found) == ["03-03 03-03 03-05 03-09 tier 2 done 03-04"]


def test_one_row_per_area():
    found = [
        look("2026-03-03", WATCH),
        look("2026-03-03", STOP, area="calf"),
        look("2026-03-05", CLEAR, "seen"),
    ]
    assert looks(*found) == ["03-03 03-03 03-10 03-17 tier 3 done 03-05", "03-03 03-03 03-05 03-09 tier 2 owed"]


def report(on, area="", **found):
    return fact("wear report", on, hours=4.0, area=area, **found)


def test_a_wear_report_that_is_not_clear_is_a_told_look_at_its_area():
    found = case(report("2026-03-03", "heel", fade_minutes=35.0))
    (row,) = rows(found, "skin look")
    assert row.cause == "heel"
    assert looks(*found.facts) == ["03-03 03-03 03-05 03-09 tier 2 owed"]


def test_or_at_the_area_not_stated():
    (row,) = rows(case(report("2026-03-03", fade_minutes=35.0)), "skin look")
    assert row.cause == "not stated"


def test_a_clear_wear_report_is_no_look():
    """So it clears nothing."""
    assert looks(look("2026-03-03", WATCH), report("2026-03-04", "heel")) == [
        "03-03 03-03 03-10 03-17 tier 3 owed"
    ]


def test_a_rub_not_stated_is_cleared_by_the_first_seen_look_anywhere_on_the_device():
    told = report("2026-03-03", fade_minutes=35.0)
    assert looks(told, look("2026-03-04", CLEAR, "told", "calf")) == ["03-03 03-03 03-05 03-09 tier 2 owed"]
    assert looks(told, look("2026-03-04", CLEAR, "seen", "calf")) == [
        "03-03 03-03 03-05 03-09 tier 2 done 03-04"
    ]
    assert looks(told, look("2026-03-04", URGENT, "seen", "calf")) == [
        "03-03 03-03 03-05 03-09 tier 2 done 03-04",
        "03-04 03-04 03-06 03-09 tier 1 owed",
    ]


def test_not_by_a_look_on_another_device():
    both = [device(delivered="2026-03-02"), device(device="D2", side="right", delivered="2026-03-02")]
    other = fact("look", "2026-03-04", device="D2", area="calf", how="seen", skin="clear")
    assert looks(report("2026-03-03", fade_minutes=35.0), other, devices=both) == [
        "03-03 03-03 03-05 03-09 tier 2 owed"
    ]


def ask(on, area="heel", cause="rub"):
    return fact("adjustment request", on, request=f"Q {on}", cause=cause, area=area)


def test_a_rub_request_for_an_area_whose_latest_look_is_missing_is_a_told_look_graded_stop():
    assert looks(ask("2026-03-03")) == ["03-03 03-03 03-05 03-09 tier 2 owed"]
    assert looks(ask("2026-03-03"), who=REDUCED) == ["03-03 03-03 03-04 03-06 tier 2 owed"]


def test_or_clear():
    found = [look("2026-03-02", WATCH), look("2026-03-03", CLEAR, "seen"), ask("2026-03-04")]
    assert looks(*found)[1:] == ["03-04 03-04 03-06 03-10 tier 2 owed"]


def test_but_not_where_the_latest_look_is_not_clear():
    assert looks(look("2026-03-03", WATCH), ask("2026-03-04")) == ["03-03 03-03 03-10 03-17 tier 3 owed"]


def test_nor_for_another_cause():
    assert looks(ask("2026-03-03", cause="discomfort")) == []


def test_looks_of_that_day_count_before_requests():
    """Whatever the order of entry."""
    assert looks(ask("2026-03-03"), look("2026-03-03", WATCH)) == ["03-03 03-03 03-10 03-17 tier 3 owed"]


def test_wear_reports_count_before_looks():
    """Seen and clear the same day: the mark that was told is cleared."""
    found = [look("2026-03-03", CLEAR, "seen"), report("2026-03-03", "heel", fade_minutes=35.0)]
    assert looks(*found) == ["03-03 03-03 03-05 03-09 tier 2 done 03-03"]


def test_looks_before_delivery_start_nothing():
    assert looks(look("2026-03-01", URGENT, "seen")) == []


def test_a_taken_over_devices_skin_clock_is_as_always():
    over = [device(delivered="2026-01-05", taken_over="2026-03-02")]
    assert looks(look("2026-02-27", WATCH), devices=over) == ["02-27 02-27 03-06 03-13 tier 3 owed"]


def test_the_why_of_a_row_names_the_finding():
    (row,) = rows(case(look("2026-03-03", STOP)), "skin look")
    assert row.why.rule == "stop: mark lasting 35 min, told or picture"
    assert row.why.offset == "2 working days"
    assert row.anchor.isoformat() == "2026-03-03"
