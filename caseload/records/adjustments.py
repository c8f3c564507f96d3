"""Asking the orthotist for a change of the device, and what came of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.columns import Kind, column


@dataclass(frozen=True, slots=True, kw_only=True)
class AdjustmentRequest:
    """A request to the orthotist; it is owed until an adjustment is done or it is withdrawn."""

    request: str = column(Kind.TEXT, "Request", "The clinic's own reference for the request.", required=True)
    cause: str = column(
        Kind.WORD, "Cause", "It sets how soon: a rub by its grade.", words=words.CAUSES, required=True
    )
    area: str = column(Kind.OPEN_WORD, "Area", "The landmark under the device.", offered="areas")
    work: str = column(Kind.TEXT, "What is asked")
    minutes: int | None = column(Kind.WHOLE, "Minutes", low=1, high=480, unit="min")
    place: str = column(Kind.WORD, "Where", words=words.PLACES)
    not_before: date | None = column(Kind.DAY, "Not before", may_lie_ahead=True)
    waiting_for: str = column(Kind.TEXT, "Waiting for", "The part or answer it waits for.")
    needed_by: date | None = column(Kind.DAY, "Needed by", "A date set by hand.", may_lie_ahead=True)
    needed_reason: str = column(Kind.TEXT, "Why by then", "Needed with a date set by hand.")
    orthotist: str = column(Kind.TEXT, "Orthotist", "Only if it must be this one.")
    still_worn: bool | None = column(Kind.YES_NO, "Still worn")
    reported_by: str = column(Kind.TEXT, "Reported by")
    shoe: str = column(Kind.TEXT, "Shoe to bring")


@dataclass(frozen=True, slots=True, kw_only=True)
class Adjustment:
    """What the orthotist did about a request."""

    request: str = column(Kind.TEXT, "Request", refers_to="adjustment_requests", required=True)
    outcome: str = column(
        Kind.WORD,
        "Outcome",
        "Partly and not possible leave the request open.",
        words=words.ADJUSTMENT_OUTCOMES,
        required=True,
    )
    work: str = column(Kind.TEXT, "What was done")
    minutes: int | None = column(Kind.WHOLE, "Minutes", low=0, high=480, unit="min")
    settings: str = column(Kind.TEXT, "Settings", "Stops, straps, wedges as left.")


@dataclass(frozen=True, slots=True, kw_only=True)
class RequestWithdrawal:
    """The request is taken back."""

    request: str = column(Kind.TEXT, "Request", refers_to="adjustment_requests", required=True)
    reason: str = column(Kind.TEXT, "Why", required=True)
