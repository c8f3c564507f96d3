"""People at the beginning: ordered, delivered, learning to put it on, wearing in."""

from __future__ import annotations

from demo_clinic.courses import first_weeks, supply
from demo_clinic.tale import Orthosis, Tale


def _device(tale: Tale, since: int, side: str = "", **about: str) -> Orthosis:
    """Delivered `since` days ago, the fit accepted; what was learned and worn is told by the story."""
    device = tale.device(side, **about)
    supply(device, since)
    device.fit(-since)
    device.heading(-since, "improving")
    device.measure(-since, "gait speed", 0.42)
    return device


def _worn_in(device: Orthosis, since: int) -> None:
    device.plan(-since)
    for after, hours in ((3, 4), (8, 6), (15, 8)):
        device.report(after - since, hours)


def no_device_yet(tale: Tale) -> None:
    """Referred last week, nothing ordered: in no clock."""
    tale.person(69, sensation="", foot_risk="")
    tale.contact(-6, "phone", "reached", "Referred by the ward; first appointment to be offered.")


def ordered(tale: Tale) -> None:
    """Promised for the end of next week."""
    tale.person(38)
    tale.device("right").dates(ordered=-20, promised=5)
    tale.contact(-20, "clinic", "attended", "Measured and cast.")


def ordered_overdue(tale: Tale) -> None:
    """Promised three weeks ago and not here: nobody has asked why."""
    tale.person(52, language="Romanian")
    tale.device("left", "KAFO").dates(ordered=-62, promised=-21)
    tale.contact(-62, "clinic", "attended", "Measured and cast.")


def delivered_today(tale: Tale) -> None:
    """Comes to take it home today: the fit has still to be checked."""
    tale.person(75, carer="Niamh", transport="taxi")
    tale.device("left").dates(ordered=-29, promised=1, delivered=0)


def learning(tale: Tale) -> None:
    """Delivered a week ago; wearing in on the gentle plan, skin that feels little."""
    tale.person(67, sensation="reduced", foot_risk="1")
    device = _device(tale, 8, "right")
    device.practice(-8, "02", "03")
    device.practice(-2, "03", "04")
    device.plan(-8, "gentle", 6)
    device.report(-6, 1)
    device.report(-3, 2.5, area="instep", skin="mark", fade_minutes=11, blanching="yes")


def wear_check_late(tale: Tale) -> None:
    """The second wear check should have been a call last week."""
    tale.person(59)
    device = _device(tale, 13, "left")
    device.practice(-13, "04")
    device.practice(-9, "05")
    device.practice(-5, "05", "06")
    device.plan(-13)
    device.report(-10, 4)


def stalled(tale: Tale) -> None:
    """Five practices and no gain: partial help every time."""
    tale.person(73, carer="", lives_alone=True, language="Icelandic")
    device = _device(tale, 34, "right", diagnosis="stroke")
    for day, level in ((-34, "02"), (-27, "03"), (-20, "03"), (-13, "03"), (-5, "03")):
        device.practice(day, level)
    _worn_in(device, 34)
    device.review(-21)


def carer_competent(tale: Tale) -> None:
    """The wearer does not manage, the carer does: two separate things."""
    tale.person(80, carer="Ingrid", transport="ambulance")
    device = _device(tale, 48, "left")
    for day, level in ((-48, "01"), (-41, "02"), (-34, "02"), (-27, "02")):
        device.practice(day, level)
    for day, level in ((-41, "04"), (-34, "05"), (-27, "06")):
        device.practice(day, level, who="Ingrid")
    _worn_in(device, 48)
    device.review(-35)
    device.review(-7)
    device.heading(-7, "improving")


def in_the_cupboard(tale: Tale) -> None:
    """Nobody at home can put it on, so it is not worn; then the calls stopped."""
    tale.person(77, carer="Husband", note="«On verra», dit-il. The device is in the cupboard.")
    device = _device(tale, 66, "right")
    device.practice(-66, "02")
    device.practice(-58, "02", "03")
    device.practice(-58, "03", who="Husband")
    device.plan(-66)
    device.report(-62, 2)
    device.report(-53, 0, note="Not worn this week.")
    device.review(-52)
    tale.contact(-24, "phone", "no answer")


def five_weeks_in(tale: Tale) -> None:
    """Five weeks in, everything on time."""
    tale.person(29)
    device = tale.device("left", "FO", make="prefabricated")
    first_weeks(device, supply(device, 36))
    device.heading(-36, "improving")
    device.review(-23)
