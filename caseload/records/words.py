"""The words of the trade that a record may hold, each list once."""

from __future__ import annotations

from enum import IntEnum

SIDES = ("left", "right")
ORTHOSES = ("FO", "AFO", "KO", "KAFO", "HKAFO")
MAKES = ("custom", "prefabricated")
SENSATIONS = ("intact", "reduced", "absent")
YES_NO = ("yes", "no")
FOOT_RISKS = ("0", "1", "2", "3")

ACTIVE, OPEN_ACCESS, DISCHARGED, MOVED, DIED = "active", "open access", "discharged", "moved", "died"
STATUSES = (ACTIVE, OPEN_ACCESS, DISCHARGED, MOVED, DIED)
GONE = (DISCHARGED, MOVED, DIED)
"""Statuses under which a person is no longer followed."""

IMPROVING, STABLE, DECLINING = "improving", "stable", "declining"
TRAJECTORIES = (IMPROVING, STABLE, DECLINING)

ACCEPTED, NEEDS_ADJUSTMENT, NOT_TO_BE_WORN = "accepted", "needs adjustment", "not to be worn"
FIT_JUDGEMENTS = (ACCEPTED, NEEDS_ADJUSTMENT, NOT_TO_BE_WORN)

WEARER = "wearer"
LEVELS = {
    "06": "independent",
    "05": "setup or clean-up",
    "04": "supervision or touching",
    "03": "partial or moderate help",
    "02": "substantial or maximal help",
    "01": "dependent",
    "07": "refused",
    "09": "not applicable",
    "10": "not attempted, environment",
    "88": "not attempted, medical or safety",
}
"""Levels of assistance: the six of CMS Section GG (public domain), and its codes for not attempted."""
NOT_ATTEMPTED = ("07", "09", "10", "88")

PLANS = ("standard", "standard slow", "gentle")

SKIN_CLEAR, MARK, DARK, BLISTER, BROKEN = "clear", "mark", "dark or purple", "blister", "broken"
SKINS = (SKIN_CLEAR, MARK, DARK, BLISTER, BROKEN)
BLANCHINGS = ("yes", "no", "unknown")
SIGNS = (
    "infection",
    "numbness",
    "weakness",
    "calf swelling",
    "cold or pale",
    "hot swollen foot",
    "firm or warm",
)
NOT_STATED = "not stated"
"""The area of a mark that was told without saying where."""
SEEN, PICTURE, TOLD = "seen", "picture", "told"
WAYS_OF_LOOKING = (SEEN, PICTURE, TOLD)


class Grade(IntEnum):
    """How bad a look is, by rules.md 4.4; larger is worse."""

    CLEAR = 0
    WATCH = 1
    STOP = 2
    URGENT = 3

    @property
    def word(self) -> str:
        """The word for screens and workbooks."""
        return self.name.lower()


RAISED = ("watch", "stop", "urgent")
GRADES = {grade.word: grade for grade in Grade}

STOPPERS = ("clinician", "wearer")

RUB, FALL = "rub", "fall"
CAUSES = (
    RUB,
    "unsafe damage",
    "unsafe to walk in",
    FALL,
    "discomfort",
    "growth",
    "worn out",
    "footwear",
    "noise or appearance",
)
UNSAFE = ("unsafe damage", "unsafe to walk in")
PLACES = ("clinic", "workshop")
DONE, PARTLY, NOT_POSSIBLE = "done", "partly", "not possible"
ADJUSTMENT_OUTCOMES = (DONE, PARTLY, NOT_POSSIBLE)

CONTINUE, REDUCE_WEAR, CHANGE_DEVICE, END = "continue", "reduce wear", "change device", "end"
DECISIONS = (CONTINUE, REDUCE_WEAR, CHANGE_DEVICE, END)

GAIT_SPEED, TUG, BERG = "gait speed", "TUG", "Berg"
MEASURES = {
    GAIT_SPEED: "m/s, comfortable",
    TUG: "s",
    BERG: "points",
    "6MWT": "m",
    "5xSTS": "s",
    "dorsiflexion": "degrees",
    "MAS": "grade",
}

WAYS_OF_CONTACT = ("phone", "clinic", "home", "video", "letter")
REACHED, NO_ANSWER, ATTENDED = "reached", "no answer", "attended"
DID_NOT_ATTEND, WAS_NOT_BROUGHT = "did not attend", "was not brought"
CANCELLED_BY_PERSON, CANCELLED_BY_SERVICE = "cancelled by person", "cancelled by service"
CONTACT_OUTCOMES = (
    REACHED,
    NO_ANSWER,
    ATTENDED,
    DID_NOT_ATTEND,
    WAS_NOT_BROUGHT,
    CANCELLED_BY_PERSON,
    CANCELLED_BY_SERVICE,
)
TO_REBOOK = (DID_NOT_ATTEND, WAS_NOT_BROUGHT, CANCELLED_BY_PERSON, CANCELLED_BY_SERVICE)

PURPOSES = ("adjustment", "workshop", "therapy", "phone")
BOOKING_STATUSES = ("offered", "confirmed", "cancelled")

DATED = ("site", "clinician", "sensation", "foot_risk", "circulation_concern", "status")
"""Attributes of a person that rules read on a day, and so are kept with their dates."""
