"""Supply, the workshop, replacement (rules.md 4.8).

| clock              | starts                                   | due                          | early   | grace | tier | done by                          |
|--------------------|------------------------------------------|------------------------------|---------|-------|------|----------------------------------|
| supply             | ordered, not taken over                  | promised, else 30 wd after   | 7 d     | 5 wd  | 3    | delivered                        |
| supply             | reassessment: change device              | 5 wd                         | at once | 5 wd  | 3    | another of the side ordered      |
| back from workshop | away                                     | promised, else 5 wd after    | at once | 2 wd  | 3, 1 | back                             |
| replacement        | delivered (or taken over, if later)      | delivered + (life - 3) months | 3 mo   | 3 mo  | 5    | a reassessment once it is open   |
| replacement        | such a reassessment that keeps the device | + 12 months (6 if under 16) | 3 mo    | 3 mo  | 5    | the same                         |
"""  # noqa: E501  the table of the page, one row a line

from __future__ import annotations

from datetime import date, timedelta

from caseload.records import words
from caseload.records.facts import Fact
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.rules.ages import under
from caseload.rules.protocol.settings import Limit, SupplyRules
from caseload.rules.reading import DeviceReading
from caseload.rules.rows import FAR, Dater, Draft, Proposal
from caseload.rules.spans import Span, Unit, add_plain
from caseload.rules.use import Stretch


def supplies(device: DeviceReading, rules: SupplyRules, dater: Dater) -> list[FollowUp]:
    """What is awaited: the device itself, or the next one after a decision to change it."""
    drafts = [*_ordered(device, rules, dater), *_change_device(device, rules, dater)]
    return [_dated(draft, dater) for draft in drafts]


def _ordered(device: DeviceReading, rules: SupplyRules, dater: Dater) -> list[Draft]:
    told = device.device
    if told.ordered is None or told.taken_over is not None or not _may_start(device, told.ordered):
        return []
    draft = _draft(device, FollowUpKind.SUPPLY, "ordered", told.ordered)
    draft.cancelled = _ends(device, told.ordered)
    draft.proposals = [dater.propose("ordered", told.ordered, rules.ordered, draft.site, told.promised)]
    if told.promised is not None:
        draft.proposals = [draft.proposals[0]._replace(rule="promised")]
    if told.delivered is not None and told.ordered <= told.delivered <= (draft.cancelled or FAR):
        draft.done = told.delivered
    return [draft]


def _change_device(device: DeviceReading, rules: SupplyRules, dater: Dater) -> list[Draft]:
    """At most one of this sort not done; the end of the device does not cancel it."""
    drafts: list[Draft] = []
    next_ones = sorted(
        other.device.ordered
        for other in device.person.devices
        if other is not device and other.device.side == device.device.side and other.device.ordered
    )
    free_from = date.min
    for fact in device.of("reassessment"):
        if fact.body.decision != words.CHANGE_DEVICE or fact.on < free_from or not _may_start(device, fact.on):
            continue
        draft = _draft(device, FollowUpKind.SUPPLY, "change device", fact.on)
        draft.cancelled = _gone(device, fact.on)
        draft.proposals = [
            dater.propose("reassessment: change device", fact.on, rules.change_device, draft.site)
        ]
        draft.done = next((day for day in next_ones if fact.on <= day <= (draft.cancelled or FAR)), None)
        # A second decision on the day another was ordered joined the first: causes count before what does them.
        free_from = draft.ended + timedelta(days=1) if draft.ended != FAR else FAR
        drafts.append(draft)
    return drafts


def workshops(device: DeviceReading, rules: SupplyRules, dater: Dater) -> list[FollowUp]:
    """Devices away, until they are back; one that went away before it was delivered counts as well."""
    drafts = []
    for fact in device.of("away"):
        if not _may_start(device, fact.on):
            continue
        draft = _draft(device, FollowUpKind.BACK_FROM_WORKSHOP, "away", fact.on)
        draft.cancelled = _ends(device, fact.on)
        back = fact.body.back
        if back is not None and fact.on <= back <= (draft.cancelled or FAR):
            draft.done, draft.done_by = back, fact.id
        limit = rules.back_from_workshop
        fell = any(fact.on <= fall.on < draft.ended for fall in device.person.of("fall"))
        if fell:
            tier = min(limit.tier, rules.back_after_a_fall_tier)
            limit = Limit(limit.due, limit.early, limit.grace, tier, limit.source)
        rule = "away, fell meanwhile" if fell else "away"
        draft.proposals = [dater.propose(rule, fact.on, limit, draft.site, fact.body.promised)]
        drafts.append(draft)
    return [_dated(draft, dater) for draft in drafts]


