"""The stored ledger is what a full rebuild gives, whatever was done, and by whom."""

from collections import Counter
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caseload.acts import clinic, devices, facts, people, protocol, undo
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.errors import CaseloadError
from caseload.rules.ledger import follow_ups
from caseload.rules.protocol import shipped_text
from caseload.store import cases, ledger, open_store, owed, working_out
from caseload.store import people as reads
from caseload.store.store import Store
from tests.store.databases import TODAY, someone


def _worked_out(store: Store) -> Counter[Any]:
    return Counter(
        row for batch in cases.cases(store) for case in batch for row in follow_ups(case, store.rulebooks)
    )


def _stored(store: Store) -> Counter[Any]:
    return Counter(each.row for each in owed.listed(store, TODAY, ended_too=True))


def _ids(store: Store) -> list[Any]:
    return store.all("SELECT id FROM follow_ups ORDER BY id")


def test_rows_that_do_not_change_are_left_where_they_are(desk: Desk) -> None:
    someone(desk, "P1")
    someone(desk, "P2")
    before = set(_ids(desk.store))
    facts.record(desk, [Draft("fit check", TODAY, {"overall": "accepted"}, device="P1-L")])
    after = set(_ids(desk.store))
    assert len(before - after) == 1 and len(after - before) == 1
    with desk.store.change():
        assert ledger.rebuild_all(desk.store) == 0
    assert set(_ids(desk.store)) == after


def test_a_rebuild_mends_whatever_was_done_to_the_rows(desk: Desk) -> None:
    someone(desk, "P1")
    someone(desk, "P2")
    want = _stored(desk.store)
    with desk.store.change():
        desk.store.run("UPDATE follow_ups SET due = '2020-01-01' WHERE person = 'P1'")
        desk.store.run("DELETE FROM follow_ups WHERE person = 'P2' AND kind = 'fit check'")
    assert _stored(desk.store) != want
    with desk.store.change():
        ledger.rebuild_all(desk.store)
    assert _stored(desk.store) == want == _worked_out(desk.store)


@pytest.mark.parametrize("worth_forking", [1000, 1])
def test_cases_from_memory_give_the_same_rows(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, worth_forking: int
) -> None:
    """In this process, and in forked ones beside an open transaction."""
    monkeypatch.setattr(working_out, "_WORTH_FORKING", worth_forking)
    monkeypatch.setattr(working_out, "BATCH", 2)
    for number in range(3):
        someone(desk, f"P{number}")
    want = _stored(desk.store)
    every = [case for batch in cases.cases(desk.store) for case in batch]
    told: list[tuple[int, int]] = []
    with desk.store.change(), working_out.batches(every, desk.store.rulebooks) as worked:
        desk.store.run("DELETE FROM follow_ups")
        ledger.write_new(desk.store, worked, 3, lambda done, total: told.append((done, total)))
    assert _stored(desk.store) == want
    assert told[-1] == (3, 3)


def test_another_holiday_region_is_another_ledger(place: str) -> None:
    with open_store(place, holidays="GB-ENG") as english:
        desk = Desk(english, "imogen", TODAY)
        someone(desk)
        # Five weeks of pause: what was due in it is due two working days after it, past Christmas.
        facts.record(
            desk,
            [
                Draft(
                    "pause", date(2026, 11, 14), {"until": date(2026, 12, 23), "reason": "abroad"}, person="P1"
                )
            ],
        )
        want = _stored(english)
        assert date(2026, 12, 29) in {row.due for row in want}
    with open_store(place, holidays="US") as american:
        assert american.rulebooks[0].calendar.region == "US"
        assert _stored(american) == _worked_out(american)
        assert date(2026, 12, 28) in {row.due for row in _stored(american)}
    with open_store(place, holidays="GB-ENG") as english:
        assert _stored(english) == want


_DAYS = st.integers(0, 40).map(lambda back: TODAY - timedelta(days=back))
_PERSON = st.sampled_from(["P1", "P2"])
_SKINS = st.sampled_from(["clear", "mark", "blister"])


def _device_draft(kind: str, **values: Any) -> st.SearchStrategy[Any]:
    return st.tuples(
        st.just("record"),
        st.builds(
            lambda person, on, said: Draft(kind, on, said, device=f"{person}-L"),
            _PERSON,
            _DAYS,
            st.fixed_dictionaries(values),
        ),
    )


def _person_draft(kind: str, **values: Any) -> st.SearchStrategy[Any]:
    return st.tuples(
        st.just("record"),
        st.builds(
            lambda person, on, said: Draft(kind, on, said, person=person),
            _PERSON,
            _DAYS,
            st.fixed_dictionaries(values),
        ),
    )


