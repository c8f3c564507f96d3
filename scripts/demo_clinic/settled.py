"""People whose device is part of life by now: most of a clinic, and what is owed to them is not urgent."""

from __future__ import annotations

from collections.abc import Callable

from demo_clinic.courses import course, pair
from demo_clinic.tale import Tale

Story = Callable[[Tale], None]


def steady(age: float, since: int, heading: str, next_in: int, orthosis: str = "AFO", **about: object) -> Story:
    """One device, no trouble, the next review due in `next_in` days."""

    def told(tale: Tale) -> None:
        tale.person(age, **about)
        course(tale.device(orthosis=orthosis), since + tale.rng.randint(0, 9), heading, next_in)

    return told


def both_sides(tale: Tale) -> None:
    """A device on either side, delivered together, with clocks of their own."""
    tale.person(34, language="Polish", interpreter=True, note="Wolałby przychodzić rano.")
    pair(tale, 410, "stable", 74)


def both_sides_uneven(tale: Tale) -> None:
    """The right one came a year after the left one."""
    tale.person(58, transport="ambulance", days=("tue", "thu-am"))
    course(tale.device("left", "KAFO"), 700, "stable", 31)
    course(tale.device("right", "AFO"), 335, "stable", 48)


def foot_at_risk(tale: Tale) -> None:
    """Foot-risk 3 asks for a review every two months, whatever the heading."""
    tale.person(71, sensation="absent", foot_risk="3", circulation_concern="yes", lives_alone=True)
    about = {"diagnosis": "peripheral neuropathy"}
    pair(tale, 520, "stable", 3, "FO", every=61, speed=0.6, about=about)


def foot_risk_found(tale: Tale) -> None:
    """Sensation went, and the foot-risk category rose, half a year ago."""
    tale.person(66, foot_risk="1")
    pair(tale, 480, "stable", 20, every=152)
    tale.change(-180, "sensation", "reduced", reason="monofilament not felt at three sites")
    tale.change(-180, "foot_risk", "2")


def sensation_unknown(tale: Tale) -> None:
    """Nobody wrote down whether the skin can feel: it counts as vulnerable until somebody does."""
    tale.person(49, sensation="", foot_risk="", circulation_concern="", language="Vietnamese", interpreter=True)
    pair(tale, 265, "stable", 55)


def improving_weaning(tale: Tale) -> None:
    """Getting better: worn outdoors only by now; the next review set by hand, to talk about leaving it off."""
    tale.person(41, note="Goal: the allotment without it by summer.")
    device = tale.device("left", design="dorsiflexion assist", diagnosis="peroneal nerve injury")
    course(device, 230, "improving", -27, speed=0.75, quiet=True)
    device.measure(-26, "gait speed", 1.12)
    device.measure(-26, "gait speed", 1.1, device_on=False)
    device.heading(-26, "improving", "little difference with and without it")
    device.review(-26, "reduce wear", 9, "trial without it on outdoor walks first")
    device.report(-12, 3, area="instep", skin="clear")


def declining(tale: Tale) -> None:
    """Slowly worse, reviewed every three months; the review is due this week."""
    tale.person(63, carer="Tereza", days=("mon", "wed"))
    course(tale.device("right", diagnosis="multiple sclerosis"), 640, "declining", 2, speed=0.95)


def little_child(tale: Tale) -> None:
    """Under six: reviewed every three months; a device of a child lasts a year."""
    tale.person(4.1, carer="Mum", sensation="intact")
    about = {"make": "custom", "diagnosis": "cerebral palsy", "life_months": 12}
    pair(tale, 300, "stable", 16, every=91, speed=0.5, about=about)


def schoolchild(tale: Tale) -> None:
    """Under sixteen: every four months."""
    tale.person(11, carer="Grandmother", language="Turkish", interpreter=True, days=("wed-pm", "fri-pm"))
    about = {"diagnosis": "cerebral palsy", "life_months": 18}
    pair(tale, 250, "stable", 66, every=122, about=about)


def replaced(tale: Tale) -> None:
    """The first device wore out and was replaced; its history stays."""
    tale.person(55)
    old = tale.device("left")
    course(old, 740, "stable", 20, quiet=True)
    old.dates(ended=-150)
    old.about["end_reason"] = "worn out, replaced"
    new = tale.device("left", replaces=old.ref)
    course(new, 150, "stable", 100, quiet=True)


def life_running_out(tale: Tale) -> None:
    """Delivered almost three years ago: time to ask whether it is still the right one."""
    tale.person(60)
    pair(tale, 790, "stable", 58, about={"material": "polypropylene", "life_months": 30})


def taken_over(with_review: bool) -> Story:
    """Came from elsewhere with a device; with or without the day of the last review."""

    def told(tale: Tale) -> None:
        tale.person(57, note="Moved here; letter from the former service is in the notes.")
        device = tale.device(ordered=None).dates(delivered=-540, taken_over=-24)
        if with_review:
            device.dates(last_review=-118)
        device.heading(-24, "stable", "as in the letter")
        tale.contact(-24, "phone", "reached", "Welcome call.")

    return told


def old_hand(orthosis: str, next_in: int, age: float) -> Story:
    """Worn for two years and longer; lives alone, manages without help."""

    def told(tale: Tale) -> None:
        tale.person(age, lives_alone=True)
        course(tale.device(orthosis=orthosis), 760, "stable", next_in, speed=0.82)

    return told


def changed_hands(tale: Tale) -> None:
    """Moved house, so another site and another clinician since; once typed wrong, and struck out."""
    other = 1 - tale.at
    tale.person(46)
    course(tale.device("left"), 390, "stable", 88)
    tale.change(-130, "site", tale.clinic.sites[other], reason="moved house")
    tale.change(-130, "clinician", tale.clinic.therapists[other], reason="moved house")
    slip = {"struck_on": tale.day(-128), "struck_by": tale.by, "struck_reason": "another person of that name"}
    tale.fact("changes", -129, person=tale.ref, what="foot_risk", to="3", **slip)