def replacements(device: DeviceReading, rules: SupplyRules, dater: Dater) -> list[FollowUp]:
    """The review before the end of a device's expected life, and those after it."""
    drafts: list[Draft] = []
    for stretch in device.stretches:
        drafts += _replacements(device, stretch, rules, dater)
    return [_dated(draft, dater) for draft in drafts]


def _replacements(device: DeviceReading, stretch: Stretch, rules: SupplyRules, dater: Dater) -> list[Draft]:
    delivered = device.delivered
    begins = [day for day in _begins(device, stretch) if stretch.starts_on(day)]
    if delivered is None or not begins:
        return []
    born = device.person.person.born
    limit = rules.replacement_child if under(16, born, delivered) else rules.replacement
    life = limit.due or Span(0, Unit.MONTHS)
    if device.device.life_months is not None:
        life = Span(device.device.life_months, Unit.MONTHS)
    before = rules.before_the_end
    if life.unit == before.unit:
        # One addition from the anchor, never two: months clamp.
        due = add_plain(delivered, Span(life.n - before.n, life.unit))
    else:
        due = add_plain(add_plain(delivered, life), before, -1)
    proposal = Proposal(
        f"expected life {life}",
        delivered,
        f"{life}, less {before}",
        due,
        limit.early,
        limit.grace,
        limit.tier,
    )
    reviews = [fact for fact in device.of("reassessment") if stretch.does_on(fact.on)]
    drafts: list[Draft] = []
    for began in begins:
        if drafts and drafts[-1].ended >= began:
            continue  # One is owed on the day of the return: it runs on.
        cause = "delivered" if stretch.taken_over is None and began == begins[0] else "taken over"
        start: date | None = began
        owed = proposal
        while start is not None:
            draft = _draft(device, FollowUpKind.REPLACEMENT, cause, start)
            draft.cancelled = stretch.ended
            draft.proposals = [owed]
            # A review on the very day does a row that the day itself began, not one that it began.
            later = [fact for fact in reviews if fact.on > start or (cause != "kept" and fact.on == start)]
            dater.do_once_open(draft, [(fact.on, fact.id) for fact in later])
            drafts.append(draft)
            start = None
            if draft.done is not None and stretch.starts_on(draft.done) and _kept(reviews, draft.done):
                start, cause = draft.done, "kept"
                limit = rules.replacement_kept_child if under(16, born, start) else rules.replacement_kept
                owed = dater.propose("kept at the review", start, limit, draft.site)
    return drafts


def _begins(device: DeviceReading, stretch: Stretch) -> list[date]:
    """The days within a stretch on which the device was delivered or taken over."""
    first = stretch.taken_over or stretch.began
    returns = [day for day, granted in stretch.open_access if day > first and not granted]
    if stretch.granted_anew and first == stretch.began and first != device.device.taken_over:
        return returns
    return [first, *returns]


def _kept(reviews: list[Fact], day: date) -> bool:
    """Whether the device was kept on that day; of two reviews on one day the last recorded counts."""
    decision = [fact.body.decision for fact in reviews if fact.on == day][-1]
    return decision not in (words.CHANGE_DEVICE, words.END)


def _may_start(device: DeviceReading, day: date) -> bool:
    """Whether a fact of the day, of a device delivered or not, may start a row here."""
    ended = device.device.ended
    return device.person.attributes.on("status", day) not in words.GONE and (ended is None or day < ended)


def _ends(device: DeviceReading, started: date) -> date | None:
    """The first day on which the end of the device, or of following the person, cancels a row."""
    return min((day for day in (_gone(device, started), device.device.ended) if day), default=None)


def _gone(device: DeviceReading, started: date) -> date | None:
    """The first day on or after the start on which the person is no longer followed."""
    return next(
        (day for day, status, _ in device.person.statuses if status in words.GONE and day >= started), None
    )


def _draft(device: DeviceReading, kind: FollowUpKind, cause: str, day: date) -> Draft:
    site = device.person.attributes.on("site", day)
    return Draft(kind, device.person.person.person, device.device.device, cause, day, site, [], 0)


def _dated(draft: Draft, dater: Dater) -> FollowUp:
    draft.tier = draft.proposals[0].tier
    return dater.row(
        draft, dater.dates(draft.proposals, draft.started, draft.site, pausable=True, ended=draft.ended)
    )
