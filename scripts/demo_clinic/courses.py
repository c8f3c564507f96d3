"""The ordinary course of a device, from its order to a settled life with it, and what may happen on the way."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from demo_clinic.tale import Orthosis, Tale

INTERVALS = {"improving": 42, "stable": 182, "declining": 91}
"""Days between reviews, as the shipped protocol proposes them."""
SETTLING_IN = (13, 41, 83)
"""Days after delivery on which the first reviews are made."""
LADDERS = (
    ("03", "04", "05", "05"),
    ("02", "03", "04", "05", "06"),
    ("04", "04", "05", "06"),
    ("03", "05", "05"),
)
"""How donning comes, practice by practice; somebody who lives alone goes on to 06 twice."""
SPOTS = ("navicular", "lateral malleolus", "fifth metatarsal base", "calf band", "instep", "heel")
REMARKS = (
    "Walks to the shop and back without a rest.",
    "Manages the stairs with one hand on the rail.",
    "Back at work two mornings a week.",
    "Daughter says the gait is steadier.",
    "Tired in the afternoon; otherwise content.",
    "Wants to garden again by spring.",
    "No trouble on the ramp at home.",
)


def course(
    device: Orthosis,
    since: int,
    heading: str = "stable",
    next_in: int = 60,
    *,
    every: int | None = None,
    speed: float = 0.7,
    quiet: bool = False,
) -> None:
    """A device delivered `since` days ago whose next review is due in `next_in` days (late if negative).

    `every`: days between reviews where something asks for fewer than the heading does (age, foot-risk).
    `speed`: comfortable gait speed at delivery, m/s. `quiet`: no mishaps on the way.
    """
    start = supply(device, since)
    first_weeks(device, start)
    interval = min(every or 999, INTERVALS[heading])
    device.heading(start, heading)
    device.measure(start, "gait speed", speed)
    device.measure(start, "gait speed", round(speed - 0.12, 2), device_on=False)
    days = reviews(device, start, interval, next_in)
    for n, day in enumerate(days):
        review(device, day, heading, speed, n)
    if not quiet:
        mishaps(device, start, days)


def pair(tale: Tale, since: int, heading: str, next_in: int, orthosis: str = "AFO", **more: Any) -> None:
    """A device on either side, delivered and reviewed together; `more` as for `course`."""
    about = more.pop("about", {})
    state = tale.rng.getstate()
    for side in ("left", "right"):
        tale.rng.setstate(state)
        course(tale.device(side, orthosis, **about), since, heading, next_in, quiet=True, **more)


def supply(device: Orthosis, since: int) -> int:
    """Ordered, promised, delivered; gives the day of delivery."""
    rng, start = device.rng, -since
    ordered = start - rng.randint(26, 40)
    device.dates(ordered=ordered, promised=start + rng.randint(-3, 6), delivered=start)
    device.contact(ordered, "clinic", "attended", "Measured and cast.")
    return start


def first_weeks(device: Orthosis, start: int) -> None:
    """Fit, donning until it is enough, and wearing in until full wear, as far as today has come."""
    rng, about = device.rng, device.tale.about
    alone, vulnerable = about.get("lives_alone"), about.get("sensation", "") != "intact"
    device.fit(start)
    ladder = [*rng.choice(LADDERS), *(("06", "06") if alone else ())]
    day = start
    for level in ladder:
        if day <= 0:
            device.practice(day, level, rng.choice((level, level, min(f"{int(level) + 1:02d}", "06"))))
        day += rng.randint(5, 7)
    device.plan(start, "gentle" if vulnerable else "standard")
    hours = 2.0
    days = (2, 5, 7, 10, 13, 16, 19) if vulnerable else (3, 8, 15, 22)
    for n, after in enumerate(days):
        if start + after <= 0:
            full = n + 2 >= len(days)
            hours = rng.choice((7.0, 8.0, 9.0)) if full else min(hours + rng.choice((1, 1.5, 2)), 8)
            mark = {"area": rng.choice(SPOTS), "skin": "mark", "fade_minutes": rng.randint(4, 12)}
            device.report(start + after, hours, **(mark if rng.random() < 0.3 else {}))


def reviews(device: Orthosis, start: int, interval: int, next_in: int) -> list[int]:
    """The days on which reviews were made, so that the next falls due in `next_in` days."""
    days = [start + after for after in SETTLING_IN if start + after < next_in - interval - 20]
    if len(days) < len(SETTLING_IN):
        return [start + after for after in SETTLING_IN if start + after <= min(0, next_in)]
    regular, day = [], next_in - interval
    while day > days[-1] + interval // 4:
        regular.append(day)
        day -= interval - device.rng.randint(-4, 4)
    return [*days, *reversed(regular)]


def review(device: Orthosis, day: int, heading: str, speed: float, n: int) -> None:
    """A review that finds what the heading says, within the measure's own error if it is stable."""
    rng = device.rng
    drift = {"improving": 0.05 * (n + 1), "declining": -0.04 * (n + 1), "stable": 0.0}[heading]
    value = min(max(speed + drift + rng.uniform(-0.03, 0.03), 0.15), 1.3)
    device.measure(day, "gait speed", round(value, 2))
    if n % 2:
        device.measure(day, "TUG", round(9 / value + rng.uniform(-0.5, 0.5), 1))
    device.heading(day, heading)
    device.review(day)
    if rng.random() < 0.4:
        device.contact(day, "clinic", "attended", rng.choice(REMARKS))


def mishaps(device: Orthosis, start: int, reviewed: list[int]) -> None:
    """What happened on the way and was dealt with, in the quiet weeks between two reviews."""
    rng = device.rng
    weeks = [(early, late) for early, late in pairwise(reviewed) if late - early > 50 and early > start + 60]
    for early, late in weeks:
        if rng.random() < 0.75:
            rng.choice((watched_mark, sore_strap, new_shoes, at_the_workshop, did_not_come))(
                device, rng.randint(early + 4, late - 40)
            )


def watched_mark(device: Orthosis, day: int) -> None:
    """A mark that faded within half an hour, pressed away by two looks."""
    area = device.rng.choice(SPOTS)
    if device.tale.about.get("sensation") != "intact":
        return new_shoes(device, day)
    device.report(day, 7, area=area, skin="mark", fade_minutes=device.rng.randint(21, 28), blanching="yes")
    device.look(day + 4, area, "seen", "clear")
    return None


def sore_strap(device: Orthosis, day: int) -> None:
    """Discomfort, an adjustment, and the fit checked again."""
    asked = device.ask(day, "discomfort", area="calf band", work="soften the strap edge", minutes=20)
    device.adjust(day + 9, asked, work="strap edge skived and lined", minutes=20)
    device.fit(day + 11)


def new_shoes(device: Orthosis, day: int) -> None:
    """Other shoes, and the fit checked in them."""
    device.footwear(day, device.rng.choice(("winter boots", "new trainers", "insole taken out")))
    device.fit(day + 5)


def at_the_workshop(device: Orthosis, day: int) -> None:
    """A few days at the workshop, back when promised."""
    device.away(day, day + 6, day + 5, reason=device.rng.choice(("rivet of the hinge", "new lining")))
    device.fit(day + 6)


def did_not_come(device: Orthosis, day: int) -> None:
    """An appointment missed, and the call that put it right."""
    device.tale.contact(day, "clinic", device.rng.choice(("did not attend", "cancelled by person")))
    device.tale.contact(day + 1, "phone", "reached", "New date agreed.")
