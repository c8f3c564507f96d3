"""What goes in comes out, for every record; what is no date, text or number does not go in."""

import json
from datetime import UTC, date, datetime, timedelta, timezone
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from caseload.records import sheets
from caseload.records.columns import Column, Kind, columns
from caseload.records.facts import KINDS, Fact
from caseload.store import fields, values
from caseload.store.folding import fold
from caseload.store.mapping import fact_of, fact_row, from_row, record_of, said, to_row

_texts = st.text(st.characters(exclude_characters="\x00", exclude_categories=("Cs",)), max_size=30)
_DAYS = st.dates(date(1900, 1, 1), date(2200, 1, 1))


def _values(column: Column) -> st.SearchStrategy[Any]:
    made: st.SearchStrategy[Any] = {
        Kind.DAY: _DAYS,
        Kind.YES_NO: st.booleans(),
        Kind.WHOLE: st.integers(1, 100),
        Kind.NUMBER: st.floats(0, 100),
        Kind.WORDS: st.lists(st.sampled_from(column.words or ("x",)), min_size=1).map(tuple),
        Kind.LIST: st.lists(_texts.filter(bool), min_size=1).map(tuple),
        Kind.WORD: st.sampled_from(column.words or ("x",)),
    }.get(column.kind, _texts.filter(bool))
    if column.required:
        return made
    blank = () if column.kind in (Kind.WORDS, Kind.LIST) else None
    if column.kind in (Kind.TEXT, Kind.WORD, Kind.OPEN_WORD, Kind.TIME):
        blank = ""  # type: ignore[assignment]
    return st.just(blank) | made


def _records(record: type[Any]) -> st.SearchStrategy[Any]:
    return st.builds(record, **{column.name: _values(column) for column in columns(record)})


@pytest.mark.parametrize("sheet", [sheet for sheet in sheets.SHEETS if not sheet.fact], ids=lambda s: s.name)
def test_rows_of_tables(sheet: sheets.Sheet) -> None:
    @given(_records(sheet.record))
    def both_ways(record: Any) -> None:
        assert from_row(sheet.record, to_row(record)) == record
        assert record_of(sheet.record, json.loads(values.to_json(said(record)))) == record

    both_ways()


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_facts(kind: Any) -> None:
    @given(_records(kind.body), _DAYS, _texts)
    def both_ways(body: Any, on: date, note: str) -> None:
        fact = Fact("id", kind.name, "P1", None, on, body, 3, "09:30", "sam", note, on, None, "", "", 2)
        assert fact_of(fact_row(fact)) == fact

    both_ways()


@pytest.mark.parametrize("wrong", ["2026-01-01", datetime(2026, 1, 1), 20260101, "not a date"])
def test_only_a_date_is_a_date(wrong: Any) -> None:
    with pytest.raises(TypeError):
        values.iso_day(wrong)
    with pytest.raises(TypeError):
        fields.Day().db_value(wrong)


def test_instants_are_aware_and_come_back_in_utc() -> None:
    field = fields.Instant()
    there = datetime(2026, 3, 29, 0, 30, tzinfo=timezone(timedelta(hours=-4)))
    kept = field.db_value(there)
    assert kept == "2026-03-29T04:30:00+00:00"
    assert field.python_value(kept) == there and field.python_value(kept).tzinfo is UTC
    assert field.python_value(there).tzinfo is UTC
    with pytest.raises(ValueError, match="time zone"):
        field.db_value(datetime(2026, 3, 29))


def test_text_is_text_and_a_flag_a_flag() -> None:
    with pytest.raises(TypeError):
        fields.Text().db_value(5)
    assert [fields.Flag().db_value(value) for value in (True, False, None)] == [1, 0, None]
    assert [fields.Flag().python_value(value) for value in (1, 0, None)] == [True, False, None]


@pytest.mark.parametrize(
    ("text", "folded"),
    [
        ("Åsa LINDQVIST", "asa lindqvist"),
        ("Øyvind  Łukasz", "oyvind lukasz"),
        ("Straße", "strasse"),
        ("Dvořák, Nguyễn", "dvorak, nguyen"),
        ("I\u0307stanbul", "istanbul"),
        ("Σίσυφος", "σισυφοσ"),
        ("李 明", "李 明"),
    ],
)
def test_folding(text: str, folded: str) -> None:
    assert fold(text) == folded
