"""The clinic's time: sessions, what is booked into them, who is absent, when the clinic is closed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.columns import Kind, column


@dataclass(frozen=True, slots=True, kw_only=True)
class Session:
    """A stretch of one person's working time at one site."""

    session: str = column(Kind.TEXT, "Session", "The clinic's own reference for it.", required=True)
    on: date = column(Kind.DAY, "Date", required=True, may_lie_ahead=True)
    starts: str = column(Kind.TIME, "Starts", required=True)
    minutes: int = column(Kind.WHOLE, "Minutes", low=1, high=1440, unit="min", required=True)
    kept_free: int | None = column(
        Kind.WHOLE, "Kept free", "Minutes only the most urgent may fill.", low=0, high=1440, unit="min"
    )
    site: str = column(Kind.TEXT, "Site")
    who: str = column(Kind.TEXT, "Who", required=True)
    purpose: str = column(Kind.WORD, "Purpose", words=words.PURPOSES, required=True)
    cancelled_on: date | None = column(Kind.DAY, "Cancelled on")
    cancelled_reason: str = column(Kind.TEXT, "Why cancelled")


@dataclass(frozen=True, slots=True, kw_only=True)
class Booking:
    """An appointment of one person, offered or confirmed."""

    booking: str = column(Kind.TEXT, "Booking", "The clinic's own reference for it.", required=True)
    session: str = column(Kind.TEXT, "Session", refers_to="sessions")
    on: date | None = column(Kind.DAY, "Date", may_lie_ahead=True)
    starts: str = column(Kind.TIME, "Starts")
    person: str = column(Kind.TEXT, "Person", refers_to="people", required=True)
    minutes: int = column(Kind.WHOLE, "Minutes", low=1, high=1440, unit="min", required=True)
    device: str = column(Kind.TEXT, "Device", refers_to="devices")
    request: str = column(Kind.TEXT, "Request", refers_to="adjustment_requests")
    kind: str = column(Kind.TEXT, "For", "The follow-up it is for.")
    status: str = column(Kind.WORD, "Status", words=words.BOOKING_STATUSES)
    answer_by: date | None = column(Kind.DAY, "Answer by", may_lie_ahead=True)
    outcome: str = column(Kind.TEXT, "Outcome")


@dataclass(frozen=True, slots=True, kw_only=True)
class Absence:
    """Days on which a clinician or orthotist is not there, both included."""

    who: str = column(Kind.TEXT, "Who", required=True)
    first: date = column(Kind.DAY, "From", required=True, may_lie_ahead=True)
    last: date = column(Kind.DAY, "To", required=True, may_lie_ahead=True)
    cover: str = column(Kind.TEXT, "Cover", "Who looks after the list meanwhile.")


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """A day on which the clinic, or one site of it, does not work."""

    on: date = column(Kind.DAY, "Date", required=True, may_lie_ahead=True)
    site: str = column(Kind.TEXT, "Site", "Blank for the whole clinic.")
    reason: str = column(Kind.TEXT, "Reason")
