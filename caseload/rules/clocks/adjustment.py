"""Adjustment: one row per request, at once, counted from its date (rules.md 4.5).

| cause                                           | due   | grace | tier |
|-------------------------------------------------|-------|-------|------|
| rub graded urgent, unsafe damage, unsafe to walk | 1 wd  | 1 wd  | 1    |
| rub graded stop, fall                           | 3 wd  | 2 wd  | 2    |
| rub graded watch, discomfort, growth            | 10 wd | 5 wd  | 3    |
| worn out, footwear, noise or appearance         | 20 wd | 10 wd | 4    |

A rub request takes the grade of the area's latest look on or before its date, stop if that is clear or
missing; later looks that are not clear, and a date set by hand, propose their own. Done by an adjustment
that is done; cancelled by the withdrawal.
"""

from __future__ import annotations

from datetime import date

from caseload.records import words
from caseload.records.facts import Fact
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.records.words import Grade
from caseload.rules.protocol.settings import AdjustmentRules, Limit
from caseload.rules.reading import DeviceReading
from caseload.rules.rows import Dater, Draft, Proposal
from caseload.rules.rubs import Glance, latest_look


def adjustments(
    device: DeviceReading, looks: list[Glance], rules: AdjustmentRules, dater: Dater
) -> list[FollowUp]:
    """The adjustments owed for a device. `looks`: all that count at the device, in order."""
    rows = []
    for request in device.of("adjustment request"):
        stretch = device.stretch_of(request.on)
        if stretch is None:
            continue
        draft = Draft(
            FollowUpKind.ADJUSTMENT,
            request.person,
            request.device,
            request.body.request,
            request.on,
            device.person.attributes.on("site", request.on),
            [],
            0,
        )
        done = _first(device, "adjustment", request, lambda body: body.outcome == words.DONE)
        withdrawn = _first(device, "request withdrawal", request, lambda body: True)
        ends = [day for day in (stretch.ended, withdrawn.on if withdrawn else None) if day]
        draft.cancelled = min(ends, default=None)
        if done is not None and (draft.cancelled is None or done.on <= draft.cancelled):
            draft.done, draft.done_by = done.on, done.id
        draft.proposals = _proposals(request, looks, rules, dater, draft.site, draft.ended)
        draft.tier = min(each.tier for each in draft.proposals)
        rows.append(dater.row(draft, dater.dates(draft.proposals, draft.started, draft.site)))
    return rows


def _first(device: DeviceReading, kind: str, request: Fact, fits: object) -> Fact | None:
    """The first fact of a kind about the request, on or after it, whose body fits."""
    assert callable(fits)
    return next(
        (
            fact
            for fact in device.of(kind)
            if fact.body.request == request.body.request and fact.on >= request.on and fits(fact.body)
        ),
        None,
    )


def _proposals(
    request: Fact, looks: list[Glance], rules: AdjustmentRules, dater: Dater, site: str, ended: date
) -> list[Proposal]:
    body = request.body
    if body.cause != words.RUB:
        rule, limit = body.cause, _limit_of_cause(body.cause, rules)
        found = [dater.propose(rule, request.on, limit, site)]
    else:
        area = body.area or words.NOT_STATED
        latest = latest_look(looks, area, request.on)
        grade = latest.grade if latest is not None and latest.grade > Grade.CLEAR else Grade.STOP
        limit = limit_of_grade(grade, rules)
        found = [dater.propose(f"rub graded {grade.word}", request.on, limit, site)]
        found += [
            dater.propose(
                f"later look graded {look.grade.word}", look.on, limit_of_grade(look.grade, rules), site
            )
            for look in looks
            if look.area == area and request.on < look.on < ended and look.grade > Grade.CLEAR
        ]
    if body.needed_by is not None:
        by_hand = Limit(None, None, limit.grace, limit.tier, limit.source)
        found.append(dater.propose("date set by hand", request.on, by_hand, site, body.needed_by))
    return found


def limit_of_grade(grade: Grade, rules: AdjustmentRules) -> Limit:
    """The limit for a rub of a grade that is not clear."""
    return {Grade.URGENT: rules.rub_urgent, Grade.STOP: rules.rub_stop, Grade.WATCH: rules.rub_watch}[grade]


def _limit_of_cause(cause: str, rules: AdjustmentRules) -> Limit:
    return {
        "unsafe damage": rules.unsafe,
        "unsafe to walk in": rules.unsafe,
        "fall": rules.fall,
        "discomfort": rules.discomfort,
        "growth": rules.growth,
        "worn out": rules.worn_out,
        "footwear": rules.footwear,
        "noise or appearance": rules.noise_or_appearance,
    }[cause]
