"""What is owed to a person rather than for a device (rules.md 4.7).

| clock              | starts                                                       | due         | early   | grace      | tier | done by          |
|--------------------|--------------------------------------------------------------|-------------|---------|------------|------|------------------|
| rebooking          | first did not attend, was not brought or cancelled           | 2 wd        | at once | 3 wd       | 4    | a later contact made |
| escalation         | escalation, whenever dated                                   | 0 wd        | at once | 1 wd       | 1    | answered         |
| escalation by sign | look or report with such a sign, none recorded in the 7 days before | 0 wd | at once | 1 wd       | 1    | an escalation    |
| open access ending | open access granted                                          | DATE - 28 d | 28 d    | up to DATE | 5    | a contact made once it is open |
"""  # noqa: E501  the table of the page, one row a line

from __future__ import annotations

from datetime import date, timedelta

from caseload.records import words
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.rules.contacts import Met
from caseload.rules.protocol.settings import PeopleRules
from caseload.rules.reading import PersonReading
from caseload.rules.rows import FAR, Dater, Draft, Proposal
from caseload.rules.spans import add_plain
from caseload.rules.use import death

TOLD_ON = frozenset({"infection", "weakness", "calf swelling", "cold or pale", "hot swollen foot"})
"""Signs that somebody else must be told of on the day."""


def rebookings(person: PersonReading, met: list[Met], rules: PeopleRules, dater: Dater) -> list[FollowUp]:
    """Appointments that did not happen, until the person is reached or attends."""
    drafts: list[Draft] = []
    running: Draft | None = None
    for contact in met:
        if running is not None and contact.on > (running.cancelled or FAR):
            running = None
        if contact.made:
            if running is not None:
                running.done, running.done_by, running = contact.on, contact.fact, None
        elif contact.outcome in words.TO_REBOOK and running is None and _followed(person, contact.on):
            running = _draft(person, FollowUpKind.REBOOKING, contact.outcome, contact.on)
            running.cancelled = _end(person, contact.on, words.GONE)
            running.proposals = [dater.propose(contact.outcome, contact.on, rules.rebooking, running.site)]
            drafts.append(running)
    return [_dated(draft, dater, pausable=True) for draft in drafts]


def escalations(person: PersonReading, rules: PeopleRules, dater: Dater) -> list[FollowUp]:
    """Escalations not answered, and signs nobody was told of."""
    died = death(person.statuses) or FAR
    drafts = []
    for fact in person.of("escalation"):
        if fact.on >= died:
            continue
        draft = _draft(person, FollowUpKind.ESCALATION, f"told: {fact.body.to}", fact.on)
        draft.proposals = [dater.propose("escalation", fact.on, rules.escalation, draft.site)]
        draft.cancelled = _end(person, fact.on, (words.DIED,))
        answered = fact.body.answered_on
        if answered is not None and fact.on <= answered <= (draft.cancelled or FAR):
            draft.done, draft.done_by = answered, fact.id
        drafts.append(draft)
    return [_dated(draft, dater) for draft in [*drafts, *_by_sign(person, rules, dater, died)]]


def _by_sign(person: PersonReading, rules: PeopleRules, dater: Dater, died: date) -> list[Draft]:
    """At most one of this sort is not done."""
    drafts: list[Draft] = []
    told = [(fact.on, fact.id) for fact in person.of("escalation")]
    free_from = date.min
    for day, sign in _signs(person):
        before = add_plain(day, rules.told_within, -1)
        if day >= died or day < free_from or any(before <= on < day for on, _ in told):
            continue
        draft = _draft(person, FollowUpKind.ESCALATION, sign, day)
        draft.proposals = [dater.propose(f"{sign}, nobody told yet", day, rules.escalation_by_sign, draft.site)]
        draft.cancelled = _end(person, day, (words.DIED,))
        answer = next((each for each in told if day <= each[0] <= (draft.cancelled or FAR)), None)
        if answer is not None:
            draft.done, draft.done_by = answer
        # A sign found on the day of the answer is answered by it.
        free_from = draft.ended + timedelta(days=1) if draft.ended != FAR else FAR
        drafts.append(draft)
    return drafts


def _signs(person: PersonReading) -> list[tuple[date, str]]:
    """(day, sign) of each look or wear report with a sign that somebody must be told of."""
    found = []
    for device in person.devices:
        for kind in ("wear report", "look"):
            for fact in device.of(kind):
                sign = next((sign for sign in fact.body.signs if sign in TOLD_ON), None)
                if sign is not None:
                    found.append((fact.on, sign))
    return sorted(found, key=lambda each: each[0])


def open_access_endings(
    person: PersonReading, met: list[Met], rules: PeopleRules, dater: Dater
) -> list[FollowUp]:
    """A contact before open access ends, so that nobody drops out unasked."""
    rows = []
    limit = rules.open_access_ending
    for day, status, until in person.statuses:
        if status != words.OPEN_ACCESS or until is None or limit.due is None:
            continue
        draft = _draft(person, FollowUpKind.OPEN_ACCESS_ENDING, "open access", day)
        draft.cancelled = _end(person, day, words.GONE)
        due = add_plain(until, limit.due, -1)
        draft.proposals = [
            Proposal(
                "open access granted", until, f"{limit.due} before", due, limit.early, None, limit.tier, until
            )
        ]
        dater.do_once_open(draft, [(each.on, each.fact) for each in met if each.made])
        rows.append(_dated(draft, dater, pausable=True))
    return rows


def _followed(person: PersonReading, day: date) -> bool:
    """Whether something may start for the person on the day."""
    return person.attributes.on("status", day) not in words.GONE


def _end(person: PersonReading, started: date, ends: tuple[str, ...]) -> date | None:
    """The first day on or after the start on which a status cancels the row."""
    return next((day for day, status, _ in person.statuses if status in ends and day >= started), None)


def _draft(person: PersonReading, kind: FollowUpKind, cause: str, day: date) -> Draft:
    return Draft(kind, person.person.person, None, cause, day, person.attributes.on("site", day), [], 0)


def _dated(draft: Draft, dater: Dater, pausable: bool = False) -> FollowUp:
    draft.tier = draft.proposals[0].tier
    return dater.row(
        draft, dater.dates(draft.proposals, draft.started, draft.site, pausable=pausable, ended=draft.ended)
    )
