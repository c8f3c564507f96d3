"""People for whom something is wrong now: skin, fit, falls, damage, appointments that did not happen."""

from __future__ import annotations

from collections.abc import Callable

from demo_clinic.courses import course
from demo_clinic.tale import Tale

Story = Callable[[Tale], None]


def blister(tale: Tale) -> None:
    """A blister told yesterday on the telephone, under skin that feels little."""
    tale.person(72, sensation="reduced", foot_risk="2", lives_alone=True)
    device = tale.device("left", diagnosis="stroke")
    course(device, 205, "stable", 49, every=152, quiet=True)
    device.report(-1, 5, area="navicular", skin="blister", pain=3, note="New sandals since Sunday.")
    device.stop(-1, "clinician", "blister at the navicular")


def infection(tale: Tale) -> None:
    """Told this morning: red, hot and weeping; nobody else has been told yet."""
    tale.person(
        64, sensation="absent", foot_risk="3", circulation_concern="yes", language="Arabic", interpreter=True
    )
    device = tale.device("right", "FO", diagnosis="peripheral neuropathy")
    course(device, 330, "stable", 33, every=61, quiet=True)
    device.report(
        0, 6, area="fifth metatarsal head", skin="broken", signs=("infection",), note="Daughter rang."
    )


def told_and_waiting(tale: Tale) -> None:
    """The calf was swollen yesterday: the medical service was rung, its answer is not on record."""
    tale.person(70, carer="Ama")
    device = tale.device("left")
    course(device, 420, "stable", 75, quiet=True)
    device.look(-1, "calf", "seen", "clear", signs=("calf swelling",))
    tale.escalate(-1, "medical assessment unit", "calf swollen and tender")


def stopped_mark(tale: Tale) -> None:
    """A mark that stayed for forty minutes: device off, request made, both acted on this week."""
    tale.person(56)
    device = tale.device("right")
    course(device, 150, "stable", 84, quiet=True)
    device.look(-2, "lateral malleolus", "seen", "mark", fade_minutes=40, blanching="yes", pain=4)
    device.ask(
        -2, "rub", area="lateral malleolus", work="flare over the malleolus", minutes=30, still_worn=False
    )


def watched_mark(tale: Tale) -> None:
    """A mark that faded in 25 minutes, told four days ago: to be looked at within the week."""
    tale.person(44)
    device = tale.device("left")
    course(device, 120, "improving", 20, quiet=True)
    device.report(-4, 8, area="calf band", skin="mark", fade_minutes=25, blanching="yes")


def rub_cleared(tale: Tale) -> None:
    """A rub that had reached stop, cleared three weeks ago: reviewed once more within four weeks."""
    tale.person(61, sensation="reduced", foot_risk="1")
    device = tale.device("right")
    course(device, 260, "stable", 95, quiet=True)
    device.look(-34, "instep", "seen", "mark", fade_minutes=45, blanching="no")
    asked = device.ask(-34, "rub", area="instep", work="relieve the instep strap", minutes=20)
    device.adjust(-32, asked, work="strap moved, pad removed")
    device.fit(-31)
    device.look(-31, "instep", "seen", "mark", fade_minutes=20)
    device.look(-27, "instep", "seen", "clear")


def padded_again(tale: Tale) -> None:
    """The same place for the third time: review the device, not the padding."""
    tale.person(53)
    device = tale.device("left")
    course(device, 300, "stable", 90, quiet=True)
    for day in (-70, -38):
        device.look(day, "navicular", "seen", "mark", fade_minutes=27, blanching="yes")
        asked = device.ask(day, "rub", area="navicular", work="pad", minutes=15)
        device.adjust(day + 5, asked, work="padded")
        device.fit(day + 8)
        device.look(day + 8, "navicular", "seen", "clear")
    device.look(-6, "navicular", "seen", "mark", fade_minutes=28, blanching="yes")
    device.ask(-6, "rub", area="navicular", work="pad again, or look at the shape?", minutes=30)


def unsafe(tale: Tale) -> None:
    """A cracked shell, told yesterday: not to be walked in."""
    tale.person(47, days=("mon", "tue", "wed", "thu"))
    device = tale.device("right", "KAFO", material="polypropylene and steel")
    course(device, 560, "stable", 63)
    device.ask(
        -1, "unsafe damage", work="side bar cracked at the knee", place="workshop", still_worn=False,
        reported_by="wearer", shoe="left and right boots",
    )  # fmt: skip


