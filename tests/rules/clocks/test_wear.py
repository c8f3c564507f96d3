"""Wear-in: the wear check and full wear (rules.md 4.3). 2 March 2026 is a Monday."""

from __future__ import annotations

import pytest

from tests.rules.build import case, device, fact, ledger, person


def plan(on="2026-03-02", plan="gentle", **more):
    return fact("wear plan", on, plan=plan, **more)


def report(on, hours=8.0, **found):
    return fact("wear report", on, hours=hours, **found)


def checks(*facts, **about):
    return ledger(case(*facts, **about), "wear check")


REDUCED = person(sensation="reduced")


def test_from_the_plan_due_three_days_later():
    """Opens two days before; grace four days, Monday 9th."""
    assert checks(plan()) == ["03-02 03-03 03-05 03-09 tier 3 owed"]


def test_two_days_with_vulnerable_skin():
    """Wednesday 4th; opens at once; four days later is Sunday 8th, so Monday 9th."""
    assert checks(plan(), who=REDUCED) == ["03-02 03-02 03-04 03-09 tier 3 owed"]


def test_from_each_wear_report_seven_days_later_three_with_vulnerable_skin():
    assert checks(plan(), report("2026-03-05", 2.0)) == [
        "03-02 03-03 03-05 03-09 tier 3 done 03-05",
        "03-05 03-10 03-12 03-16 tier 3 owed",
    ]
    assert checks(plan(), report("2026-03-05", 2.0), who=REDUCED)[1] == "03-05 03-07 03-09 03-13 tier 3 owed"


def test_without_a_plan_nothing_is_owed():
    assert checks(report("2026-03-05")) == []


def test_a_plan_before_delivery_counts_as_on_the_day_of_delivery():
    assert checks(plan("2026-02-20")) == ["03-02 03-03 03-05 03-09 tier 3 owed"]


def test_a_report_before_delivery_does_nothing():
    assert checks(plan("2026-02-20"), report("2026-02-27")) == ["03-02 03-03 03-05 03-09 tier 3 owed"]


def test_a_new_plan_cancels_the_old_ones_row_and_starts_over():
    assert checks(plan(), plan("2026-03-04", "standard")) == [
        "03-02 03-03 03-05 03-09 tier 3 cancelled 03-04",
        "03-04 03-07 03-09 03-13 tier 3 owed",
    ]


def test_of_two_plans_on_one_day_the_last_counts():
    assert checks(plan(), plan(plan="standard")) == ["03-02 03-03 03-05 03-09 tier 3 owed"]


def test_a_report_on_its_date_belongs_to_the_new_plan():
    assert checks(plan(), report("2026-03-04"), plan("2026-03-04")) == [
        "03-02 03-03 03-05 03-09 tier 3 cancelled 03-04",
        "03-04 03-07 03-09 03-13 tier 3 done 03-04",
        "03-04 03-09 03-11 03-16 tier 3 owed",
    ]


def ends_on(*facts, **about):
    """The day of the report after which no wear check is owed, or None."""
    found = checks(*facts, **about)
    return None if "owed" in found[-1] else found[-1].split()[-1]


# gentle has six steps of a day: begun on the 2nd, the 8th is the first day without limit.
WEEK = [report("2026-03-05", 2.0)]


def test_full_wear_is_a_clear_report_of_the_goal_hours_on_a_day_without_limit():
    assert ends_on(plan(), *WEEK, report("2026-03-08")) == "03-08"
    assert ends_on(plan(), *WEEK, report("2026-03-08", 6.0)) == "03-08"


def test_not_before_the_steps_are_behind():
    assert ends_on(plan(), *WEEK, report("2026-03-07")) is None


def test_the_plans_goal_hours_or_six():
    assert ends_on(plan(), *WEEK, report("2026-03-09", 5.9)) is None
    assert ends_on(plan(goal_hours=4.0), *WEEK, report("2026-03-09", 4.0)) == "03-09"
    assert ends_on(plan(goal_hours=10.0), *WEEK, report("2026-03-09", 8.0)) is None


def test_the_first_report_need_not_be_the_last():
    found = checks(plan(), *WEEK, report("2026-03-09"), report("2026-03-20"))
    assert [row.split()[-1] for row in found] == ["03-05", "03-09"]


@pytest.mark.parametrize("found", [{"fade_minutes": 25.0}, {"pain": 3.0}, {"skin": "blister"}])
def test_a_report_that_is_not_clear_is_not_full_wear(found):
    assert ends_on(plan(), *WEEK, report("2026-03-09", **found)) is None


def test_held_by_a_watch_of_that_day():
    """A look later in the day: wear reports count before looks."""
    watch = fact("look", "2026-03-09", area="heel", how="seen", skin="mark", fade_minutes=25.0)
    assert ends_on(plan(), *WEEK, report("2026-03-09"), watch) is None


def test_a_watch_of_days_ago_is_over_with_the_next_clear_report_but_the_plan_stood_still():
    """Watched on the 4th (plan day 2) until the report of the 5th: the 8th is plan day 5, the 9th day 6."""
    watch = fact("look", "2026-03-04", area="heel", how="seen", skin="mark", fade_minutes=25.0)
    assert ends_on(plan(), watch, *WEEK, report("2026-03-08")) is None
    assert ends_on(plan(), watch, *WEEK, report("2026-03-09")) == "03-09"


