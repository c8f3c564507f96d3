"""The clinic's time: who is there when, what is booked into it, who is absent, when it is closed."""

from __future__ import annotations

from demo_clinic.names import FIRST_CLINIC
from demo_clinic.tale import Clinic, Register

_WEEK = (
    # weekday, starts, minutes, kept free, site, who (index, of the therapists or orthotists), purpose
    (0, "09:00", 180, 30, 0, ("therapists", 0), "therapy"),
    (0, "13:30", 150, 30, 0, ("orthotists", 0), "adjustment"),
    (1, "09:30", 150, None, 1, ("therapists", 1), "therapy"),
    (1, "13:00", 180, 30, 1, ("orthotists", 1), "adjustment"),
    (2, "09:00", 120, None, 0, ("orthotists", 0), "workshop"),
    (2, "14:00", 90, None, 0, ("therapists", 0), "phone"),
    (3, "09:00", 180, 30, 0, ("orthotists", 0), "adjustment"),
    (3, "14:00", 120, None, 1, ("therapists", 1), "phone"),
    (4, "09:00", 120, None, 1, ("orthotists", 1), "workshop"),
    (4, "10:00", 150, 30, 0, ("therapists", 0), "therapy"),
)


def rota(register: Register, clinic: Clinic) -> dict[tuple[int, str, int], str]:
    """This week and the two after it; gives the reference of each session by (day, purpose, site)."""
    weekday = register.today.weekday()
    found = {}
    for monday in (-weekday, 7 - weekday, 14 - weekday):
        for day, starts, minutes, free, site, (staff, index), purpose in _WEEK:
            n = monday + day
            ref = f"S-{next(register.sessions):04d}"
            found[n, purpose, site] = ref
            who = getattr(clinic, staff)[index]
            closed = any(n == day and shut in ("", clinic.sites[site]) for day, shut, _ in _closures(clinic))
            off = closed or any(who == absent and n in days for absent, days, _ in _absences(clinic))
            register.put(
                "sessions",
                {
                    "session": ref, "on": register.day(n), "starts": starts, "minutes": minutes,
                    "kept_free": free, "site": clinic.sites[site], "who": who,
                    "purpose": purpose, "cancelled_on": register.day(-1) if off else None,
                    "cancelled_reason": "closed" if closed else "absent" if off else "",
                },
            )  # fmt: skip
    return found


def _absences(clinic: Clinic) -> tuple[tuple[str, range, str], ...]:
    """(who, days, cover)"""
    there, other = clinic.therapists
    return (
        (other, range(12, 17), there),
        (clinic.orthotists[0], range(6, 8), clinic.orthotists[1]),
        (there, range(-48, -40), other),
    )


def _closures(clinic: Clinic) -> tuple[tuple[int, str, str], ...]:
    """(day, site, reason), no site for everywhere; told of the first clinic alone."""
    if clinic != FIRST_CLINIC:
        return ()
    return (
        (9, "", "training day"),
        (14, clinic.sites[1], "lift being repaired"),
        (-34, clinic.sites[1], "no heating"),
    )


def time_off(register: Register, clinic: Clinic) -> None:
    """Who is absent, with cover, and when a site or the whole clinic is closed."""
    for who, days, cover in _absences(clinic):
        first, last = register.day(days[0]), register.day(days[-1])
        register.put("absences", {"who": who, "from": first, "to": last, "cover": cover})
    for n, site, reason in _closures(clinic):
        register.put("closures", {"on": register.day(n), "site": site, "reason": reason})


BOOKED = (
    # story, day, purpose, site, starts, minutes, kind, status
    ("blister", 1, "adjustment", 0, "09:00", 30, "skin look", "confirmed"),
    ("adjusted", 2, "therapy", 0, "10:00", 30, "fit check", "confirmed"),
    ("stalled", 2, "therapy", 0, "10:45", 30, "donning practice", "offered"),
    ("fell_and_hurt", 5, "therapy", 0, "09:00", 45, "reassessment", "offered"),
    ("delivered_today", 0, "phone", 0, "14:00", 30, "fit check", "confirmed"),
    ("did_not_attend", 5, "therapy", 0, "10:00", 45, "reassessment", "cancelled"),
    ("stopped_mark", 6, "adjustment", 1, "13:00", 30, "adjustment", "confirmed"),
    ("declining", 6, "therapy", 1, "09:30", 45, "reassessment", "confirmed"),
    ("not_brought", 6, "therapy", 1, "10:30", 45, "reassessment", "offered"),
    ("partly_done", 8, "adjustment", 0, "09:00", 20, "adjustment", "offered"),
)
"""Appointments in the coming week; days count from a reference day that is a Wednesday."""


def bookings(
    register: Register, sessions: dict[tuple[int, str, int], str], people: dict[str, tuple[str, str]]
) -> None:
    """`people`: (person, first device) by the story that is theirs."""
    for story, n, purpose, site, starts, minutes, kind, status in BOOKED:
        if story in people:
            person, device = people[story]
            register.put(
                "bookings",
                {
                    "booking": f"B-{next(register.bookings):04d}", "session": sessions[n, purpose, site],
                    "starts": starts, "person": person, "minutes": minutes, "device": device, "kind": kind,
                    "status": status, "answer_by": register.day(1) if status == "offered" else None,
                },
            )  # fmt: skip
