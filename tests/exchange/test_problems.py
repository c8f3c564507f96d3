"""What spreadsheets really hold: taken where the meaning is clear, else said with sheet, row and column."""

from __future__ import annotations

import zipfile
from datetime import date, datetime, time
from pathlib import Path

import pytest

from caseload.exchange import tables, workbook
from tests.exchange.making import folder

PEOPLE = "person,family_name,given_name\nP1,Lindqvist,Åsa\n"
DEVICES = "device,person,side,orthosis\nD1,P1,left,AFO\n"


def said(place: Path, **more: str) -> list[str]:
    """The problems of a workbook as its user reads them."""
    return [str(problem) for problem in workbook.read(place, **more)[1]]  # type: ignore[arg-type]


def of(tmp_path: Path, name: str, text: str) -> list[str]:
    return said(folder(tmp_path / "w", **{name: text}))


@pytest.mark.parametrize(
    ("sheet", "text", "problem"),
    [
        ("peeple", "person\nP1\n", "peeple: is not the name of a sheet; did you mean 'people'?"),
        (
            "people",
            "person,family_name,given_name,langauge\nP1,A,B,de\n",
            "people:1:langauge: is not the name of a column here; did you mean 'language'?",
        ),
        (
            "people",
            "person,given_name\nP1,B\n",
            "people:1:family_name: is missing, expected this column: text",
        ),
        (
            "people",
            "person,person,family_name,given_name\nP1,P1,A,B\n",
            "people:1:person: is there twice, expected one column of that name",
        ),
        ("people", "person,family_name,given_name\nP1,,B\n", "people:2:family_name: is blank, expected text"),
        (
            "people",
            "person,family_name,given_name\nP1,A,B\n\nP1,C,D\n",
            "people:4:person: 'P1' stands in row 2 already, expected each only once",
        ),
        (
            "people",
            "person,family_name,given_name\nP1,A,B,extra\n",
            "people:2: holds a cell beyond the last heading, expected no more cells than headings",
        ),
        (
            "people",
            "person,,family_name,given_name\nP1,x,A,B\n",
            "people:2:column 2: holds something under no heading, expected a heading in the first row or an"
            " empty column",
        ),
        ("people", "", "people: is empty, expected a first row with the names of the columns"),
        (
            "people",
            'person,family_name,given_name\nP1,"A,B\nP2,C,D\n',
            "people:2: quotation marks do not match, expected each opening one to be"
            " closed before the next comma",
        ),
        (
            "people",
            "person,family_name,given_name\nP1,A\x00,B\n",
            "people:2:family_name: holds a zero character, which no database keeps, expected text that"
            " can be kept",
        ),
        (
            "people",
            f"person,family_name,given_name,note\nP1,A,B,{'y' * 100_001}\n",
            "people:2:note: is longer than 100000 characters, expected text that can be kept",
        ),
        (
            "devices",
            "device,person,side,orthosis\nD1,P1,lft,AFO\n",
            "devices:2:side: 'lft' is not a word for this column, expected one of: left, right;"
            " did you mean 'left'?",
        ),
        (
            "devices",
            "device,person,side,orthosis,delivered\nD1,P1,left,AFO,2026-02-30\n",
            "devices:2:delivered: '2026-02-30' is a day that does not exist, expected a date like 2026-02-01",
        ),
        (
            "devices",
            "device,person,side,orthosis,delivered\nD1,P1,left,AFO,1/2/2026\n",
            "devices:2:delivered: '1/2/2026' may be two different days, expected a date like 2026-02-01; if the"
            " whole workbook is written so, load it with --dates dmy or --dates mdy",
        ),
        (
            "devices",
            "device,person,side,orthosis,delivered\nD1,P1,left,AFO,1/2/26\n",
            "devices:2:delivered: '1/2/26' has a year of two digits, expected four: 2026-02-01",
        ),
        (
            "devices",
            "device,person,side,orthosis,delivered\nD1,P1,left,AFO,46054\n",
            "devices:2:delivered: '46054' is a number, expected a date like 2026-02-01: format the"
            " column as dates",
        ),
        (
            "devices",
            "device,person,side,orthosis,delivered\nD1,P1,left,AFO,soon\n",
            "devices:2:delivered: 'soon' is no date, expected one like 2026-02-01",
        ),
        (
            "devices",
            "device,person,side,orthosis,delivered\nD1,P1,left,AFO,0202-02-01\n",
            "devices:2:delivered: '0202-02-01' is outside 1900 to 2199, expected a date like 2026-02-01",
        ),
        (
            "devices",
            "device,person,side,orthosis,life_months\nD1,P1,left,AFO,3.5\n",
            "devices:2:life_months: '3.5' is not a whole number, expected a whole number from 1 to 240 months",
        ),
        (
            "wear_reports",
            "device,on,hours\nD1,2026-02-01,25\n",
            "wear_reports:2:hours: '25' is out of range, expected a number from 0 to 24 h",
        ),
        (
            "wear_reports",
            'device,on,hours\nD1,2026-02-01,"2,5"\n',
            "wear_reports:2:hours: '2,5' is not a number, expected a number from 0 to 24 h written with"
            " a point: 2.5",
        ),
        (
            "wear_reports",
            "device,on,hours\nD1,2026-02-01,=1+1\n",
            "wear_reports:2:hours: '=1+1' is not a number, expected a number from 0 to 24 h",
        ),
        (
            "falls",
            "person,on,hurt\nP1,2026-02-01,maybe\n",
            "falls:2:hurt: 'maybe' is not understood, expected yes or no",
        ),
        (
            "contacts",
            "person,on,at,how,outcome\nP1,2026-02-01,25:00,phone,reached\n",
            "contacts:2:at: '25:00' is no time, expected one like 09:30",
        ),
        (
            "practices",
            "device,on,who,don,doff\nD1,2026-02-01,wearer,6,8\n",
            "practices:2:doff: '8' is not a word for this column, expected one of: 06, 05, 04, 03, 02, 01, 07,"
            " 09, 10, 88; did you mean '88'?",
        ),
        (
            "looks",
            "device,on,area,how,skin,signs\nD1,2026-02-01,heel,seen,clear,numbness; infektion\n",
            "looks:2:signs: 'infektion' is not a word for this column, expected any of: infection, numbness,"
            " weakness, calf swelling, cold or pale, hot swollen foot, firm or warm; did you mean 'infection'?",
        ),
    ],
)
def test_each_problem_has_its_place_and_its_sentence(
    sheet: str, text: str, problem: str, tmp_path: Path
) -> None:
    assert of(tmp_path, sheet, text) == [problem]


