"""A workbook written and read again says the same, whatever holds it and whatever its texts are."""

from __future__ import annotations

import csv
import stat
import tempfile
import zipfile
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from caseload.exchange import workbook
from caseload.exchange.problems import Wrong
from caseload.exchange.quoting import join_list, protect, split_list, unprotect
from caseload.exchange.told import TableRow
from caseload.exchange.workbook import Workbook
from caseload.exchange.xlsx_tables import escape, unescape
from caseload.records.people import Person
from caseload.records.sheets import SHEETS
from tests.exchange.making import HOSTILE, TEXTS, workbooks

ENDINGS = ("", ".zip", ".xlsx")
SLOW = settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))


@pytest.mark.parametrize("ending", ENDINGS)
@SLOW
@given(book=workbooks())
def test_what_is_written_is_read_again(ending: str, book: Workbook) -> None:
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / f"book{ending}"
        workbook.write(book, path)
        again, problems = workbook.read(path)
        assert problems == []
        assert again == book


@pytest.mark.parametrize("ending", ENDINGS)
def test_every_hostile_text_comes_back(ending: str, tmp_path: Path) -> None:
    people = [
        TableRow(Person(person=f"P{n}", family_name=text, given_name=text, note=text))
        for n, text in enumerate(HOSTILE)
    ]
    book = Workbook({"people": people})
    workbook.write(book, tmp_path / f"b{ending}")
    assert workbook.read(tmp_path / f"b{ending}") == (book, [])


@pytest.mark.parametrize("text", [t for t in HOSTILE if t[0] in "=+-@"])
def test_no_formula_is_written_live(text: str, tmp_path: Path) -> None:
    import openpyxl

    book = Workbook({"people": [TableRow(Person(person="P1", family_name=text, given_name="A"))]})
    workbook.write(book, tmp_path / "folder")
    workbook.write(book, tmp_path / "book.xlsx")
    with (tmp_path / "folder" / "people.csv").open(encoding="utf-8", newline="") as file:
        assert not any(cell[:1] in tuple("=+-@") for line in csv.reader(file) for cell in line)
    opened = openpyxl.load_workbook(tmp_path / "book.xlsx")
    assert {cell.data_type for line in opened["people"].iter_rows(min_row=2) for cell in line} <= {"s", "n"}
    with zipfile.ZipFile(tmp_path / "book.xlsx") as archive:
        assert not any(b"<f" in archive.read(n) for n in archive.namelist() if "worksheets/" in n)


@given(TEXTS)
def test_protecting_a_text_is_undone_exactly(text: str) -> None:
    assert unprotect(protect(text)) == text
    assert unescape(escape(text)) == text


@pytest.mark.parametrize("typed", ["'s-Hertogenbosch", "O'Brien", "a '", "plain", '5" strap'])
def test_what_people_type_with_apostrophes_is_kept(typed: str) -> None:
    assert unprotect(f" {typed} ") == typed


@given(st.lists(st.text("a;\\ b", min_size=1).map(str.strip).filter(bool)).map(tuple))
def test_lists_come_back(entries: tuple[str, ...]) -> None:
    assert split_list(join_list(entries)) == entries


def test_files_are_private_and_an_empty_workbook_shows_every_sheet(tmp_path: Path) -> None:
    workbook.write(Workbook(), tmp_path / "out")
    workbook.write(Workbook(), tmp_path / "out.zip")
    files = list((tmp_path / "out").iterdir())
    assert {f.stem for f in files} == {sheet.name for sheet in SHEETS}
    assert {stat.S_IMODE(f.stat().st_mode) for f in [*files, tmp_path / "out.zip"]} == {0o600}
    assert stat.S_IMODE((tmp_path / "out").stat().st_mode) == 0o700
    assert workbook.read(tmp_path / "out") == (Workbook(), [])


def test_writing_twice_replaces_a_workbook_but_nothing_else(tmp_path: Path) -> None:
    for path in (tmp_path / "out", tmp_path / "out.zip"):
        workbook.write(Workbook(), path)
        workbook.write(Workbook(), path)
    (tmp_path / "out" / "thesis.doc").touch()
    (tmp_path / "letter").touch()
    (tmp_path / "folder.zip").mkdir()
    with pytest.raises(Wrong, match="holds other files, expected an empty or a new one"):
        workbook.write(Workbook(), tmp_path / "out")
    with pytest.raises(Wrong, match="is a file, expected a new folder"):
        workbook.write(Workbook(), tmp_path / "letter")
    with pytest.raises(Wrong, match=r"is a folder, expected the name of a \.zip file"):
        workbook.write(Workbook(), tmp_path / "folder.zip")


def test_a_text_too_long_for_an_xlsx_is_refused_and_leaves_no_file(tmp_path: Path) -> None:
    person = Person(person="P1", family_name="A", given_name="B", note="y" * 40_000)
    book = Workbook({"people": [TableRow(person)]})
    with pytest.raises(Wrong, match=r"people:2:note: holds more than the 32,767 .* ending in \.zip"):
        workbook.write(book, tmp_path / "out.xlsx")
    assert list(tmp_path.iterdir()) == []
    workbook.write(book, tmp_path / "out.zip")
    assert workbook.read(tmp_path / "out.zip")[0] == book


def test_days_of_an_xlsx_are_real_dates(tmp_path: Path) -> None:
    import openpyxl

    person = Person(person="P1", family_name="A", given_name="B", born=date(1900, 2, 28))
    workbook.write(Workbook({"people": [TableRow(person)]}), tmp_path / "b.xlsx")
    cells = next(openpyxl.load_workbook(tmp_path / "b.xlsx")["people"].iter_rows(min_row=2))
    assert any(cell.is_date for cell in cells)
    assert workbook.read(tmp_path / "b.xlsx")[0].rows("people")[0].record == person
