"""What a story is told with: a person, their devices, and one short word for each thing that happens.

Days are whole numbers from the reference day: -1 is yesterday, 3 is in three days.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import count
from typing import Any

Row = dict[str, Any]
"""Typed values by heading; what is missing is blank."""


@dataclass(slots=True)
class Clinic:
    """One clinic: two sites, at each a therapist and an orthotist."""

    sites: tuple[str, str]
    therapists: tuple[str, str]
    orthotists: tuple[str, str]


@dataclass
class Register:
    """Where the rows go, and which references are free."""

    today: date
    put: Callable[[str, Row], None]
    """Takes the name of a sheet and a row of it."""
    requests: count[int] = field(default_factory=lambda: count(1))
    escalations: count[int] = field(default_factory=lambda: count(1))
    bookings: count[int] = field(default_factory=lambda: count(1))
    sessions: count[int] = field(default_factory=lambda: count(1))

    def day(self, n: int) -> date:
        """The day `n` days from the reference day."""
        return self.today + timedelta(days=n)


class Tale:
    """One person's story as it is being told."""

    def __init__(
        self,
        register: Register,
        clinic: Clinic,
        ref: str,
        name: tuple[str, str],
        at: int,
        rng: random.Random,
    ) -> None:
        """`name`: family name, given name. `at`: 0 or 1, at which site they are seen."""
        self.register, self.clinic, self.ref, self.at, self.rng = register, clinic, ref, at, rng
        self.about: Row = {"person": ref, "family_name": name[0], "given_name": name[1]}
        self.devices: list[Orthosis] = []

    @property
    def by(self) -> str:
        """The therapist who looks after the person."""
        return self.clinic.therapists[self.at]

    def day(self, n: int) -> date:
        return self.register.day(n)

    def person(self, age: float, **about: Any) -> Tale:
        """Who it is; site, clinician and a telephone number are filled in unless they are told."""
        rng = self.rng
        self.about |= {
            "born": self.day(-round(365.25 * age) - rng.randint(0, 300)),
            "phone": f"555 {rng.randint(100, 199):04d}",
            "site": self.clinic.sites[self.at],
            "clinician": self.by,
            "sensation": "intact",
            "foot_risk": "0",
            "circulation_concern": "no",
        } | about
        return self

    def fact(self, sheet: str, n: int, **values: Any) -> None:
        """A fact on day `n`, typed that day by the therapist unless it is told otherwise."""
        day = self.day(n)
        self.register.put(sheet, {"on": day, "typed_on": day, "by": self.by} | values)

    def change(self, n: int, what: str, to: str, *, until: int | None = None, reason: str = "") -> None:
        last = None if until is None else self.day(until)
        self.fact("changes", n, person=self.ref, what=what, to=to, until=last, reason=reason)

    def contact(self, n: int, how: str, outcome: str, note: str = "") -> None:
        self.fact("contacts", n, person=self.ref, how=how, outcome=outcome, note=note)

    def fall(
        self, n: int, *worn: Orthosis, activity: str = "turning in the kitchen", hurt: bool = False
    ) -> None:
        refs = tuple(each.ref for each in worn)
        self.fact("falls", n, person=self.ref, devices_worn=refs, activity=activity, hurt=hurt)

    def escalate(self, n: int, to: str, why: str, answered: int | None = None, answered_by: str = "") -> None:
        self.fact(
            "escalations",
            n,
            escalation=f"E-{next(self.register.escalations):04d}",
            person=self.ref,
            to=to,
            why=why,
            answered_on=None if answered is None else self.day(answered),
            answered_by=answered_by,
        )

    def pause(self, n: int, until: int, reason: str) -> None:
        self.fact("pauses", n, person=self.ref, until=self.day(until), reason=reason)

    def device(self, side: str = "", orthosis: str = "AFO", **about: Any) -> Orthosis:
        """A device of the person; on either side unless one is told."""
        return Orthosis(self, side or self.rng.choice(("left", "right")), orthosis, about)

    def end(self) -> None:
        """Write down the person and the devices."""
        self.register.put("people", self.about)
        for device in self.devices:
            self.register.put("devices", device.about)


DESIGNS = {
    "FO": (("functional", "EVA"), ("total contact", "polyurethane foam")),
    "AFO": (
        ("hinged", "polypropylene"),
        ("solid", "polypropylene"),
        ("posterior leaf spring", "polypropylene"),
        ("ground reaction", "carbon composite"),
        ("dorsiflexion assist", "carbon composite"),
    ),
    "KO": (("hinged, with extension stop", "aluminium and fabric"),),
    "KAFO": (("stance control", "carbon composite"), ("locked knee", "polypropylene and steel")),
    "HKAFO": (("reciprocating", "polypropylene and steel"),),
}
DIAGNOSES = (
    "stroke",
    "stroke",
    "cerebral palsy",
    "multiple sclerosis",
    "peripheral neuropathy",
    "peroneal nerve injury",
    "spinal cord injury",
    "brain injury",
    "late effects of polio",
    "muscular dystrophy",
)