def test_all_problems_are_told_at_once(tmp_path: Path) -> None:
    place = folder(
        tmp_path / "w",
        people="person,family_name,given_name,born\nP1,A,B,1/2/1950\nP1,,C,1950-13-01\n",
        devices="device,person,side,orthosis,colour\nD1,P1,up,AFO,red\n",
        closure="on\n2026-01-01\n",
    )
    places = [text.split(": ")[0] for text in said(place)]
    assert places == [
        "closure",
        "people:2:born",
        "people:3:family_name",
        "people:3:born",
        "devices:1:colour",
        "devices:2:side",
    ]


@pytest.mark.parametrize(("order", "expected"), [("dmy", date(1950, 2, 1)), ("mdy", date(1950, 1, 2))])
def test_a_told_order_of_dates_is_followed(order: str, expected: date, tmp_path: Path) -> None:
    place = folder(
        tmp_path / "w", people="person,family_name,given_name,born\nP1,A,B,1/2/1950\nP2,C,D,1950-03-04\n"
    )
    book, problems = workbook.read(place, order)  # type: ignore[arg-type]
    assert problems == []
    assert [row.record.born for row in book.rows("people")] == [expected, date(1950, 3, 4)]


@pytest.mark.parametrize(
    "raw",
    [
        PEOPLE.encode(),
        b"\xef\xbb\xbf" + PEOPLE.encode(),
        PEOPLE.replace(",", ";").encode(),
        PEOPLE.replace(",", "\t").encode("utf-16"),
        PEOPLE.encode("cp1252"),
        ("sep=;\r\n" + PEOPLE.replace(",", ";").replace("\n", "\r\n")).encode(),
        PEOPLE.replace("\n", "\r").encode(),
        PEOPLE.replace(",", " , ").replace("\n", "  \n\n , ,\n").encode(),
        PEOPLE.replace("person,family_name", "\n Person* ,FAMILY NAME").encode(),
        PEOPLE.replace("Åsa", '"Åsa"').encode(),
    ],
)
def test_what_spreadsheets_write_is_understood(raw: bytes, tmp_path: Path) -> None:
    (tmp_path / "People.CSV").write_bytes(raw)
    book, problems = workbook.read(tmp_path)
    assert problems == []
    (row,) = book.rows("people")
    assert (row.record.person, row.record.family_name, row.record.given_name) == ("P1", "Lindqvist", "Åsa")


def test_windows_1252_is_read_and_said(tmp_path: Path) -> None:
    (tmp_path / "people.csv").write_bytes(PEOPLE.encode("cp1252"))
    assert workbook.read(tmp_path)[0].warnings == [
        "people: is not UTF-8 and was read as Windows-1252; look at names with accents"
    ]
    (tmp_path / "people.csv").write_bytes(b"person,family_name,given_name\nP1,\x81,B\n")
    assert said(tmp_path) == [
        "people: is not text in UTF-8 or Windows-1252, expected one of them: save it as CSV UTF-8"
    ]


def test_numbers_of_other_lands_and_numbers_that_were_words(tmp_path: Path) -> None:
    place = folder(
        tmp_path / "w",
        wear_reports="device;on;hours;skin\nD1;2026-02-01;2,5;Clear\n",
        practices="device,on,who,don,doff,minutes\nD1,2026-02-01,wearer,6,5.0,15.0\n",
        people="person,family_name,given_name,foot_risk,circulation_concern\nP1,A,B,2.0,TRUE\n",
    )
    book, problems = workbook.read(place)
    assert problems == []
    assert book.rows("wear_reports")[0].body.hours == 2.5
    practice = book.rows("practices")[0].body
    assert (practice.don, practice.doff, practice.minutes) == ("06", "05", 15)
    person = book.rows("people")[0].record
    assert (person.foot_risk, person.circulation_concern) == ("2", "yes")


