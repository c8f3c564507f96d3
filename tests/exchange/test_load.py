"""Loading: all of it or nothing, twice the same as once, the record never overruled unasked."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caseload.acts import facts
from caseload.acts.desk import Desk
from caseload.acts.dump import dump, everything
from caseload.acts.load import load
from caseload.errors import Cancelled, Refused
from caseload.exchange import workbook
from caseload.exchange.told import FactRow, TableRow
from caseload.exchange.workbook import Workbook
from caseload.records.devices import Device
from caseload.records.people import Person
from caseload.records.wear import WearReport
from caseload.store import open_store
from caseload.store.owed import listed
from tests.exchange.making import HOSTILE, TEXTS, folder

TODAY = date(2026, 11, 24)
EXAMPLE = Path(__file__).parents[2] / "fixtures" / "example"
PEOPLE = "person,family_name,given_name,phone\nP1,A,B,\nP2,C,D,5550142\n"
DEVICES = "device,person,side,orthosis,delivered\nD1,P1,left,AFO,2026-02-01\n"
REPORTS = "device,on,hours,area\nD1,2026-02-10,3,\nD1,2026-02-10,4,\n"


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with open_store(str(tmp_path / "c.db"), create=True, holidays="GB-ENG") as store:
        yield Desk(store, "Imogen Vale", TODAY)


def bring(desk: Desk, tmp_path: Path, amend: str = "", **sheets: str) -> dict[str, dict[str, int]]:
    """Load sheets as typed; the counts that are not nought."""
    place = tmp_path / "w"
    for old in place.glob("*.csv"):
        old.unlink()
    counts = load(desk, folder(place, **sheets), amend=amend).counts
    return {sheet: {what: n for what, n in each.items() if n} for sheet, each in counts.items()}


def refused(desk: Desk, tmp_path: Path, **sheets: str) -> list[str]:
    with pytest.raises(Refused) as told:
        bring(desk, tmp_path, **sheets)
    return told.value.problems


def test_loading_twice_changes_nothing(desk: Desk) -> None:
    first = load(desk, EXAMPLE / "workbook")
    before = (
        everything(desk.store),
        desk.store.all("SELECT * FROM follow_ups"),
        desk.store.all("SELECT * FROM audit"),
    )
    again = load(desk, EXAMPLE / "workbook")
    after = (
        everything(desk.store),
        desk.store.all("SELECT * FROM follow_ups"),
        desk.store.all("SELECT * FROM audit"),
    )
    assert (first.changed, again.changed, after) == (True, False, before)


def test_a_load_is_one_entry_of_the_audit_with_counts_and_no_person(desk: Desk, tmp_path: Path) -> None:
    bring(desk, tmp_path, people=PEOPLE, devices=DEVICES)
    ((who, act, ref, after),) = desk.store.all('SELECT "who", "act", "ref", "after" FROM audit')
    assert (who, act, ref) == ("Imogen Vale", "load", "w")
    assert json.loads(after) == {"people": {"new": 2}, "devices": {"new": 1}}


def test_what_was_not_said_is_who_loads_and_today(desk: Desk, tmp_path: Path) -> None:
    bring(desk, tmp_path, people=PEOPLE, devices=DEVICES, wear_reports=REPORTS)
    rows = everything(desk.store).rows("wear_reports")
    assert [(row.by, row.typed_on, row.body.hours) for row in rows] == [
        ("Imogen Vale", TODAY, 3.0),
        ("Imogen Vale", TODAY, 4.0),
    ]


def test_more_of_the_same_day_are_new_facts_and_blanks_are_filled(desk: Desk, tmp_path: Path) -> None:
    bring(desk, tmp_path, people=PEOPLE, devices=DEVICES, wear_reports=REPORTS)
    more = REPORTS + "D1,2026-02-10,5,\n"
    assert bring(desk, tmp_path, wear_reports=more) == {"wear_reports": {"new": 1, "same": 2}}
    filled = PEOPLE.replace("P1,A,B,", "P1,A,B,5550199")
    assert bring(desk, tmp_path, people=filled) == {"people": {"completed": 1, "same": 1}}
    stops = "device,on,stopped_by,reason,lifted_on\nD1,2026-03-01,wearer,hurts,\n"
    assert bring(desk, tmp_path, wear_stops=stops) == {"wear_stops": {"new": 1}}
    lifted = stops.replace("hurts,", "hurts,2026-03-04")
    assert bring(desk, tmp_path, wear_stops=lifted) == {"wear_stops": {"completed": 1}}
    assert bring(desk, tmp_path, wear_stops=stops) == {"wear_stops": {"same": 1}}
    assert everything(desk.store).rows("wear_stops")[0].body.lifted_on == date(2026, 3, 4)


def test_a_contradiction_is_refused_unless_the_record_is_amended(desk: Desk, tmp_path: Path) -> None:
    bring(desk, tmp_path, people=PEOPLE, devices=DEVICES, wear_reports=REPORTS)
    before = everything(desk.store)
    other = {
        "people": PEOPLE.replace("5550142", "5550143"),
        "devices": DEVICES.replace("2026-02-01", "2026-02-02"),
        "wear_reports": REPORTS.replace(",4,", ",6,"),
    }
    assert refused(desk, tmp_path, **other) == [
        "people:3:phone: is on record as something else, expected the same or a blank; to put the record"
        " right, use --amend REASON",
        "devices:2:delivered: is on record as 2026-02-01, expected the same or a blank; to put the record"
        " right, use --amend REASON",
        "wear_reports:3:hours: is on record as 4.0, expected the same or a blank; to put the record right, use"
        " --amend REASON",
    ]
    assert everything(desk.store) == before
    assert bring(desk, tmp_path, amend="typed wrongly", **other) == {
        "people": {"amended": 1, "same": 1},
        "devices": {"amended": 1},
        "wear_reports": {"amended": 1, "same": 1},
    }
    why = desk.store.all('SELECT "what", "why" FROM audit WHERE "why" <> \'\'')
    assert ("wear report", "typed wrongly") in why
    assert [row.body.hours for row in everything(desk.store).rows("wear_reports")] == [3.0, 6.0]


def test_what_was_struck_out_stays_so_and_a_row_may_strike_out(desk: Desk, tmp_path: Path) -> None:
    bring(desk, tmp_path, people=PEOPLE, devices=DEVICES, wear_reports=REPORTS)
    reports = desk.store.all('SELECT "id" FROM facts WHERE "kind" = \'wear report\' ORDER BY "seq"')
    facts.strike_out(desk, reports[0][0], 1, "another person's")
    assert bring(desk, tmp_path, wear_reports=REPORTS) == {"wear_reports": {"same": 2}}
    assert bring(desk, tmp_path, wear_reports=REPORTS.replace(",3,", ",9,")) == {
        "wear_reports": {"new": 1, "same": 1}
    }
    struck = "device,on,hours,struck_on,struck_reason\nD1,2026-02-10,4,2026-02-11,%s\n"
    assert refused(desk, tmp_path, wear_reports=struck % "") == [
        "wear_reports:2:struck_reason: is blank, expected why the row was struck out"
    ]
    assert bring(desk, tmp_path, wear_reports=struck % "twice") == {"wear_reports": {"completed": 1}}


@pytest.mark.parametrize(
    ("sheets", "problem"),
    [
        (
            {"devices": DEVICES.replace("P1", "P9")},
            "devices:2:person: 'P9' is no person of this workbook or on record, expected one that is",
        ),
        (
            {"adjustments": "request,on,outcome\nQ1,2026-02-03,done\n"},
            "adjustments:2:request: 'Q1' is no adjustment request of this workbook or on record,"
            " expected one that is",
        ),
        (
            {"falls": "person,on,devices_worn\nP2,2026-02-03,D1\n"},
            "falls:2:devices_worn: 'D1' is another person's device, expected one of 'P2'",
        ),
        (
            {"devices": DEVICES.replace("D1,P1", "D1,P2")},
            "devices:2:person: is on record as another's ('P1'), expected the same:"
            " strike the other out instead",
        ),
        (
            {"wear_reports": REPORTS.replace("2026-02-10,4", "2026-11-25,4")},
            "wear_reports:3:on: 2026-11-25 lies in the future, expected 2026-11-24 or earlier:"
            " only what has happened",
        ),
        (
            {"wear_plans": "device,on,plan\nD1,2026-02-02,standard\n"},
            "wear_plans:2:reason: A standard plan needs a reason, for sensation is not on record.",
        ),
        (
            {"changes": "person,on,what,to\nP1,2026-02-02,status,gone\n"},
            "changes:2:to: 'gone' is no status; it is one of: active, open access, discharged, moved, died.",
        ),
    ],
)
def test_what_does_not_fit_the_record_is_said(
    sheets: dict[str, str], problem: str, desk: Desk, tmp_path: Path
) -> None:
    bring(desk, tmp_path, people=PEOPLE, devices=DEVICES)
    before = everything(desk.store)
    assert problem in refused(desk, tmp_path, **sheets)
    assert everything(desk.store) == before


def test_facts_before_delivery_are_kept_with_a_warning(desk: Desk, tmp_path: Path) -> None:
    place = folder(
        tmp_path / "w", people=PEOPLE, devices=DEVICES, wear_reports=REPORTS.replace("02-10,3", "01-10,3")
    )
    assert load(desk, place).warnings == [
        "wear_reports:2:on: 2026-01-10 is before D1 was delivered on 2026-02-01; it is kept."
    ]


def test_an_area_that_is_none_of_the_clinics_is_warned_of_once(desk: Desk, tmp_path: Path) -> None:
    rows = ("12,Heel", "13,Heel", "13,heel", "14,elbow")
    looks = "device,on,area,how,skin\n" + "".join(f"D1,2026-02-{row},seen,clear\n" for row in rows)
    place = folder(tmp_path / "w", people=PEOPLE, devices=DEVICES, looks=looks)
    kept = "is not in the clinic's list of areas, and kept as a place of its own"
    assert load(desk, place).warnings == [
        f"looks:2:area: 'Heel' {kept}; did you mean 'heel'?",
        f"looks:5:area: 'elbow' {kept}",
    ]


def test_rows_that_hang_on_a_broken_row_are_not_problems_of_their_own(desk: Desk, tmp_path: Path) -> None:
    problems = refused(
        desk, tmp_path, people=PEOPLE.replace("P1,A", "P1,"), devices=DEVICES, wear_reports=REPORTS
    )
    assert problems == ["people:2:family_name: is blank, expected text"]


def test_checking_writes_nothing_and_says_what_would_be_owed(desk: Desk, tmp_path: Path) -> None:
    before = desk.store.all("SELECT COUNT(*) FROM audit")
    would = load(desk, EXAMPLE / "workbook", check=True).forecast
    assert would is not None
    assert everything(desk.store) == Workbook()
    assert desk.store.all("SELECT COUNT(*) FROM audit") == before
    load(desk, EXAMPLE / "workbook")
    states = [each.row.state(TODAY).value for each in listed(desk.store, TODAY)]
    assert would.states == {state: states.count(state) for state in ("missed", "late", "open", "waiting")}
    again = load(desk, EXAMPLE / "workbook", check=True).forecast
    assert again is not None
    assert (again.states, again.kinds, again.weeks) == (would.states, would.kinds, would.weeks)


def test_a_load_stopped_half_way_changes_nothing(desk: Desk) -> None:
    def stop(what: str, done: int, total: int) -> None:
        if what == "working out what is owed":
            raise Cancelled("Stopped; nothing was changed.")

    with pytest.raises(Cancelled):
        load(desk, EXAMPLE / "workbook", progress=stop)
    assert everything(desk.store) == Workbook()


@pytest.mark.parametrize("ending", ["", ".zip", ".xlsx"])
def test_a_dumped_caseload_loads_as_the_same(ending: str, desk: Desk, tmp_path: Path) -> None:
    load(desk, EXAMPLE / "workbook")
    (first,) = desk.store.all('SELECT "id" FROM facts WHERE "kind" = \'contact\' LIMIT 1')
    facts.strike_out(desk, first[0], 1, "=typed twice")
    dump(desk.store, tmp_path / f"all{ending}")
    with open_store(str(tmp_path / "other.db"), create=True, holidays="GB-ENG") as other:
        load(Desk(other, "somebody else", date(2026, 11, 25)), tmp_path / f"all{ending}")
        assert everything(other) == everything(desk.store)
        rows = 'SELECT "person", "device", "kind", "cause", "started", "due", "done", "tier" FROM follow_ups'
        assert sorted(map(str, other.all(rows))) == sorted(map(str, desk.store.all(rows)))


REFERENCES = st.sampled_from(["P1", "=P2", "'3", "Å;4", "[b]5"])


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    people=st.lists(
        st.builds(
            Person,
            person=REFERENCES,
            family_name=TEXTS.filter(str.strip),
            given_name=TEXTS.filter(str.strip),
            note=TEXTS,
            days=st.just(("mon", "tue-am")),
        ),
        min_size=1,
        max_size=3,
        unique_by=lambda p: p.person,
    ),
    hours=st.lists(st.tuples(st.dates(date(2026, 2, 1), TODAY), st.floats(0, 24), TEXTS), max_size=4),
    ending=st.sampled_from(["", ".zip", ".xlsx"]),
)
def test_any_caseload_survives_being_dumped_and_loaded(
    people: list[Person],
    hours: list[tuple[date, float, str]],
    ending: str,
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    place = tmp_path_factory.mktemp("any")
    device = Device(
        device="=D;1", person=people[0].person, side="left", orthosis="AFO", delivered=date(2026, 2, 1)
    )
    reports = [
        FactRow(
            "=D;1",
            on,
            WearReport(hours=worn),
            "09:30",
            text,
            text,
            TODAY,
            struck,
            text if struck else "",
            "why",
        )
        if struck
        else FactRow("=D;1", on, WearReport(hours=worn), "", text or "x", text, TODAY)
        for number, (on, worn, text) in enumerate(hours)
        for struck in [TODAY if number % 2 else None]
    ]
    book = Workbook(
        {
            "people": [TableRow(person) for person in people],
            "devices": [TableRow(device)],
            "wear_reports": reports,
        }
    )
    workbook.write(book, place / "first.zip")
    with (
        open_store(":memory:", create=True, holidays="") as one,
        open_store(":memory:", create=True, holidays="") as two,
    ):
        load(Desk(one, "me", TODAY), place / "first.zip")
        dump(one, place / f"second{ending}")
        load(Desk(two, "you", TODAY), place / f"second{ending}")
        assert everything(two) == everything(one)
    assert {row.record.note for row in everything_of(place / f"second{ending}").rows("people")} == {
        p.note for p in people
    }


def everything_of(path: Path) -> Workbook:
    return workbook.read(path)[0]


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_names_are_kept_as_typed(text: str, desk: Desk, tmp_path: Path) -> None:
    book = Workbook({"people": [TableRow(Person(person="P1", family_name=text, given_name=text, note=text))]})
    workbook.write(book, tmp_path / "h.zip")
    load(desk, tmp_path / "h.zip")
    assert everything(desk.store) == book
