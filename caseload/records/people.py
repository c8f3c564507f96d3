"""A person of the caseload, and what about them is kept with dates."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.columns import Kind, column


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """A person who wears, or will wear, an orthosis."""

    person: str = column(Kind.TEXT, "Reference", "The clinic's own reference for the person.", required=True)
    family_name: str = column(Kind.TEXT, "Family name", required=True)
    given_name: str = column(Kind.TEXT, "Given name", required=True)
    born: date | None = column(Kind.DAY, "Born", "Children are reviewed more often.")
    phone: str = column(Kind.TEXT, "Phone")
    language: str = column(Kind.TEXT, "Language")
    interpreter: bool | None = column(Kind.YES_NO, "Interpreter needed")
    transport: str = column(Kind.TEXT, "Transport", "How they come, if it must be booked: ambulance, taxi.")
    days: tuple[str, ...] = column(
        Kind.LIST, "Days they can come", "mon, tue-am, wed-pm ...; blank for any day."
    )
    carer: str = column(Kind.TEXT, "Carer", "Who helps with the device at home.")
    lives_alone: bool | None = column(
        Kind.YES_NO, "Lives alone", "Then donning must be managed without any help."
    )
    note: str = column(Kind.TEXT, "Note", long=True)
    site: str = column(Kind.TEXT, "Site", "The first value; later ones are changes with a date.")
    clinician: str = column(Kind.TEXT, "Clinician", "The first value; later ones are changes with a date.")
    sensation: str = column(
        Kind.WORD, "Sensation", "Not on record counts as vulnerable skin.", words=words.SENSATIONS
    )
    foot_risk: str = column(Kind.WORD, "Foot-risk category", words=words.FOOT_RISKS)
    circulation_concern: str = column(Kind.WORD, "Circulation concern", words=words.YES_NO)

    @property
    def name(self) -> str:
        """Family name first, as in a list."""
        return f"{self.family_name}, {self.given_name}".strip(", ")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Another clinician, site or status, or a risk found or gone, from its day on."""

    what: str = column(Kind.WORD, "What changes", words=words.DATED, required=True)
    to: str = column(
        Kind.TEXT,
        "To",
        "The new value: a site, a clinician, intact/reduced/absent, 0-3, yes/no, or a status.",
        required=True,
    )
    until: date | None = column(Kind.DAY, "Until", "The last day of open access.", may_lie_ahead=True)
    reason: str = column(Kind.TEXT, "Reason")


ALLOWED = {
    "sensation": words.SENSATIONS,
    "foot_risk": words.FOOT_RISKS,
    "circulation_concern": words.YES_NO,
    "status": words.STATUSES,
}
"""The words a dated attribute may take; sites and clinicians are free text."""