class Orthosis:
    """One device as its story is being told."""

    def __init__(self, tale: Tale, side: str, orthosis: str, about: Row) -> None:
        self.tale, self.rng = tale, tale.rng
        alike = sum(1 for each in tale.devices if each.about["side"] == side)
        self.ref = f"{tale.ref}-{side[0].upper()}{alike + 1 if alike else ''}"
        design, material = tale.rng.choice(DESIGNS[orthosis])
        self.about: Row = {
            "device": self.ref,
            "person": tale.ref,
            "side": side,
            "orthosis": orthosis,
            "design": design,
            "material": material,
            "make": tale.rng.choice(("custom", "custom", "prefabricated")),
            "diagnosis": tale.rng.choice(DIAGNOSES),
            "orthotist": tale.clinic.orthotists[tale.at],
            "footwear": tale.rng.choice(("own shoes, one size larger", "trainers", "extra-depth shoes", "")),
            "sock": "long cotton sock",
        } | about
        self.with_another = bool(tale.devices)
        tale.devices.append(self)

    def dates(self, **days: int) -> Orthosis:
        """ordered, promised, delivered, taken_over, last_review, ended, as days."""
        self.about |= {name: self.tale.day(n) for name, n in days.items()}
        return self

    def fact(self, sheet: str, n: int, **values: Any) -> None:
        self.tale.fact(sheet, n, device=self.ref, **values)

    def contact(self, n: int, how: str, outcome: str, note: str) -> None:
        """A contact about the device; those about a second device are told with the first."""
        if not self.with_another:
            self.tale.contact(n, how, outcome, note)

    def heading(self, n: int, trajectory: str, reason: str = "") -> None:
        self.fact("trajectories", n, trajectory=trajectory, reason=reason)

    def fit(self, n: int, overall: str = "accepted", concerns: str = "") -> None:
        self.fact("fit_checks", n, overall=overall, concerns=concerns)

    def footwear(self, n: int, what: str) -> None:
        self.fact("footwear_changes", n, what=what)

    def practice(self, n: int, don: str, doff: str = "", who: str = "wearer", **values: Any) -> None:
        minutes = self.rng.choice((15, 20, 25, 30))
        self.fact("practices", n, who=who, don=don, doff=doff or don, **{"minutes": minutes} | values)

    def plan(self, n: int, plan: str = "standard", goal_hours: float | None = None, reason: str = "") -> None:
        self.fact("wear_plans", n, plan=plan, goal_hours=goal_hours, reason=reason)

    def report(self, n: int, hours: float, **found: Any) -> None:
        self.fact("wear_reports", n, **{"hours": hours, "skin": "clear"} | found)

    def look(self, n: int, area: str, how: str, skin: str, **found: Any) -> None:
        self.fact("looks", n, area=area, how=how, skin=skin, **found)

    def stop(self, n: int, by: str, reason: str, lifted: int | None = None) -> None:
        lifted_on = None if lifted is None else self.tale.day(lifted)
        self.fact(
            "wear_stops", n, stopped_by=by, reason=reason, falls_advice=by == "clinician", lifted_on=lifted_on
        )

    def ask(self, n: int, cause: str, **values: Any) -> str:
        """An adjustment request; gives its reference."""
        ref = f"Q-{next(self.tale.register.requests):04d}"
        for name in ("not_before", "needed_by"):
            if name in values:
                values[name] = self.tale.day(values[name])
        self.fact("adjustment_requests", n, request=ref, cause=cause, **{"place": "clinic"} | values)
        return ref

    def adjust(self, n: int, request: str, outcome: str = "done", work: str = "", minutes: int = 25) -> None:
        by = self.tale.clinic.orthotists[self.tale.at]
        self.tale.fact("adjustments", n, request=request, outcome=outcome, work=work, minutes=minutes, by=by)

    def withdraw(self, n: int, request: str, reason: str) -> None:
        self.tale.fact("request_withdrawals", n, request=request, reason=reason)

    def away(self, n: int, promised: int, back: int | None = None, **values: Any) -> None:
        day = self.tale.day
        self.fact(
            "aways",
            n,
            promised=day(promised),
            back=None if back is None else day(back),
            **{"reason": "repair", "loan": False, "falls_advice": True} | values,
        )

    def review(self, n: int, decision: str = "continue", next_on: int | None = None, why: str = "") -> None:
        by_hand = None if next_on is None else self.tale.day(next_on)
        self.fact("reassessments", n, decision=decision, next_on=by_hand, next_reason=why)

    def measure(self, n: int, measure: str, value: float, device_on: bool = True, aid: str = "stick") -> None:
        self.fact("measures", n, measure=measure, value=value, device_on=device_on, aid=aid, shoes="own shoes")
