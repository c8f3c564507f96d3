"""Skin look: after each look that was not clear, until the rub is cleared (rules.md 4.4).

| grade  | told or picture | seen | grace | with vulnerable skin  |
|--------|-----------------|------|-------|-----------------------|
| urgent | 0 wd            | 2 wd | 1 wd  | seen 1 wd             |
| stop   | 2 wd            | 5 wd | 2 wd  | told 1 wd, seen 2 wd  |
| watch  | 5 wd            | 5 wd | 5 wd  | the same              |

At once; tier by the worst of its looks. At most one row not done per area. A look that cannot do the
row (told, in a rub that has reached stop) proposes its own date to it.
"""

from __future__ import annotations

from caseload.records import words
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.records.words import Grade
from caseload.rules.protocol.settings import SkinLimit, SkinRules
from caseload.rules.reading import DeviceReading
from caseload.rules.rows import Dater, Draft, Proposal
from caseload.rules.rubs import Glance, Rub
from caseload.rules.use import death


def skin_looks(
    device: DeviceReading, looks: list[Glance], rules: SkinRules, dater: Dater
) -> tuple[list[FollowUp], list[Rub]]:
    """The skin looks owed for a device, and its rubs."""
    drafts: list[Draft] = []
    rubs: list[Rub] = []
    running: dict[str, tuple[Rub, Draft]] = {}
    died = death(device.person.statuses)
    for look in looks:
        if died is not None and look.on > died:
            break
        if look.seen and look.area != words.NOT_STATED and words.NOT_STATED in running:
            # What is found elsewhere says nothing of how bad the mark that nobody placed was.
            rub, draft = running.pop(words.NOT_STATED)
            draft.done, draft.done_by = rub.cleared, rub.cleared_by = look.on, look.fact
        if look.area in running:
            _look_at(*running[look.area], look, drafts, running, device, rules, dater)
        elif look.grade > Grade.CLEAR and device.stretch_of(look.on) is not None:
            rub = Rub(look.area)
            rubs.append(rub)
            rub.takes(look)
            running[look.area] = rub, _start(look.area, look, drafts, device, rules, dater)
    for _, draft in running.values():
        draft.cancelled = died
    # A look on the day of death still does its row, and starts none.
    return [_finish(draft, dater) for draft in drafts if draft.started != died], rubs


def _look_at(
    rub: Rub,
    draft: Draft,
    look: Glance,
    drafts: list[Draft],
    running: dict[str, tuple[Rub, Draft]],
    device: DeviceReading,
    rules: SkinRules,
    dater: Dater,
) -> None:
    """One further look in a rub: it does the row, or proposes its own date to it."""
    if not rub.takes(look):
        if look.grade > Grade.CLEAR:
            draft.proposals.append(_proposal(look, device, rules, dater))
        return
    draft.done, draft.done_by = look.on, look.fact
    if look.grade is Grade.CLEAR:
        rub.cleared, rub.cleared_by = look.on, look.fact
        del running[rub.area]
    else:
        running[rub.area] = rub, _start(rub.area, look, drafts, device, rules, dater)


def _start(
    area: str, look: Glance, drafts: list[Draft], device: DeviceReading, rules: SkinRules, dater: Dater
) -> Draft:
    draft = Draft(
        FollowUpKind.SKIN_LOOK,
        device.person.person.person,
        device.device.device,
        area,
        look.on,
        device.person.attributes.on("site", look.on),
        [_proposal(look, device, rules, dater)],
        0,
    )
    drafts.append(draft)
    return draft


def limit_of(grade: Grade, rules: SkinRules) -> SkinLimit:
    """The protocol's limits for a grade that is not clear."""
    return {Grade.URGENT: rules.urgent, Grade.STOP: rules.stop, Grade.WATCH: rules.watch}[grade]


def _proposal(look: Glance, device: DeviceReading, rules: SkinRules, dater: Dater) -> Proposal:
    limit = limit_of(look.grade, rules)
    span = limit.due(look.seen, look.vulnerable)
    site = device.person.attributes.on("site", look.on)
    how = "seen" if look.seen else "told or picture"
    vulnerable = ", vulnerable skin" if look.vulnerable and "vulnerable" not in look.because else ""
    return Proposal(
        f"{look.grade.word}: {look.because}, {how}{vulnerable}",
        look.on,
        str(span),
        dater.calendar.plus(look.on, span, site),
        None,
        limit.grace,
        limit.tier,
    )


def _finish(draft: Draft, dater: Dater) -> FollowUp:
    """Dates and tier from the looks before the day it ended."""
    first, *later = draft.proposals
    draft.proposals = [first, *(each for each in later if each.anchor < draft.ended)]
    draft.tier = min(each.tier for each in draft.proposals)
    return dater.row(draft, dater.dates(draft.proposals, draft.started, draft.site))
