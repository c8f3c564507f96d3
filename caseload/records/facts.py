"""The dated facts of a caseload: one envelope for all, one body per kind, each kind declared once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Any, NamedTuple

from caseload.records import adjustments, fitting, life, people, review, skin, wear


class Of(StrEnum):
    """What a kind of fact is a fact of, and so which reference its row in a workbook begins with."""

    DEVICE = "device"
    PERSON = "person"
    REQUEST = "request"
    """Of a device, named through the adjustment request."""


@dataclass(frozen=True, slots=True)
class FactKind:
    """One kind of fact."""

    name: str
    """In the singular, as it is stored and typed: `wear report`."""
    sheet: str
    """Its sheet in a workbook."""
    body: type[Any]
    of: Of
    letter: str
    """Its mark on the course of a device."""
    reference: str = ""
    """The column that names it uniquely, if it has one (`request`, `escalation`)."""
    alike: tuple[str, ...] = ()
    """Columns that, with subject and day, say whether two rows are about the same thing."""
    completed: tuple[str, ...] = ()
    """Columns that are filled in later, when what began has ended."""


KINDS = (
    FactKind("change", "changes", people.Change, Of.PERSON, "K", alike=("what",)),
    FactKind("trajectory", "trajectories", review.Trajectory, Of.DEVICE, "T"),
    FactKind("fit check", "fit_checks", fitting.FitCheck, Of.DEVICE, "F"),
    FactKind("footwear change", "footwear_changes", fitting.FootwearChange, Of.DEVICE, "O"),
    FactKind("practice", "practices", fitting.Practice, Of.DEVICE, "D", alike=("who",)),
    FactKind("wear plan", "wear_plans", wear.WearPlan, Of.DEVICE, "P"),
    FactKind("wear report", "wear_reports", wear.WearReport, Of.DEVICE, "W", alike=("area",)),
    FactKind("look", "looks", skin.Look, Of.DEVICE, "S", alike=("area", "how")),
    FactKind("wear stop", "wear_stops", wear.WearStop, Of.DEVICE, "H", completed=("lifted_on",)),
    FactKind(
        "adjustment request",
        "adjustment_requests",
        adjustments.AdjustmentRequest,
        Of.DEVICE,
        "Q",
        reference="request",
    ),
    FactKind("adjustment", "adjustments", adjustments.Adjustment, Of.REQUEST, "A"),
    FactKind("request withdrawal", "request_withdrawals", adjustments.RequestWithdrawal, Of.REQUEST, "Z"),
    FactKind("away", "aways", wear.Away, Of.DEVICE, "B", completed=("promised", "back")),
    FactKind("reassessment", "reassessments", review.Reassessment, Of.DEVICE, "R"),
    FactKind(
        "measure", "measures", review.Measure, Of.DEVICE, "M", alike=("measure", "device_on", "aid", "shoes")
    ),
    FactKind("fall", "falls", life.Fall, Of.PERSON, "X"),
    FactKind("contact", "contacts", life.Contact, Of.PERSON, "C", alike=("how",)),
    FactKind(
        "escalation",
        "escalations",
        life.Escalation,
        Of.PERSON,
        "E",
        reference="escalation",
        completed=("answered_on", "answered_by"),
    ),
    FactKind("pause", "pauses", life.Pause, Of.PERSON, "N"),
)
BY_NAME = {kind.name: kind for kind in KINDS}
BY_SHEET = {kind.sheet: kind for kind in KINDS}
BY_BODY: dict[type[Any], FactKind] = {kind.body: kind for kind in KINDS}


class Fact(NamedTuple):
    """One dated fact: what happened, when, to whom, and who wrote it down when.

    A named tuple: a caseload holds hundreds of thousands, and a frozen dataclass costs four times as much.
    """

    id: str
    """Made by the client (a UUID), so that a retry after a crash changes nothing."""
    kind: str
    """A name of `KINDS`."""
    person: str
    device: str | None
    """None for facts of a person."""
    on: date
    """The day it happened."""
    body: Any
    """An instance of the kind's body class."""
    order: int = 0
    """Facts of one kind and day count in this order: the order of the workbook, or of recording."""
    at: str = ""
    """HH:MM, or empty."""
    by: str = ""
    note: str = ""
    typed_on: date | None = None
    """The day it was typed; None only while it is not yet saved."""
    struck_on: date | None = None
    """The day it was struck out; None while it counts."""
    struck_by: str = ""
    struck_reason: str = ""
    version: int = 1

    @property
    def counts(self) -> bool:
        """Whether rules read it: a fact struck out is kept and shown, and counts for nothing."""
        return self.struck_on is None
