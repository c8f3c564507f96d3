"""A device: one orthosis of one side. Left and right are two devices with two sets of clocks."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.columns import Kind, column


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """One orthosis, from its order to its end."""

    device: str = column(Kind.TEXT, "Reference", "The clinic's own reference for the device.", required=True)
    person: str = column(Kind.TEXT, "Person", refers_to="people", required=True)
    side: str = column(Kind.WORD, "Side", "The side it is worn on.", words=words.SIDES, required=True)
    orthosis: str = column(
        Kind.WORD, "Orthosis", "Named by the joints it crosses.", words=words.ORTHOSES, required=True
    )
    design: str = column(Kind.TEXT, "Design", "Solid, hinged, posterior leaf spring, ground reaction ...")
    material: str = column(Kind.TEXT, "Material")
    make: str = column(Kind.WORD, "Make", words=words.MAKES)
    diagnosis: str = column(Kind.TEXT, "Diagnosis group")
    orthotist: str = column(Kind.TEXT, "Orthotist")
    ordered: date | None = column(Kind.DAY, "Ordered")
    promised: date | None = column(Kind.DAY, "Promised for", may_lie_ahead=True)
    delivered: date | None = column(Kind.DAY, "Delivered", "The day every clock of the device begins.")
    taken_over: date | None = column(
        Kind.DAY, "Taken over", "The day it came into this caseload from elsewhere, if it did."
    )
    last_review: date | None = column(
        Kind.DAY, "Last review elsewhere", "For a device taken over: its last review before that day."
    )
    ended: date | None = column(Kind.DAY, "Ended", "The last day it counts as in use.")
    end_reason: str = column(Kind.TEXT, "Why it ended")
    replaces: str = column(Kind.TEXT, "Replaces", "The device it takes the place of.", refers_to="devices")
    life_months: int | None = column(
        Kind.WHOLE, "Life", "How long such a device is expected to last.", low=1, high=240, unit="months"
    )
    insole: str = column(Kind.TEXT, "Insole")
    footwear: str = column(Kind.TEXT, "Footwear")
    sock: str = column(Kind.TEXT, "Sock")
    note: str = column(Kind.TEXT, "Note", long=True)

    @property
    def name(self) -> str:
        """Side in full and orthosis, as said wherever something is decided: `LEFT AFO`."""
        return f"{self.side.upper()} {self.orthosis}"
