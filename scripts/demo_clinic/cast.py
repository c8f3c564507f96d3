"""Whose story is whose: sixty-six people, every second one at the other site."""

from __future__ import annotations

from demo_clinic import beginning as b
from demo_clinic import elsewhere as e
from demo_clinic import settled as s
from demo_clinic import troubled as t
from demo_clinic.settled import Story, old_hand, steady

STORIES: tuple[Story, ...] = (
    t.blister, t.infection,
    t.adjusted, t.unsafe,
    b.stalled, t.stopped_mark,
    t.fell_and_hurt, e.fell_meanwhile,
    t.does_not_fit, t.told_and_waiting,
    b.in_the_cupboard, t.not_to_be_worn,
    t.watched_mark, t.padded_again,
    e.did_not_attend, e.not_brought,
    b.learning, b.wear_check_late,
    t.measured_worse, s.improving_weaning,
    b.delivered_today, t.growing,
    e.at_the_workshop, b.ordered_overdue,
    t.asked("discomfort", 12, area="tibial crest", work="line the anterior edge", minutes=20), t.rub_cleared,
    e.nobody_tried, e.lost,
    t.fell_without, t.wear_stopped,
    t.other_shoes, e.cancelled_by_us,
    e.open_access, e.open_access_fresh,
    b.carer_competent, b.five_weeks_in,
    s.little_child, s.schoolchild,
    s.foot_at_risk, s.declining,
    s.life_running_out, t.asked("worn out", 24, area="sole", work="new sole plate", place="workshop"),
    t.partly_done, s.taken_over(False),
    s.taken_over(True), s.foot_risk_found,
    s.both_sides, s.both_sides_uneven,
    e.in_hospital, e.abroad,
    e.came_back, e.typed_late,
    b.no_device_yet, b.ordered,
    s.replaced, s.changed_hands,
    s.sensation_unknown, e.discharged,
    e.died, e.moved,
    steady(52, 610, "stable", 71), steady(19, 180, "improving", 19),
    old_hand("HKAFO", 112, 40), old_hand("AFO", 37, 70),
    steady(61, 340, "stable", 128, language="Estonian"), steady(45, 500, "declining", 44),
)  # fmt: skip