_ACTS = st.one_of(
    _device_draft("fit check", overall=st.sampled_from(["accepted", "needs adjustment", "not to be worn"])),
    _device_draft("look", area=st.just("heel"), how=st.sampled_from(["seen", "told"]), skin=_SKINS),
    _device_draft("wear plan", plan=st.just("gentle")),
    _device_draft("wear report", hours=st.floats(0, 10)),
    _device_draft("practice", who=st.just("wearer"), don=st.just("06"), doff=st.just("06")),
    _device_draft("reassessment", decision=st.just("continue")),
    _device_draft("trajectory", trajectory=st.sampled_from(["stable", "declining"])),
    _device_draft("away", reason=st.just("strap")),
    _person_draft("fall", hurt=st.booleans()),
    _person_draft("contact", how=st.just("phone"), outcome=st.sampled_from(["reached", "did not attend"])),
    _person_draft("pause", until=st.just(TODAY + timedelta(days=9)), reason=st.just("abroad")),
    _person_draft(
        "change",
        what=st.just("status"),
        to=st.sampled_from(["active", "discharged"]),
        reason=st.just("x"),
    ),
    _person_draft("change", what=st.just("sensation"), to=st.sampled_from(["intact", "absent"])),
    st.tuples(st.sampled_from(["strike out", "undo", "end device", "close", "protocol"]), st.integers(0, 30)),
)


def _do(desk: Desk, act: str, what: Any) -> None:
    store = desk.store
    if act == "record":
        facts.record(desk, [what])
    elif act == "undo":
        undo.undo_last(desk)
    elif act == "close":
        clinic.add_closure(desk, {"on": TODAY + timedelta(days=what), "site": "Harbour" if what % 2 else None})
    elif act == "protocol":
        first = TODAY + timedelta(days=what - 20)
        text = shipped_text().replace("first_day = 1900-01-01", f"first_day = {first}")
        protocol.use(desk, text.replace('due = "7 days"', 'due = "9 days"'))
    elif act == "end device":
        device = reads.device(store, "P2-L")
        devices.edit(desk, "P2-L", device[1], {"ended": TODAY - timedelta(days=what)})
    else:
        rows = store.all('SELECT "id", "version" FROM facts WHERE "struck_on" IS NULL ORDER BY "seq"')
        if rows:
            facts.strike_out(desk, *rows[what % len(rows)], "wrong")


@settings(max_examples=25, deadline=None)
@given(st.lists(_ACTS, max_size=12))
def test_whatever_is_done_the_ledger_is_a_full_rebuild(acts: list[tuple[str, Any]]) -> None:
    with open_store("nothing on disk") as store:
        desk = Desk(store, "imogen", TODAY)
        someone(desk, "P1")
        someone(desk, "P2", clinician="sam")
        for act, what in acts:
            try:
                _do(desk, act, what)
            except CaseloadError:
                continue  # refused: and then nothing has changed, which is what is asked next
            finally:
                assert _stored(store) == _worked_out(store)


def test_the_order_of_entry_does_not_matter(quick: Desk) -> None:
    someone(quick, "P1")
    someone(quick, "P2")
    days = [date(2026, 11, day) for day in (3, 9, 12, 18)]
    for person, order in (("P1", days), ("P2", days[::-1])):
        for day in order:
            look = {"area": "heel", "how": "seen", "skin": "clear" if day.day == 18 else "mark"}
            facts.record(quick, [Draft("look", day, look, device=f"{person}-L")])

    def rows(person: str) -> list[Any]:
        kept = owed.of_person(quick.store, person)
        return sorted((row.kind, row.started, row.due, row.done or date.max, row.cause) for row in kept)

    assert rows("P1") == rows("P2")


def test_who_has_gone_keeps_their_place_in_no_list(quick: Desk) -> None:
    someone(quick)
    people.change(quick, "P1", TODAY, "status", "died")
    assert owed.listed(quick.store, TODAY) == []


@pytest.mark.parametrize("failing", ["ledger", "audit"])
def test_an_act_that_fails_half_way_leaves_nothing(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, failing: str
) -> None:
    someone(desk)
    before = desk.store.all("SELECT COUNT(*) FROM facts UNION ALL SELECT COUNT(*) FROM audit")

    def fail(*_: Any) -> None:
        raise RuntimeError("pulled the plug")

    target = "caseload.store.ledger.rebuild" if failing == "ledger" else "caseload.store.work.iso_instant"
    monkeypatch.setattr(target, fail)
    with pytest.raises(RuntimeError):
        facts.record(desk, [Draft("fall", TODAY, {}, person="P1")])
    monkeypatch.undo()
    assert desk.store.all("SELECT COUNT(*) FROM facts UNION ALL SELECT COUNT(*) FROM audit") == before
    facts.record(desk, [Draft("fall", TODAY, {}, person="P1")])
