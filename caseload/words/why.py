"""Why a follow-up is owed: its binding rule, the dates that compete, the last facts, what does it, and the
caution that belongs to it. Short paragraphs with a heading each, for the pane under a list."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from caseload.records import words
from caseload.records.case import Case
from caseload.records.facts import Fact
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.rules.protocol.settings import Protocol
from caseload.store.owed import Booked
from caseload.words import cautions, days, owed, sentences
from caseload.words.paragraph import Paragraph

LAST_FACTS = 3


def why(
    row: FollowUp,
    case: Case,
    protocol: Protocol,
    today: date,
    *,
    staffed: date | None = None,
    bookings: Sequence[Booked] = (),
) -> tuple[Paragraph, ...]:
    """The paragraphs, the most important first; `staffed` is the next working day when tomorrow is none."""
    device = next((device for device in case.devices if device.device == row.device), None)
    at = f", {row.cause}" if row.kind is FollowUpKind.SKIN_LOOK and row.cause != words.NOT_STATED else ""
    about = f"{device.name}{at}: " if device else ""
    found = cautions.of_row(row, case.facts, today)
    told = cautions.sentences(found, protocol, staffed, today)
    moved = f" Moved: {row.moved}." if row.moved else ""
    others = "; ".join(owed.competing(row, today))
    booked = "; ".join(booking_said(booking, today) for booking in bookings) or "not yet"
    return (
        Paragraph("Why", f"{about}{owed.reason(row.why, today)}; {owed.dates(row, today)}.{moved}"),
        *((Paragraph("Caution", " ".join(told[:-1]), "urgent"),) if len(told) > 1 else ()),
        Paragraph("Done by", f"{owed.done_by(row)}. Booked: {booked}. {told[-1]}"),
        *((Paragraph("Also", f"{others}.", "quiet"),) if others else ()),
        Paragraph("Last", last_facts(row, case, today) or "nothing recorded yet.", "quiet"),
    )


def last_facts(row: FollowUp, case: Case, today: date, number: int = LAST_FACTS) -> str:
    """The last facts about the device and the person, newest first."""
    about = [fact for fact in case.counting() if fact.device in (row.device, None) or row.device is None]
    newest = sorted(about, key=lambda fact: (fact.on, fact.order), reverse=True)[:number]
    return "; ".join(f"{days.full(fact.on, today)} {sentences.fact_said(fact, today)}" for fact in newest) + (
        "." if newest else ""
    )


def booking_said(booking: Booked, today: date) -> str:
    """`Thu 26 Nov 09:30, confirmed`."""
    return f"{days.full(booking.on, today)} {booking.starts}".strip() + (
        f", {booking.status}" if booking.status else ""
    )


def newest_first(facts: Iterable[Fact]) -> list[Fact]:
    """The history of a person as it is read: the latest day on top, and within it the last recorded."""
    return sorted(facts, key=lambda fact: (fact.on, fact.at, fact.order), reverse=True)
