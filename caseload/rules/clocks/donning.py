"""Donning practice: from delivery to the first, then from each to the next, while nobody is competent.

rules.md 4.2: due 7 d after it started, early 6 d, grace 7 d, tier 3; done by the next practice. A practice
that was not attempted does a row but is not scored.
"""

from __future__ import annotations

from datetime import date

from caseload.records.followups import FollowUp, FollowUpKind
from caseload.rules.competence import Competence
from caseload.rules.protocol.settings import DonningRules
from caseload.rules.reading import DeviceReading
from caseload.rules.rows import Dater, Draft
from caseload.rules.use import Stretch


def donning_practices(device: DeviceReading, rules: DonningRules, dater: Dater) -> list[FollowUp]:
    """The donning practices owed for a device."""
    drafts: list[Draft] = []
    for stretch in device.stretches:
        drafts += _drafts(device, stretch, rules, dater)
    return [
        dater.row(
            draft,
            dater.dates(
                draft.proposals,
                draft.started,
                draft.site,
                aways=device.of("away"),
                pausable=True,
                ended=draft.ended,
            ),
        )
        for draft in drafts
    ]


def _drafts(device: DeviceReading, stretch: Stretch, rules: DonningRules, dater: Dater) -> list[Draft]:
    drafts: list[Draft] = []
    competence = Competence(rules, bool(device.person.person.lives_alone))
    begin = stretch.taken_over or stretch.began
    running = None
    if stretch.taken_over is None and stretch.starts_on(begin):
        running = _start(device, begin, "delivered", rules, dater)
        drafts.append(running)
    for practice in device.of("practice"):
        day = max(practice.on, device.delivered or practice.on)
        competence.take(practice, day)
        history = stretch.taken_over is not None and practice.on < begin
        if history or day < begin or not stretch.does_on(day):
            continue
        if running is not None:
            running.done, running.done_by, running = day, practice.id, None
        if not competence.reached and stretch.starts_on(day):
            stalled = competence.learners[practice.body.who].stalled(rules.stalled_after)
            running = _start(
                device, day, "latest practice, stalled" if stalled else "latest practice", rules, dater
            )
            drafts.append(running)
    if running is not None:
        running.cancelled = stretch.ended
    return drafts


def _start(device: DeviceReading, day: date, rule: str, rules: DonningRules, dater: Dater) -> Draft:
    site = device.person.attributes.on("site", day)
    proposal = dater.propose(rule, day, rules.practice, site)
    return Draft(
        FollowUpKind.DONNING_PRACTICE,
        device.person.person.person,
        device.device.device,
        "not yet competent",
        day,
        site,
        [proposal],
        proposal.tier,
    )