def test_held_after_the_due_date_of_the_wear_check_not_done():
    """Due on the 5th: the 6th (plan day 4) and all after are held; a report on the 9th finds plan day 4."""
    assert ends_on(plan(), report("2026-03-09")) is None
    # Reported on the 9th, plan day 4 moves on: the 11th is day 6.
    assert ends_on(plan(), report("2026-03-09"), report("2026-03-10")) is None
    assert ends_on(plan(), report("2026-03-09"), report("2026-03-11")) == "03-11"


STOPPED = [
    [fact("wear stop", "2026-03-09", stopped_by="wearer", reason="sore")],
    [fact("fit check", "2026-03-09", overall="not to be worn")],
    [fact("adjustment request", "2026-03-09", request="Q1", cause="unsafe damage")],
    [fact("away", "2026-03-09")],
    [
        fact("look", "2026-03-09", area="heel", how="told", skin="blister"),
        fact("look", "2026-03-10", area="heel", how="told", skin="clear"),
    ],
]


@pytest.mark.parametrize("why", STOPPED, ids=lambda why: why[0].kind)
def test_a_day_is_stopped(why):
    """Stop, fit check, unsafe request, away; a pressing rub that was only told of as clear."""
    assert ends_on(plan(), *WEEK, *why, report("2026-03-11")) is None


LIFTED = [
    [fact("wear stop", "2026-03-09", stopped_by="wearer", reason="sore", lifted_on="2026-03-11")],
    [
        fact("fit check", "2026-03-09", overall="not to be worn"),
        fact("fit check", "2026-03-11", overall="accepted"),
    ],
    [
        fact("adjustment request", "2026-03-09", request="Q1", cause="unsafe damage"),
        fact("adjustment", "2026-03-11", request="Q1", outcome="done"),
    ],
    [fact("away", "2026-03-09", back="2026-03-11")],
    [
        fact("look", "2026-03-09", area="heel", how="told", skin="blister"),
        fact("look", "2026-03-11", area="heel", how="seen", skin="clear"),
    ],
]


@pytest.mark.parametrize("why", LIFTED, ids=lambda why: why[0].kind)
def test_after_a_stop_the_plan_goes_back_to_its_last_step(why):
    """Lifted on the 11th: plan day 5, the last step; the 12th is the first day without limit again."""
    assert ends_on(plan(), *WEEK, *why, report("2026-03-11")) is None
    assert ends_on(plan(), *WEEK, *why, report("2026-03-12")) == "03-12"


def test_a_stop_of_seven_days_begins_again():
    """Away from the 9th to the 16th: the 16th is plan day 0, the 22nd plan day 6."""
    away = fact("away", "2026-03-09", back="2026-03-16")
    clear = [report(f"2026-03-{n}", 2.0) for n in (16, 18)]
    assert ends_on(plan(), *WEEK, away, *clear, report("2026-03-21")) is None
    assert ends_on(plan(), *WEEK, away, *clear, report("2026-03-22")) == "03-22"


def test_gentle_with_vulnerable_skin_takes_nine_days():
    """Checked every third day: begun on the 2nd, the 11th is the first day without limit."""
    asked = [report(f"2026-03-{n:02}", 1.0) for n in (4, 7, 9)]
    assert ends_on(plan(), *asked, report("2026-03-10"), who=REDUCED) is None
    assert ends_on(plan(), *asked, report("2026-03-11"), who=REDUCED) == "03-11"


def test_a_new_plan_starts_over_after_full_wear():
    found = checks(plan(), *WEEK, report("2026-03-09"), plan("2026-03-30"))
    assert found[-1] == "03-30 03-31 04-02 04-07 tier 3 owed"


def test_taken_over_earlier_wear_plans_start_nothing():
    over = [device(delivered="2026-01-05", taken_over="2026-03-02")]
    assert checks(plan("2026-03-01"), report("2026-03-05"), devices=over) == []
    assert checks(plan("2026-03-02"), devices=over) == ["03-02 03-03 03-05 03-09 tier 3 owed"]


def status(on, to, **more):
    return fact("change", on, what="status", to=to, **more)


def test_after_a_return_from_open_access_the_row_runs_on_and_the_earlier_plan_starts_no_further():
    found = [plan(), status("2026-03-03", "open access", until="2026-09-01"), status("2026-03-05", "active")]
    assert checks(*found) == ["03-02 03-03 03-05 03-09 tier 3 owed"]
    assert checks(*found, report("2026-03-06", 2.0)) == ["03-02 03-03 03-05 03-09 tier 3 done 03-06"]
    assert checks(*found, report("2026-03-04", 2.0))[1:] == ["03-04 03-09 03-11 03-16 tier 3 owed"]


def test_the_last_day_does_a_row_and_starts_none():
    ends = [device(delivered="2026-03-02", ended="2026-03-05")]
    assert checks(plan(), report("2026-03-05", 2.0), devices=ends) == [
        "03-02 03-03 03-05 03-09 tier 3 done 03-05"
    ]
    assert checks(plan(), report("2026-03-06", 2.0), devices=ends) == [
        "03-02 03-03 03-05 03-09 tier 3 cancelled 03-05"
    ]
    assert checks(plan("2026-03-05"), devices=ends) == []
