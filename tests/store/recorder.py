"""A process to be killed: it records facts, or brings in many, and says what it was told is saved.

Run as `python -m tests.store.recorder PLACE record|bring`; one line per acknowledged act.
"""

import sys
import uuid
from datetime import date
from itertools import count

from caseload.acts import facts
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.records.facts import Fact
from caseload.records.life import Fall
from caseload.records.people import Person
from caseload.store import open_store, writes

TODAY = date(2026, 11, 24)
AT_ONCE = 40
"""People brought in by one act."""


def record(desk: Desk) -> None:
    """Two facts an act: a look that starts a row or does one, and a contact."""
    for number in count():
        skin = "mark" if number % 2 else "clear"
        look = Draft("look", TODAY, {"area": "heel", "how": "seen", "skin": skin}, device="P1-L")
        contact = Draft("contact", TODAY, {"how": "phone", "outcome": "reached"}, person="P1")
        facts.record(desk, [look, contact])
        print(look.id, contact.id, flush=True)


def bring(desk: Desk) -> None:
    """Many people with a fall each, in one act with one rebuild."""
    for number in count():
        mark = uuid.uuid4().hex[:8]
        people = [
            Person(person=f"{mark}-{n:03d}", family_name="x", given_name="y", clinician="sam")
            for n in range(AT_ONCE)
        ]
        fall = Fact("", "fall", "", None, TODAY, Fall(hurt=True), number, typed_on=TODAY)
        with desk.act("load") as work:
            writes.add(desk.store, people)
            writes.add_facts(
                desk.store, [fall._replace(id=str(uuid.uuid4()), person=person.person) for person in people]
            )
            work.note("load", mark, after={"people": len(people)})
            work.everyone = True
        print(mark, flush=True)


if __name__ == "__main__":
    with open_store(sys.argv[1]) as opened:
        print("ready", flush=True)
        {"record": record, "bring": bring}[sys.argv[2]](Desk(opened, "imogen", TODAY))
