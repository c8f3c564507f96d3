"""Sessions, bookings, absences, closures and the protocol."""

from datetime import date, timedelta

import pytest

from caseload.acts import clinic, facts, protocol
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.errors import Cancelled, Changed, Refused
from caseload.rules.protocol import shipped_text
from caseload.store import audit, open_store, owed
from caseload.store import clinic as reads
from tests.store.databases import TODAY, someone

SESSION = {
    "session": "S1",
    "on": date(2026, 11, 26),
    "starts": "09:00",
    "minutes": 90,
    "who": "sam",
    "purpose": "adjustment",
    "site": "Harbour",
}


def test_an_appointment_stands_beside_the_follow_up_it_is_for(desk: Desk) -> None:
    someone(desk)
    facts.record(desk, [Draft("adjustment request", TODAY, {"request": "Q1", "cause": "fall"}, device="P1-L")])
    clinic.add_session(desk, SESSION)
    booking = {"booking": "B1", "session": "S1", "person": "P1", "minutes": 30, "request": "Q1"}
    clinic.add_booking(desk, booking)
    appointment = owed.booked(desk.store, TODAY)["P1"][0]
    assert (appointment.on, appointment.starts) == (date(2026, 11, 26), "09:00")
    rows = owed.of_person(desk.store, "P1")
    assert [row.cause for row in rows if appointment.is_for(row)] == ["Q1"]
    assert owed.booked(desk.store, date(2026, 11, 27)) == {}
    clinic.cancel_session(desk, "S1", 1, "sam is ill")
    assert owed.booked(desk.store, TODAY) == {}


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"person": "P1", "minutes": 30}, "on"),
        ({"person": "P1", "minutes": 30, "session": "S9"}, "session"),
        ({"person": "P9", "minutes": 30, "on": TODAY}, "person"),
        ({"person": "P1", "minutes": 30, "on": TODAY, "device": "P9-L"}, "device"),
        ({"person": "P1", "minutes": 30, "on": TODAY, "request": "Q9"}, "request"),
        ({"person": "P1", "minutes": 0, "on": TODAY}, "minutes"),
        ({"person": "P1", "minutes": 30, "on": TODAY, "starts": "9 am"}, "starts"),
    ],
)
def test_a_booking_that_cannot_be(quick: Desk, values: dict[str, object], field: str) -> None:
    someone(quick)
    with pytest.raises(Refused) as refused:
        clinic.add_booking(quick, {"booking": "B1", **values})
    assert [problem.field for problem in refused.value.at] == [field]
    assert reads.bookings(quick.store) == []


def test_sessions_are_changed_under_the_eyes_of_both(desk: Desk) -> None:
    clinic.add_session(desk, SESSION)
    clinic.edit_session(desk, "S1", 1, {"minutes": 120})
    with pytest.raises(Changed) as changed:
        clinic.edit_session(desk, "S1", 1, {"minutes": 60})
    assert (changed.value.yours.minutes, changed.value.theirs.minutes) == (60, 120)
    with pytest.raises(Refused, match="needs a reason"):
        clinic.cancel_session(desk, "S1", 2, "")
    with pytest.raises(Refused, match="already"):
        clinic.add_session(desk, SESSION)
    assert [session.minutes for session, _ in reads.sessions(desk.store, TODAY, date(2026, 12, 1))] == [120]


def test_an_absence_has_its_cover(desk: Desk) -> None:
    with pytest.raises(Refused, match="cannot end before"):
        clinic.add_absence(desk, {"who": "sam", "first": TODAY, "last": date(2026, 11, 23)})
    absence = clinic.add_absence(
        desk, {"who": "sam", "first": TODAY, "last": date(2026, 11, 30), "cover": "imogen"}
    )
    assert reads.covered_by(desk.store, "imogen", date(2026, 11, 30)) == ["sam"]
    assert reads.covered_by(desk.store, "imogen", date(2026, 12, 1)) == []
    clinic.remove_absence(desk, absence)
    assert reads.absences(desk.store) == []
    with pytest.raises(Changed):
        clinic.remove_absence(desk, absence)


