"""A person and their devices in words: what stands at the head of their page and on its lines."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date

from caseload.records import words
from caseload.records.case import Case
from caseload.records.columns import columns
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, Fact
from caseload.records.followups import FollowUp
from caseload.rules.attributes import Attributes
from caseload.rules.competence import Learner, competence
from caseload.rules.protocol.settings import Protocol
from caseload.words import days, entry, owed, sentences
from caseload.words.paragraph import Paragraph


def attributes(case: Case) -> Attributes:
    """The dated attributes of the person."""
    changes = [fact for fact in case.counting() if fact.kind == "change"]
    return Attributes(case.person, sorted(changes, key=lambda fact: (fact.on, fact.order)))


def age(born: date, today: date) -> int:
    """Whole years."""
    return today.year - born.year - ((today.month, today.day) < (born.month, born.day))


def subject(case: Case, today: date) -> str:
    """`P-0012 · born 3 Mar 1951, 75 years · active`."""
    person = case.person
    born = (
        f"born {days.full(person.born)[4:]}, {days.count(age(person.born, today), 'year')}"
        if person.born
        else "birth date not on record"
    )
    return " · ".join((person.person, born, status(case, today)))


def status(case: Case, today: date) -> str:
    """`active`, `open access until 3 Dec`, `paused until 3 Dec`."""
    in_force = attributes(case).on("status", today)
    changes = [
        fact
        for fact in case.counting()
        if fact.kind == "change" and fact.body.what == "status" and fact.on <= today
    ]
    until = changes[-1].body.until if changes else None
    paused = max(
        (
            fact.body.until
            for fact in case.counting()
            if fact.kind == "pause" and fact.on <= today <= fact.body.until
        ),
        default=None,
    )
    said = (
        f"{in_force} until {days.full(until, today)}" if until and in_force == words.OPEN_ACCESS else in_force
    )
    return f"{said}, paused until {days.full(paused, today)}" if paused else said


def in_force(case: Case, today: date) -> str:
    """What rules read about the person today, and what is not on record: in one line."""
    now, person = attributes(case), case.person
    risk = now.on("foot_risk", today)
    parts = (
        now.on("clinician", today) or "no clinician",
        now.on("site", today),
        f"sensation {now.on('sensation', today)}" if now.on("sensation", today) else "sensation not on record",
        f"foot-risk {risk}" if risk else "foot-risk not on record",
        "circulation concern" if now.on("circulation_concern", today) == "yes" else "",
        "vulnerable skin" if now.vulnerable(today) else "",
        "lives alone" if person.lives_alone else "",
        f"carer {person.carer}" if person.carer else "",
        "interpreter" if person.interpreter else "",
        f"phone {person.phone}" if person.phone else "",
    )
    return " · ".join(part for part in parts if part)


def heading(device: Device, case: Case) -> str:
    """`stable`, as last judged; or that it is not on record."""
    judged = [
        fact.body.trajectory
        for fact in case.counting()
        if fact.kind == "trajectory" and fact.device == device.device
    ]
    return judged[-1] if judged else "heading not on record"


def donning(device: Device, case: Case, protocol: Protocol, today: date) -> str:
    """Who manages it: wearer and each carer apart; empty while nobody has practised."""
    practices = [
        fact
        for fact in case.counting()
        if fact.kind == "practice" and fact.device == device.device and fact.on <= today
    ]
    found = competence(practices, protocol.donning, bool(case.person.lives_alone), device.delivered)
    return "; ".join(_learner(learner, protocol, today) for learner in found.learners.values())


def _learner(learner: Learner, protocol: Protocol, today: date) -> str:
    who = "wearer" if learner.who == words.WEARER else f"{learner.who} (carer)"
    if learner.competent_since:
        return f"{who} competent since {days.full(learner.competent_since, today)}"
    tried = days.count(len(learner.scored), "practice")
    stalled = ", stalled" if learner.stalled(protocol.donning.stalled_after) else ""
    return f"{who} not yet competent ({tried}{stalled})"


def device_line(device: Device, case: Case, protocol: Protocol, today: date) -> str:
    """`solid, custom · delivered 3 Mar · heading stable · wearer competent since 9 Mar`."""
    kind = ", ".join(part for part in (device.design, device.material, device.make) if part)
    if device.ended and device.ended < today:
        state = f"ended {days.full(device.ended, today)}" + (
            f", {device.end_reason}" if device.end_reason else ""
        )
    elif device.delivered:
        state = f"delivered {days.full(device.delivered, today)}"
    else:
        state = f"ordered {days.full(device.ordered, today)}" if device.ordered else "not delivered"
        state += f", promised for {days.full(device.promised, today)}" if device.promised else ""
    judged = heading(device, case)
    return " · ".join(
        part
        for part in (kind, state, judged if device.delivered else "", donning(device, case, protocol, today))
        if part
    )


def fact_paragraphs(fact: Fact, device: Device | None, today: date) -> tuple[Paragraph, ...]:
    """An entry as the pane under the history tells it."""
    about = f"{device.name}, " if device else ""
    typed = f"typed {days.full(fact.typed_on, today)}" if fact.typed_on and fact.typed_on != fact.on else ""
    by = ", ".join(part for part in (f"by {fact.by}" if fact.by else "", typed) if part)
    out = [
        Paragraph(
            fact.kind.capitalize(),
            f"{about}{days.both(fact.on, today)} {fact.at}".strip() + f": {sentences.fact_said(fact, today)}.",
        )
    ]
    if fact.note:
        out.append(Paragraph("Note", fact.note))
    if fact.struck_on:
        out.append(
            Paragraph(
                "Struck",
                f"out {days.full(fact.struck_on, today)} by {fact.struck_by}: {fact.struck_reason}.",
                "late",
            )
        )
    if by:
        out.append(Paragraph("", by, "quiet"))
    return tuple(out)


def fact_fields(fact: Fact, today: date) -> tuple[Paragraph, ...]:
    """Every field of an entry, filled or not, as its form names them."""
    rows = [Paragraph("Date", days.both(fact.on, today) + (f" {fact.at}" if fact.at else ""))]
    for column in columns(BY_NAME[fact.kind].body):
        said = entry.said(column, getattr(fact.body, column.name), today)
        rows.append(Paragraph(column.label, said or "not said", "" if said else "quiet"))
    return (
        *rows,
        Paragraph("Note", fact.note or "none", "" if fact.note else "quiet"),
        Paragraph("By", fact.by or "not said"),
        Paragraph("Typed on", days.full(fact.typed_on, today) if fact.typed_on else "not saved"),
        *(
            (
                Paragraph(
                    "Struck out",
                    f"{days.full(fact.struck_on, today)} by {fact.struck_by}: {fact.struck_reason}",
                    "late",
                ),
            )
            if fact.struck_on
            else ()
        ),
    )


def owed_in_order(rows: Iterable[FollowUp], today: date, case: Case) -> list[FollowUp]:
    """What is owed to one person, in order of work."""
    from caseload.rules.order import sort_key

    now = attributes(case)
    risk = (int(now.on("foot_risk", today) or 0), now.vulnerable(today))
    open_rows = (row for row in rows if row.ended is None or row.ended > today)
    return sorted(open_rows, key=lambda row: sort_key(row, today, risk))


def owed_said(row: FollowUp, today: date) -> str:
    """`due Thu 3 Dec` beside how it stands."""
    return owed.dates(row, today)