def fell_and_hurt(tale: Tale) -> None:
    """Declining, and now a fall with the device on: the review cannot wait for its date."""
    tale.person(74, carer="Tomos", lives_alone=False)
    device = tale.device("left", diagnosis="multiple sclerosis")
    course(device, 610, "declining", 38, speed=0.9, quiet=True)
    tale.fall(-120, activity="getting up at night without it")
    tale.fall(-3, device, activity="caught the toe on the door sill", hurt=True)
    device.ask(-3, "fall", work="check toe clearance and the plantarflexion stop", minutes=30)


def fell_without(tale: Tale) -> None:
    """A fall in the bathroom without the device, not hurt."""
    tale.person(68, lives_alone=True)
    device = tale.device("right")
    course(device, 350, "stable", 80, quiet=True)
    tale.fall(-7, activity="bathroom, without the device")


def measured_worse(tale: Tale) -> None:
    """Stable on record, but a third slower than before, beyond the measure's own error."""
    tale.person(62)
    device = tale.device("left")
    course(device, 380, "stable", 60, speed=0.84, quiet=True)
    device.measure(-12, "gait speed", 0.58)
    device.measure(-12, "TUG", 19.5)


def growing(tale: Tale) -> None:
    """A child who grew out of it: asked for more length, and a new one decided on."""
    tale.person(5.2, carer="Dad", language="Ukrainian", interpreter=True)
    device = tale.device("right", diagnosis="cerebral palsy", life_months=12)
    course(device, 268, "stable", 85, every=91, speed=0.55, quiet=True)
    device.review(-4, "change device")
    device.heading(-4, "stable", "two shoe sizes since delivery")
    device.ask(-4, "growth", area="toes", work="extend the footplate meanwhile", minutes=30)


def asked(cause: str, days: int, **values: object) -> Story:
    """A request some days old that is not done."""

    def told(tale: Tale) -> None:
        tale.person(50)
        device = tale.device()
        course(device, 440, "stable", 70, quiet=True)
        device.ask(-days, cause, **values)

    return told


def partly_done(tale: Tale) -> None:
    """The strap was shortened, the buckle has to be ordered: partly done stays open."""
    tale.person(36, language="Portuguese")
    device = tale.device("left")
    course(device, 190, "improving", 18, quiet=True)
    asked = device.ask(
        -18,
        "discomfort",
        area="calf band",
        work="new buckle",
        waiting_for="buckle, ordered",
        not_before=2,
        minutes=20,
    )
    device.adjust(-11, asked, "partly", "strap shortened")
    other = device.ask(-15, "noise or appearance", work="squeak at the hinge")
    device.withdraw(-11, other, "gone after oiling it at home")


def adjusted(tale: Tale) -> None:
    """Adjusted yesterday for a rub; the fit is to be checked and the skin looked at again."""
    tale.person(65, sensation="reduced", foot_risk="1")
    device = tale.device("right")
    course(device, 95, "stable", 120, quiet=True)
    device.look(-4, "fibular head", "seen", "mark", fade_minutes=26, blanching="yes")
    request = device.ask(-4, "rub", area="fibular head", work="lower the trim line", minutes=30)
    device.adjust(-1, request, work="trim line lowered by 8 mm")
    device.look(-1, "fibular head", "seen", "clear")


def does_not_fit(tale: Tale) -> None:
    """Checked in new shoes and found wanting."""
    tale.person(48)
    device = tale.device("left")
    course(device, 170, "stable", 66, quiet=True)
    device.footwear(-9, "new walking shoes")
    device.fit(-5, "needs adjustment", "heel lifts out, calf band gapes")
    device.ask(-5, "footwear", work="heel wedge for the new shoe", shoe="new walking shoes", minutes=30)


def other_shoes(tale: Tale) -> None:
    """Other shoes since three days; the fit in them has not been checked."""
    tale.person(33)
    device = tale.device("right", "FO")
    course(device, 340, "stable", 92)
    device.footwear(-3, "house shoes with a soft sole")


def wear_stopped(tale: Tale) -> None:
    """Stopped wearing it by themselves; nobody has looked at why."""
    tale.person(54)
    device = tale.device("left", "KO")
    course(device, 280, "stable", 77, quiet=True)
    device.stop(-8, "wearer", "says it pinches when sitting")


def not_to_be_worn(tale: Tale) -> None:
    """A fit check said no: not to be worn until it is put right."""
    tale.person(45, language="Hindi")
    device = tale.device("right")
    course(device, 215, "stable", 69, quiet=True)
    device.fit(-1, "not to be worn", "presses on the fibular head when standing")
    device.ask(-1, "rub", area="fibular head", work="relieve the fibular head", minutes=45, still_worn=False)
