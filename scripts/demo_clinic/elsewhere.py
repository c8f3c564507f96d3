"""People who are away, hard to reach, on their way out, or gone: and devices that are not at home."""

from __future__ import annotations

from demo_clinic.courses import course, pair
from demo_clinic.tale import Tale


def at_the_workshop(tale: Tale) -> None:
    """The device went for repair last week and is promised for this one."""
    tale.person(51)
    device = tale.device("left")
    course(device, 360, "stable", 64, quiet=True)
    asked = device.ask(-8, "worn out", work="new ankle joints", place="workshop", minutes=60)
    device.away(-6, 2, loan=True, reason=f"new ankle joints ({asked})")


def fell_meanwhile(tale: Tale) -> None:
    """The device should have been back three days ago, and without it they fell."""
    tale.person(76, lives_alone=True)
    device = tale.device("right")
    course(device, 450, "stable", 86, quiet=True)
    device.away(-10, -1, reason="broken hinge")
    tale.fall(-2, activity="on the way to the toilet at night, without the device")


def in_hospital(tale: Tale) -> None:
    """In hospital for three more weeks: reviews wait, skin would not."""
    tale.person(81, carer="Yusuf", transport="ambulance")
    course(tale.device("left"), 310, "stable", 4, quiet=True)
    tale.pause(-12, 18, "in hospital, hip replaced")


def abroad(tale: Tale) -> None:
    """With family abroad until next month."""
    tale.person(67, language="Tigrinya", interpreter=True)
    pair(tale, 230, "stable", 40)
    tale.pause(-20, 26, "abroad")


def nobody_tried(tale: Tale) -> None:
    """The review is two months overdue and nobody has tried to reach them."""
    tale.person(43)
    course(tale.device("left"), 640, "stable", -62, quiet=True)


def lost(tale: Tale) -> None:
    """Three letters and calls without an answer."""
    tale.person(39, phone="")
    course(tale.device("right"), 500, "stable", -44, quiet=True)
    tale.contact(-30, "phone", "no answer")
    tale.contact(-16, "letter", "no answer", "Letter came back.")


def did_not_attend(tale: Tale) -> None:
    """Did not come on the appointed day; not rung since."""
    tale.person(35, transport="taxi")
    course(tale.device("left"), 330, "stable", -6, quiet=True)
    tale.contact(-5, "clinic", "did not attend")


def not_brought(tale: Tale) -> None:
    """A child who was not brought: somebody else did not come."""
    tale.person(8, carer="Foster parents")
    course(
        tale.device("left", diagnosis="brain injury", life_months=18), 210, "stable", 1, every=122, quiet=True
    )
    tale.contact(-1, "clinic", "was not brought")


def cancelled_by_us(tale: Tale) -> None:
    """The clinic cancelled: never to be counted as theirs."""
    tale.person(42)
    course(tale.device("right"), 270, "stable", 11, quiet=True)
    tale.contact(-2, "clinic", "cancelled by service", "Room double-booked.")


def open_access(tale: Tale) -> None:
    """Settled, may come whenever needed, until a day that is running out."""
    tale.person(58)
    device = tale.device("left")
    course(device, 730, "stable", -170, quiet=True)
    tale.change(-345, "status", "open access", until=21, reason="stable for a year, knows what to look for")


def open_access_fresh(tale: Tale) -> None:
    """Open access for the coming year."""
    tale.person(47, lives_alone=True)
    pair(tale, 400, "stable", 90, "FO")
    tale.change(-60, "status", "open access", until=305, reason="agreed at the review")


def discharged(tale: Tale) -> None:
    """Goal reached, device handed back."""
    tale.person(31)
    device = tale.device("left")
    course(device, 420, "improving", -90, quiet=True)
    device.review(-92, "end")
    device.dates(ended=-92)
    device.about["end_reason"] = "walks without it"
    tale.change(-92, "status", "discharged", reason="goals reached")


def came_back(tale: Tale) -> None:
    """Discharged nine months ago, back again with the same device: taken over on the day of the return."""
    tale.person(66)
    device = tale.device("right")
    course(device, 600, "stable", -110, quiet=True)
    tale.change(-280, "status", "discharged", reason="no further need seen")
    tale.change(-12, "status", "active", reason="asked to come back: slower on stairs")
    device.heading(-12, "declining", "slower on stairs")


def moved(tale: Tale) -> None:
    """Moved out of the area; the record went with them."""
    tale.person(37)
    course(tale.device("left"), 480, "stable", -20, quiet=True)
    tale.change(-70, "status", "moved", reason="moved away; letter sent to the new service")


def died(tale: Tale) -> None:
    """Died four months ago; nothing is owed."""
    tale.person(88)
    course(tale.device("right"), 560, "declining", -50, quiet=True)
    tale.change(-115, "status", "died")


def typed_late(tale: Tale) -> None:
    """Visits typed long after they happened, and one look struck out."""
    tale.person(59)
    device = tale.device("left")
    course(device, 320, "stable", 35, quiet=True)
    device.report(-40, 9, typed_on=tale.day(-25), note="From the paper diary.")
    device.look(-40, "heel", "told", "clear", typed_on=tale.day(-25))
    device.look(
        -24, "heel", "seen", "mark", fade_minutes=35, struck_on=tale.day(-23), struck_by=tale.by,
        struck_reason="wrong person: belongs to the next on the list",
    )  # fmt: skip
