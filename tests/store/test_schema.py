"""The tables are what the migrations make, and the planner uses the indexes they were made for."""

from datetime import date
from typing import Any

import pytest
from playhouse.schema_diff import diff_models

from caseload.acts import facts
from caseload.acts.desk import Desk
from caseload.acts.facts import Draft
from caseload.errors import CaseloadError
from caseload.store import cases, open_store, owed, people, tables
from caseload.store.store import Store
from tests.store.databases import TODAY, someone


def test_tables_and_migrations_agree(store: Store) -> None:
    with store.db.bind_ctx(tables.ALL):
        difference = diff_models(store.db, tables.ALL)
    assert not difference.create_tables and not difference.add_columns and not difference.drop_columns
    for table in tables.ALL:
        columns = {column.name: column for column in store.db.get_columns(table._meta.table_name)}
        for field in table._meta.sorted_fields:
            made = columns[field.column_name]
            assert made.null == field.null, (table, field.name)
            wanted = "date" if field.field_type == "DATE" else None
            assert wanted is None or made.data_type.lower() == wanted, (table, field.name)


def _plans(store: Store, monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, str]]:
    """(query, plan) of every query run from now on."""
    seen: list[tuple[str, str]] = []
    real = Store.all

    def explained(self: Store, sql: str, *values: Any) -> list[Any]:
        plan = real(self, f"EXPLAIN QUERY PLAN {sql}", *values)
        seen.append((sql, "; ".join(row[-1] for row in plan)))
        return real(self, sql, *values)

    monkeypatch.setattr(Store, "all", explained)
    monkeypatch.setattr(
        Store, "one", lambda self, sql, *values: next(iter(explained(self, sql, *values)), None)
    )
    return seen


def test_lists_are_read_through_their_indexes(quick: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    someone(quick)
    store = quick.store
    plans = _plans(store, monkeypatch)
    owed.week(store, ["imogen"], TODAY, date(2026, 12, 31))
    later, own, sites, _, first = [plan for _, plan in plans]
    assert "USING INDEX follow_ups_of_clinician (clinician=? AND owed_until>?)" in own
    assert "follow_ups_of_site (site=? AND tier=? AND owed_until>?)" in first
    assert "INDEX people_of_clinician (clinician_now=?" in sites
    assert "INDEX facts_changes (on>?)" in later
    assert not any("SCAN f" in plan for plan in (own, first))
    plans.clear()
    owed.counts(store, ["imogen"], TODAY, date(2026, 12, 31))
    owed.of_person(store, "P1")
    cases.case(store, "P1")
    cases.facts_of_kind(store, "pause")
    people.in_no_clock(store, ["imogen"])
    counts, rows, person, devices, kept, pauses, nobody = [plan for _, plan in plans]
    assert "USING COVERING INDEX follow_ups_of_clinician (clinician=? AND owed_until>?)" in counts
    assert "follow_ups_person_due (person=?)" in rows and "TEMP B-TREE" not in rows.replace("LAST TERM", "")
    assert "(person=?)" in person and "(person=?)" in devices
    assert "facts_person_seq (person=?)" in kept and "TEMP B-TREE" not in kept
    assert "facts_pauses" in pauses
    assert "people_of_clinician" in nobody and "SCAN f" not in nobody


def test_what_is_missed_is_found_by_its_last_day(quick: Desk) -> None:
    plan = quick.store.all(
        "EXPLAIN QUERY PLAN SELECT person FROM follow_ups WHERE last_day < ? AND owed_until = '9999-12-31'",
        TODAY.isoformat(),
    )
    assert "follow_ups_last_day (last_day<?)" in plan[0][-1]


@pytest.mark.parametrize("sql", ["UPDATE audit SET who = 'sam'", "DELETE FROM audit"])
def test_the_audit_is_only_ever_added_to(desk: Desk, sql: str) -> None:
    someone(desk)
    before = desk.store.all("SELECT * FROM audit ORDER BY id")
    with pytest.raises(Exception, match="only ever added to"):
        desk.store.run(sql)
    assert desk.store.all("SELECT * FROM audit ORDER BY id") == before


def test_a_fact_needs_its_person_and_device(desk: Desk) -> None:
    someone(desk)
    facts.record(desk, [Draft("fall", TODAY, {}, person="P1")])
    with pytest.raises(Exception, match=r"(?i)foreign key"):
        desk.store.run("DELETE FROM people WHERE person = 'P1'")
    with pytest.raises(Exception, match=r"(?i)foreign key"):
        desk.store.run("UPDATE facts SET device = 'P9-L'")


def test_queries_can_be_built_from_the_tables(desk: Desk) -> None:
    someone(desk)
    rows = desk.store.tables.FollowUps
    query = rows.select(rows.kind).where(rows.due <= date(2026, 11, 2)).order_by(rows.due.asc(nulls="LAST"))
    assert desk.store.query(query) == [("fit check",)]
    with pytest.raises(TypeError, match="a date expected"):
        desk.store.query(rows.select(rows.kind).where(rows.due <= "tomorrow"))


def test_another_window_that_saves_is_waited_for_and_said(file: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("caseload.store.engines._BUSY_SECONDS", 0.1)
    with open_store(file) as one, open_store(file) as other, one.change():
        assert other.all("SELECT * FROM people") == []
        with pytest.raises(CaseloadError, match="Another window is saving"), other.change():
            raise AssertionError("two writers at once")
