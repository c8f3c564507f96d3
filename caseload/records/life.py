"""Facts of a person rather than of one device: falls, contacts, escalations, pauses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.columns import Kind, column


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """A fall, as told."""

    devices_worn: tuple[str, ...] = column(
        Kind.LIST, "Devices worn", "References of the devices worn at the time.", refers_to="devices"
    )
    activity: str = column(Kind.TEXT, "Doing what")
    hurt: bool | None = column(Kind.YES_NO, "Hurt")


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """A contact, tried or made, that is no other fact."""

    how: str = column(Kind.WORD, "How", words=words.WAYS_OF_CONTACT, required=True)
    outcome: str = column(
        Kind.WORD,
        "Outcome",
        "Cancelled by the service is never 'did not attend'.",
        words=words.CONTACT_OUTCOMES,
        required=True,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Escalation:
    """Somebody else was told, and must answer."""

    escalation: str = column(Kind.TEXT, "Escalation", "The clinic's own reference for it.", required=True)
    to: str = column(Kind.TEXT, "To whom", required=True)
    why: str = column(Kind.TEXT, "Why", required=True)
    answered_on: date | None = column(Kind.DAY, "Answered on")
    answered_by: str = column(Kind.TEXT, "Answered by")


@dataclass(frozen=True, slots=True, kw_only=True)
class Pause:
    """A time in which reviews cannot happen: in hospital, abroad. Skin never waits for it."""

    until: date = column(Kind.DAY, "Until", "The last day of it.", required=True, may_lie_ahead=True)
    reason: str = column(Kind.TEXT, "Why", required=True)