def test_text_that_looks_like_a_formula_is_text(tmp_path: Path) -> None:
    place = folder(tmp_path / "w", people="person,family_name,given_name,note\nP1,A,B,=1+1\n")
    assert workbook.read(place)[0].rows("people")[0].record.note == "=1+1"


def _xlsx(path: Path, **sheets: list[list[object]]) -> Path:
    import openpyxl

    book = openpyxl.Workbook()
    book.active.title = "Sheet1"
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(row)
    book.save(path)
    return path


def test_cells_of_an_xlsx(tmp_path: Path) -> None:
    place = _xlsx(
        tmp_path / "b.xlsx",
        people=[
            ["person", "family_name", "given_name", "born", "phone", "interpreter"],
            [7, " Lindqvist ", "Åsa", datetime(1950, 2, 1), 5550142.0, True],
            [None, None, None, None, None, None],
            ["P2", "A", "B", "1950-03-04", "0142", "no"],
        ],
        practices=[
            ["device", "on", "at", "who", "don", "doff"],
            ["D1", date(2026, 2, 1), time(9, 30), "wearer", 6, 5],
        ],
    )
    book, problems = workbook.read(place)
    assert problems == []
    first, second = (row.record for row in book.rows("people"))
    assert (first.person, first.family_name, first.born, first.phone, first.interpreter) == (
        ("7", "Lindqvist", date(1950, 2, 1), "5550142", True)
    )
    assert (second.born, book.rows("people")[1].row) == (date(1950, 3, 4), 4)
    (practice,) = book.rows("practices")
    assert (practice.at, practice.body.don, practice.body.doff) == ("09:30", "06", "05")


def test_formulas_and_errors_of_an_xlsx_are_never_evaluated(tmp_path: Path) -> None:
    place = _xlsx(
        tmp_path / "b.xlsx",
        people=[["person", "family_name", "given_name", "note"], ["P1", "=A1&B1", "B", "#N/A"]],
    )
    assert said(place) == [
        "people:2:family_name: holds a formula, expected its value: copy the column and paste it as values",
        "people:2:note: holds the error #N/A, expected a value",
    ]


def test_what_is_no_workbook_is_said_in_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").touch()
    (tmp_path / "broken.xlsx").write_bytes(b"nonsense")
    (tmp_path / "broken.zip").write_bytes(b"nonsense")
    (tmp_path / "empty").mkdir()
    kinds = "expected a folder or .zip of NAME.csv files, or an .xlsx"
    assert said(tmp_path / "letter.txt") == [f"letter.txt is none of the kinds that can be read, {kinds}"]
    assert said(tmp_path / "nowhere")[0].endswith(kinds)
    assert said(tmp_path / "broken.zip") == ["broken.zip is not a zip, or is damaged"]
    assert said(tmp_path / "broken.xlsx") == [
        "broken.xlsx is not an .xlsx: it is damaged, an older format, or locked with a password"
    ]
    assert said(tmp_path / "empty") == [
        "empty holds no sheet, expected people, changes, devices or another of the sheets"
    ]


def test_a_damaged_xlsx_is_said(tmp_path: Path) -> None:
    good = _xlsx(tmp_path / "good.xlsx", people=[["person", "family_name", "given_name"], ["P1", "A", "B"]])
    with zipfile.ZipFile(good) as old, zipfile.ZipFile(tmp_path / "bad.xlsx", "w") as new:
        for name in old.namelist():
            raw = old.read(name)
            new.writestr(name, raw[: len(raw) - 60] if name.endswith("sheet2.xml") else raw)
    assert said(tmp_path / "bad.xlsx") == ["people: could not be read to its end: the .xlsx is damaged"]


@pytest.mark.parametrize("ending", [".zip", ".xlsx"])
def test_a_zip_that_would_fill_the_memory_is_refused(
    ending: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tables, "MOST_BYTES", 1_000_000)
    with zipfile.ZipFile(tmp_path / f"bomb{ending}", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("people.csv", b"0" * 2_000_000)
    assert (tmp_path / f"bomb{ending}").stat().st_size < 10_000
    assert said(tmp_path / f"bomb{ending}") == [
        "the workbook holds more than 1 MB once unpacked, expected less"
    ]


def test_a_zip_may_hold_a_folder_and_what_systems_add(tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "w.zip", "w") as archive:
        archive.writestr("mine/people.csv", PEOPLE)
        archive.writestr("mine/devices.csv", DEVICES)
        archive.writestr("__MACOSX/mine/._people.csv", b"\x00")
        archive.writestr("mine/read me.txt", "hello")
    book, problems = workbook.read(tmp_path / "w.zip")
    assert problems == []
    assert [len(book.rows("people")), len(book.rows("devices"))] == [1, 1]
    with zipfile.ZipFile(tmp_path / "w.zip", "a") as archive:
        archive.writestr("other/people.csv", PEOPLE)
    assert said(tmp_path / "w.zip") == ["people: is there twice, expected one sheet people"]