def test_a_closure_moves_dates_here_and_in_a_session_that_is_open_already(desk: Desk, place: str) -> None:
    someone(desk)
    with open_store(place) as elsewhere:
        assert elsewhere.rulebooks[0].calendar.is_working(date(2026, 12, 1))
        closure = clinic.add_closure(desk, {"on": date(2026, 12, 1), "site": "Harbour", "reason": "painting"})
        practice = Draft("practice", TODAY, {"who": "wearer", "don": "06", "doff": "06"}, device="P1-L")
        recorded = facts.record(Desk(elsewhere, "sam", TODAY), [practice])
        assert [row.due for row in recorded.new] == [date(2026, 12, 2)]
    clinic.remove_closure(desk, closure)
    assert date(2026, 12, 1) in {row.due for row in owed.of_person(desk.store, "P1")}


def _ours(first_day: str = "2026-11-20", version: str = "ours 1") -> str:
    text = shipped_text().replace("first_day = 1900-01-01", f"first_day = {first_day}")
    return text.replace('version = "2026.1"', f'version = "{version}"')


def test_a_new_protocol_is_in_use_from_its_first_day_and_audited(desk: Desk) -> None:
    someone(desk)
    told: list[tuple[int, int]] = []
    used = protocol.use(desk, _ours(), lambda done, total: told.append((done, total)))
    assert used.version == "ours 1" and told == [(1, 1)]
    assert desk.protocol().version == "ours 1"
    assert desk.protocol(date(2026, 11, 19)).version == "2026.1"
    assert [kept.version for kept in reads.protocols(desk.store)] == ["2026.1", "ours 1"]
    assert reads.protocols(desk.store)[1].text == _ours()
    entry = audit.last_deed(desk.store, "imogen")[0]
    assert (entry.act, entry.before["version"], entry.after["version"]) == ("use protocol", "2026.1", "ours 1")


def test_a_slip_in_a_protocol_put_in_force_today_is_mended_today_and_not_later(desk: Desk) -> None:
    someone(desk)
    facts.record(desk, [Draft("fall", TODAY, {"hurt": False}, person="P1")])
    today = shipped_text().replace("first_day = 1900-01-01", f"first_day = {TODAY}")
    protocol.use(desk, today.replace('orthotist = ""', 'orthotist = "555 0124"'))
    protocol.use(desk, today.replace('orthotist = ""', 'orthotist = "555 0142"'))
    assert desk.protocol().phones["orthotist"] == "555 0142"
    tomorrow = Desk(desk.store, desk.who, TODAY + timedelta(days=1))
    with pytest.raises(Refused, match="must be later"):
        protocol.use(tomorrow, today)


def test_a_protocol_that_is_wrong_or_would_move_the_past_is_refused(desk: Desk) -> None:
    someone(desk)
    facts.record(desk, [Draft("fall", TODAY, {}, person="P1")])
    with pytest.raises(Refused) as refused:
        protocol.use(
            desk, _ours().replace('tier = 3, source = "common practice: the fit', 'tier = 9, source = "the fit')
        )
    assert "line " in refused.value.problems[0]
    with pytest.raises(Refused, match="the past stays as it was"):
        protocol.use(desk, _ours("1900-01-01"))
    assert [kept.version for kept in reads.protocols(desk.store)] == ["2026.1"]


def test_a_rebuild_that_is_stopped_changes_nothing(desk: Desk) -> None:
    someone(desk)
    before = owed.of_person(desk.store, "P1")
    with pytest.raises(Cancelled):
        protocol.use(desk, _ours(), None, lambda: True)
    assert [kept.version for kept in reads.protocols(desk.store)] == ["2026.1"]
    assert owed.of_person(desk.store, "P1") == before
    assert desk.protocol().version == "2026.1"
