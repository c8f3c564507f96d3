"""Single values, and facts against their case: what is refused, what is only said."""

from datetime import date
from typing import Any

import pytest

from caseload.records.adjustments import Adjustment, AdjustmentRequest
from caseload.records.case import Case
from caseload.records.devices import Device
from caseload.records.facts import Fact
from caseload.records.people import Change, Person
from caseload.records.review import Measure, Reassessment
from caseload.records.sessions import Session
from caseload.records.skin import Look
from caseload.rules import checks
from caseload.rules.protocol import shipped

TODAY = date(2026, 11, 24)
PERSON = Person(person="P1", family_name="Lindqvist", given_name="Åsa", sensation="intact")
DEVICE = Device(
    device="P1-L",
    person="P1",
    side="left",
    orthosis="AFO",
    delivered=date(2026, 11, 2),
    ended=date(2026, 11, 20),
)


def _about(
    kind: str, body: Any, on: date = date(2026, 11, 10), device: str | None = "P1-L", **how: bool
) -> list[str]:
    fact = Fact("f", kind, "P1", device, on, body)
    case = Case(PERSON, (DEVICE,), (fact,))
    found = checks.about(fact, case, shipped().skin, **how)
    return [("said: " if problem.warning else "refused: ") + problem.says for problem in found]


@pytest.mark.parametrize(
    ("record", "values", "says"),
    [
        (Look, {"area": "heel", "how": "seen"}, "Skin must be filled in."),
        (Look, {"area": "heel", "how": "seen", "skin": "blistr"}, "is it 'blister'?"),
        (Look, {"area": "heel", "how": "seen", "skin": "clear", "pain": 11.0}, "from 0 to 10, not 11."),
        (Look, {"area": "heel", "how": "seen", "skin": "clear", "pain": True}, "Pain must be a number."),
        (Look, {"area": "heel", "how": "seen", "skin": "clear", "pain": float("nan")}, "must be a number"),
        (Look, {"area": "heel", "how": "seen", "skin": "mark", "signs": ("fever",)}, "Signs 'fever'"),
        (Look, {"area": 5, "how": "seen", "skin": "clear"}, "Area must be text."),
        (Look, {"area": "heel", "how": "seen", "skin": "clear", "skn": "x"}, "there is no skn; is it skin?"),
        (
            Device,
            {"device": "D", "person": "P", "side": "left", "orthosis": "AFO", "delivered": date(2027, 1, 1)},
            "future",
        ),
        (
            Device,
            {"device": "D", "person": "P", "side": "left", "orthosis": "AFO", "ordered": date(206, 1, 1)},
            "year right",
        ),
        (
            Device,
            {"device": "D", "person": "P", "side": "left", "orthosis": "AFO", "ordered": "2026-01-01"},
            "be a date",
        ),
        (
            Session,
            {
                "session": "S",
                "on": date(2027, 1, 4),
                "starts": "24:00",
                "minutes": 60,
                "who": "s",
                "purpose": "phone",
            },
            "HH:MM",
        ),
        (
            Session,
            {
                "session": "S",
                "on": date(2027, 1, 4),
                "starts": "09:00",
                "minutes": 60.5,
                "who": "s",
                "purpose": "phone",
            },
            "whole",
        ),
        (Person, {"person": "P", "family_name": "x" * 100_001, "given_name": "y"}, "longer than"),
        (Person, {"person": "P", "family_name": "x", "given_name": "y", "interpreter": "yes"}, "yes or no"),
        (Measure, {"measure": "TUG", "value": float("inf")}, "out of range"),
    ],
)
def test_single_values(record: type[Any], values: dict[str, Any], says: str) -> None:
    made, problems = checks.made(record, values, TODAY)
    assert made is None and len(problems) == 1 and says in problems[0].says, problems


def test_promised_dates_may_lie_ahead_and_numbers_become_what_they_are() -> None:
    values = {
        "device": "D",
        "person": "P",
        "side": "left",
        "orthosis": "AFO",
        "promised": date(2027, 1, 1),
        "life_months": 36.0,
    }
    device, problems = checks.made(Device, values, TODAY)
    assert not problems and device.life_months == 36 and isinstance(device.life_months, int)
    measure, _ = checks.made(Measure, {"measure": "TUG", "value": 12}, TODAY)
    assert isinstance(measure.value, float)


def test_outside_the_time_in_use_is_said() -> None:
    look = Look(area="heel", how="seen", skin="clear")
    assert _about("look", look) == []
    assert _about("look", look, date(2026, 11, 1)) == [
        "said: 2026-11-01 is before P1-L was delivered on 2026-11-02; it is kept."
    ]
    assert _about("look", look, date(2026, 11, 21)) == [
        "said: 2026-11-21 is after P1-L ended on 2026-11-20; it is kept."
    ]
    # A trajectory or a measure counts whenever it is dated.
    assert _about("measure", Measure(measure="TUG", value=12.0), date(2026, 11, 1)) == []


def test_what_was_brought_in_and_changes_nothing_is_only_said() -> None:
    lower = Look(area="heel", how="seen", skin="blister", raised_to="stop", raised_reason="x")
    assert _about("look", lower)[0].startswith("refused: It is graded urgent already (blister)")
    assert _about("look", lower, brought_in=True)[0].startswith("said: ")
    endless = Change(what="status", to="open access")
    assert _about("change", endless, device=None) == ["refused: Open access needs its last day."]
    assert _about("change", endless, device=None, brought_in=True) == ["said: Open access needs its last day."]
    early = AdjustmentRequest(request="Q", cause="fall", needed_by=date(2026, 11, 1), needed_reason="x")
    assert _about("adjustment request", early)[0].startswith("refused: 2026-11-01 lies before")
    by_hand = Reassessment(decision="continue", next_on=date(2026, 12, 1), next_reason="agreed")
    assert _about("reassessment", by_hand) == []


def test_an_adjustment_belongs_to_a_request() -> None:
    done = Adjustment(request="Q1", outcome="done")
    assert _about("adjustment", done) == ["refused: There is no adjustment request Q1."]
    asked = Fact(
        "q",
        "adjustment request",
        "P1",
        "P1-L",
        date(2026, 11, 12),
        AdjustmentRequest(request="Q1", cause="fall"),
    )
    fact = Fact("f", "adjustment", "P1", "P1-L", date(2026, 11, 10), done)
    found = checks.about(fact, Case(PERSON, (DEVICE,), (asked, fact)), shipped().skin)
    assert [(problem.warning, problem.field) for problem in found] == [(True, "on")]


@pytest.mark.parametrize(
    ("values", "warning", "field"),
    [
        ({"ended": date(2026, 11, 1)}, False, "ended"),
        ({"ordered": date(2026, 11, 3)}, True, "delivered"),
        ({"taken_over": date(2026, 11, 1)}, True, "taken_over"),
        ({"last_review": date(2026, 11, 1)}, True, "last_review"),
        ({"replaces": "P1-L"}, False, "replaces"),
        ({"replaces": "P2-L"}, False, "replaces"),
    ],
)
def test_devices(values: dict[str, Any], warning: bool, field: str) -> None:
    base = {"device": "P1-L", "person": "P1", "side": "left", "orthosis": "AFO", "delivered": date(2026, 11, 2)}
    problems = checks.device(Device(**(base | values)), Case(PERSON, (DEVICE,), ()))
    assert [(problem.warning, problem.field) for problem in problems] == [(warning, field)]
