"""Fit check: at most one not done; a further cause joins it and the earliest due date stays (rules.md 4.1).

| cause                                                                  | due  | early   | grace | tier |
|------------------------------------------------------------------------|------|---------|-------|------|
| delivered                                                              | 0 wd | at once | 3 wd  | 3    |
| adjustment done, on a request of tier 1-2 or for vulnerable skin       | 2 wd | at once | 2 wd  | 3    |
| other adjustment done, footwear changed                                | 5 wd | 3 d     | 5 wd  | 3    |
| device back                                                            | 1 wd | at once | 2 wd  | 3    |
| fit check: needs adjustment                                            | 5 wd | 3 d     | 5 wd  | 2    |
| fit check: not to be worn, wear stopped                                | 2 wd | at once | 2 wd  | 2    |

Done by a fit check; one on the very day of the cause counts, except for the one that is itself the cause.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from caseload.records import words
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.rules.protocol.settings import FitCheckRules, Limit
from caseload.rules.reading import DeviceReading
from caseload.rules.rows import Dater, Draft
from caseload.rules.use import Stretch

Cause = tuple[date, str, Limit]


def fit_checks(
    device: DeviceReading, adjusted: Sequence[FollowUp], rules: FitCheckRules, dater: Dater
) -> list[FollowUp]:
    """The fit checks owed for a device. `adjusted`: its adjustment rows, for the tier of each request."""
    rows = []
    for stretch in device.stretches:
        causes = _causes(device, stretch, adjusted, rules)
        rows += _rows(device, stretch, causes, rules, dater)
    return rows


def _causes(
    device: DeviceReading, stretch: Stretch, adjusted: Sequence[FollowUp], rules: FitCheckRules
) -> list[Cause]:
    """Causes other than fit checks, by day."""
    found: list[Cause] = []
    if stretch.taken_over is None:
        found.append((stretch.began, "delivered", rules.delivered))
    tiers = {row.cause: row.tier for row in adjusted}
    for fact in device.of("adjustment"):
        if fact.body.outcome == words.DONE:
            pressing = tiers.get(fact.body.request, 5) <= 2 or device.person.attributes.vulnerable(fact.on)
            found.append(
                (fact.on, "adjustment done", rules.adjustment_pressing if pressing else rules.adjustment)
            )
    found += [(fact.on, "footwear changed", rules.footwear) for fact in device.of("footwear change")]
    found += [
        (fact.body.back, "device back", rules.device_back) for fact in device.of("away") if fact.body.back
    ]
    found += [(fact.on, "wear stopped", rules.wear_stopped) for fact in device.of("wear stop")]
    begin = stretch.taken_over or stretch.began
    return sorted(
        (cause for cause in found if begin <= cause[0] and stretch.does_on(cause[0])),
        key=lambda cause: cause[0],
    )


def _rows(
    device: DeviceReading, stretch: Stretch, causes: list[Cause], rules: FitCheckRules, dater: Dater
) -> list[FollowUp]:
    drafts: list[Draft] = []
    running: Draft | None = None
    begin = stretch.taken_over or stretch.began
    checks = [fact for fact in device.of("fit check") if fact.on >= begin and stretch.does_on(fact.on)]
    # On one day causes count before the checks, so that a check does what began that day.
    events = sorted(
        [(day, 0, n, limit, rule, None) for n, (day, rule, limit) in enumerate(causes)]
        + [(fact.on, 1, n, None, "", fact) for n, fact in enumerate(checks)],
        key=lambda event: event[:3],
    )
    for day, _, _, limit, rule, check in events:
        if check is not None:
            if running is not None:
                running.done, running.done_by = day, check.id
                running = None
            limit = _found(check.body.overall, rules)
            rule = f"fit check: {check.body.overall}"
        # On the last day a cause starts no row, but still joins the one there is.
        if limit is not None and (running is not None or stretch.starts_on(day)):
            if running is None:
                running = _start(device, day, rule)
                drafts.append(running)
            running.proposals.append(dater.propose(rule, day, limit, running.site))
    if running is not None:
        running.cancelled = stretch.ended
    return [_finish(device, draft, dater) for draft in drafts]


def _found(overall: str, rules: FitCheckRules) -> Limit | None:
    """The limit of the check that a fit check calls for; None if it was accepted."""
    return {words.NEEDS_ADJUSTMENT: rules.needs_adjustment, words.NOT_TO_BE_WORN: rules.not_to_be_worn}.get(
        overall
    )


def _start(device: DeviceReading, day: date, cause: str) -> Draft:
    return Draft(
        FollowUpKind.FIT_CHECK,
        device.person.person.person,
        device.device.device,
        cause,
        day,
        device.person.attributes.on("site", day),
        [],
        0,
    )


def _finish(device: DeviceReading, draft: Draft, dater: Dater) -> FollowUp:
    draft.tier = min(each.tier for each in draft.proposals)
    dates = dater.dates(
        draft.proposals,
        draft.started,
        draft.site,
        aways=device.of("away"),
        pausable=True,
        ended=draft.ended,
        tier=draft.tier,
    )
    return dater.row(draft, dates)
