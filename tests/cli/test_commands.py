"""The outside contract of the command line: JSON, exit codes, sentences, and no traceback ever."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from caseload.acts import demo
from caseload.cli.main import main
from caseload.records.facts import KINDS
from tests.cli.conftest import EXAMPLE, Type

KEYS = [
    "person",
    "device",
    "kind",
    "cause",
    "started",
    "opens",
    "due",
    "last_day",
    "done",
    "cancelled",
    "state",
    "tier",
    "anchor",
    "late_days",
    "relative_lateness",
    "booked",
    "why",
]
PEOPLE = "person,family_name,given_name,clinician,sensation\nP1,Lindqvist,Åsa,Imogen Vale,intact\n"
DEVICES = "device,person,side,orthosis,delivered\nP1-L,P1,left,AFO,2026-11-02\n"


def small(place: Path) -> str:
    """A workbook of one person."""
    place.mkdir()
    (place / "people.csv").write_text(PEOPLE, encoding="utf-8")
    (place / "devices.csv").write_text(DEVICES, encoding="utf-8")
    return str(place)


def test_owed_of_an_empty_caseload_is_an_empty_list_and_makes_no_database(run: Type, tmp_path: Path) -> None:
    assert run("owed", "--json").data == []
    assert run("owed", "--clinician", "Imogen Vale", "--json").data == []
    assert run("owed").out == "Tue 24 Nov 2026: nothing is owed\n"
    assert not (tmp_path / "c.db").exists()


def test_without_a_terminal_the_owed_list_is_printed(run: Type, tmp_path: Path) -> None:
    assert run("load", small(tmp_path / "w")).code == 0
    told = run()
    assert told.code == 0
    assert "Lindqvist, Åsa (P1)" in told.out
    assert "LEFT AFO" in told.out
    assert "A local policy and the judgement of the clinician come first." in told.out.replace(
        "Local", "A local"
    )


def test_the_json_of_the_owed_list(example: Type) -> None:
    rows = example("owed", "--json").data
    assert all(list(row) == KEYS for row in rows)
    assert {row["state"] for row in rows} <= {"open", "late", "missed", "waiting"}
    assert all(row["opens"] <= "2026-12-08" for row in rows)
    for row in rows:
        assert set(row["why"]) == {"rule", "anchor", "offset", "proposes", "binding"}
        assert row["why"]["binding"] in [each["rule"] for each in row["why"]["proposes"]]
        assert all(set(each) == {"rule", "anchor", "offset", "date"} for each in row["why"]["proposes"])
        assert (row["late_days"] > 0) == (row["state"] in ("late", "missed"))
        assert row["anchor"] == row["why"]["anchor"]
    tiers = [row["tier"] for row in rows]
    assert tiers == sorted(tiers)


def test_the_owed_list_can_be_narrowed(example: Type) -> None:
    every = example("owed", "--all", "--json").data
    assert {"done", "cancelled", "waiting"} <= {row["state"] for row in every}
    done = example("owed", "--state", "done", "--json").data
    assert len(done) == sum(row["state"] == "done" for row in every) > 0
    late = example("owed", "--kind", "supply", "--state", "missed", "--json").data
    assert {(row["kind"], row["state"]) for row in late} == {("supply", "missed")}
    one = example("owed", "--person", "H9001-0002", "--json").data
    assert {row["person"] for row in one} == {"H9001-0002"}
    vale = example("owed", "--clinician", "imogen vale", "--all", "--json").data
    assert 0 < len(vale) < len(every)
    assert len(example("owed", "--within", "0", "--json").data) < len(
        example("owed", "--within", "400", "--json").data
    )


def test_options_for_everywhere_may_stand_before_and_after(example: Type) -> None:
    before = example("--json", "--on", "2026-06-01", "owed").data
    assert before == example("owed", "--on", "2026-06-01", "--json").data
    assert before != example("owed", "--json").data


@pytest.mark.parametrize(
    "words",
    [
        ["owde"],
        ["owed", "--state", "lost"],
        ["owed", "--within", "-3"],
        ["owed", "--on", "1/2/2026"],
        ["owed", "--on", "2026-02-30"],
        ["load"],
        ["record"],
        ["record", "look", "--device", "P1-L"],
        ["protocol"],
    ],
)
def test_wrong_usage_is_2(run: Type, words: list[str]) -> None:
    told = run(*words)
    assert (told.code, told.out) == (2, "")
    assert "Traceback" not in told.err


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["owed", "--person", "P9"], "'P9' is nobody on record, expected a person's reference"),
        (
            ["owed", "--clinician", "Imogen Vael"],
            "'Imogen Vael' has nobody on their list; did you mean 'Imogen Vale'?",
        ),
        (
            ["owed", "--holidays", "GB-XXX"],
            "No public holidays are known for 'GB-XXX', expected one like GB-ENG or US.",
        ),
        (["why", "P1-X"], "'P1-X' is no person or device; did you mean 'P1-L'?"),
        (
            ["load", "nowhere.xlsx"],
            "there is no 'nowhere.xlsx', expected a folder or .zip of NAME.csv files, or an .xlsx",
        ),
        (["dump", "/dev/null"], "null is a file, expected a new folder, or a name ending in .zip or .xlsx"),
        (["protocol", "check", "nowhere.toml"], "nowhere.toml could not be read: no such file or directory"),
        (
            [
                "record",
                "look",
                "--device",
                "P1-L",
                "--area",
                "heel",
                "--how",
                "sen",
                "--skin",
                "clear",
                "--pain",
                "12",
            ],
            "--how 'sen' is not a word for this column, expected one of: seen, picture, told;"
            " did you mean 'seen'?\n"
            "--pain '12' is out of range, expected a number from 0 to 10",
        ),
        (
            ["record", "fall", "--person", "P1", "--happened", "2026-11-25"],
            "2026-11-25 lies in the future; what has not happened is not recorded.",
        ),
        (["record", "fall", "--person", "P9"], "There is no person P9."),
    ],
)
def test_what_is_refused_is_1_and_says_so(run: Type, words: list[str], sentence: str, tmp_path: Path) -> None:
    run("load", small(tmp_path / "w"))
    before = run("owed", "--all", "--json").out
    told = run(*words)
    assert (told.code, told.out, told.err) == (1, "", sentence + "\n")
    assert run("owed", "--all", "--json").out == before


def test_every_problem_of_a_workbook_is_told(run: Type, tmp_path: Path) -> None:
    place = Path(small(tmp_path / "w"))
    (place / "devices.csv").write_text(DEVICES + "P1-R,P9,rihgt,AFO,1/2/2026\n")
    told = run("load", str(place))
    assert told.code == 1
    assert [line.split(": ")[0] for line in told.err.splitlines()] == [
        "devices:3:person",
        "devices:3:side",
        "devices:3:delivered",
    ] or [line.split(": ")[0] for line in told.err.splitlines()] == ["devices:3:side", "devices:3:delivered"]
    assert run("owed", "--all", "--json").data == []


def test_check_says_how_much_would_be_owed(run: Type, tmp_path: Path) -> None:
    told = run("load", str(EXAMPLE / "workbook"), "--check", "--json", "--holidays", "GB-ENG").data
    assert not (tmp_path / "c.db").exists()
    run("load", str(EXAMPLE / "workbook"), "--holidays", "GB-ENG")
    rows = run("owed", "--all", "--json", "--holidays", "GB-ENG").data
    states = [row["state"] for row in rows]
    assert [told["would_be"][state] for state in ("missed", "late", "open", "waiting")] == [
        states.count(state) for state in ("missed", "late", "open", "waiting")
    ]
    assert sum(each["late"] for each in told["would_be"]["kinds"]) == states.count("late")
    words = run("load", str(EXAMPLE / "workbook"), "--check", "--holidays", "GB-ENG")
    assert (words.code, "Nothing was written." in words.out) == (0, True)


def test_dump_and_load_again(example: Type, tmp_path: Path) -> None:
    assert example("dump", str(tmp_path / "all.xlsx")).code == 0
    again = example("load", str(tmp_path / "all.xlsx"))
    assert (again.code, again.out.splitlines()[-1]) == (0, "Nothing new: all of it was on record already.")


def test_recording_a_fact_does_a_follow_up(run: Type, tmp_path: Path) -> None:
    run("load", small(tmp_path / "w"))
    told = run("record", "fit-check", "--device", "P1-L", "--overall", "accepted", "--json").data
    assert [row["kind"] for row in told["done"]] == ["fit check"]
    words = run("record", "look", "--device", "P1-L", "--area", "heel", "--how", "seen", "--skin", "blister")
    assert words.code == 0
    assert words.out.startswith("Recorded: look, LEFT AFO (P1-L), Tue 24 Nov 2026.\n")
    assert "Owed: skin look, urgent for LEFT AFO (P1-L)" in words.out
    assert "off, and not on again until seen" in words.out


def test_why_gives_the_competing_dates(run: Type, tmp_path: Path) -> None:
    run("load", small(tmp_path / "w"))
    told = run("why", "P1-L")
    assert told.out.startswith("Lindqvist, Åsa (P1), Tue 24 Nov 2026\n")
    assert "counted from:" in told.out
    rows = run("why", "P1", "--json").data
    review = next(row for row in rows if row["kind"] == "reassessment")
    assert len(review["why"]["proposes"]) > 1


def test_every_fact_has_a_command_with_its_columns_and_an_example(run: Type) -> None:
    for kind in KINDS:
        told = run("record", kind.name.replace(" ", "-"), "--help")
        assert told.code == 0
        assert "Example: caseload record" in told.out


@pytest.mark.parametrize("command", ["demo", "load", "dump", "owed", "why", "record", "protocol"])
def test_every_command_has_help_with_an_example(run: Type, command: str) -> None:
    told = run(command, "--help")
    assert (told.code, "Example: caseload" in told.out) == (0, True)
    assert command in run("--help").out


def test_the_protocol_is_shown_checked_and_used(run: Type, tmp_path: Path) -> None:
    text = run("protocol", "show").out
    ours = tmp_path / "ours.toml"
    ours.write_text(
        text.replace('version = "', 'version = "ours ').replace(
            "first_day = 1900-01-01", "first_day = 2026-12-01"
        )
    )
    assert run("protocol", "check", str(ours)).out.startswith("No mistakes: version ours ")
    run("load", small(tmp_path / "w"))
    assert run("protocol", "use", str(ours)).code == 0
    assert run("protocol", "show").out == text
    assert run("protocol", "show", "--on", "2026-12-01").out == ours.read_text()
    ours.write_text(ours.read_text().replace("tier = 3", "tier = 33", 1))
    told = run("protocol", "check", str(ours))
    assert (told.code, told.err.startswith("ours.toml, line ")) == (1, True)


def test_hostile_names_do_nothing_to_a_terminal(run: Type, tmp_path: Path) -> None:
    place = Path(small(tmp_path / "w"))
    (place / "people.csv").write_text(
        PEOPLE.replace("Lindqvist", '"[red]\x1b]0;x\x07\u202e\x9b31m"'), encoding="utf-8"
    )
    assert run("load", str(place)).code == 0
    for words in (["owed"], ["why", "P1"], ["owed", "--json"]):
        told = run(*words)
        assert told.code == 0
        assert not set(told.out) & set("\x1b\x07\u202e\x9b")
    assert "[red]" in run("owed").out


@pytest.fixture
def demo_zip(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    path = tmp_path / "demo.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("people.csv", PEOPLE)
        archive.writestr("devices.csv", DEVICES.replace("2026-11-02", "2025-01-06"))
        archive.writestr("day.txt", "2025-01-28\n")
    monkeypatch.setattr(demo, "WORKBOOK", path)
    return path


def test_the_demo_lies_around_today_in_a_database_of_its_own(run: Type, demo_zip: Path, tmp_path: Path) -> None:
    told = run("demo", "--json", "--on", "2026-11-27")
    assert told.code == 0
    delivered = {row["started"] for row in told.data if row["kind"] == "reassessment"}
    assert delivered == {"2026-11-05"}  # as many weekdays before, whatever day of the week it is
    assert run("owed", "--all", "--json").data == []
    assert not (tmp_path / "c.db").exists()
    later = run("demo", "--json", "--on", "2026-12-18")
    assert later.err == "This demo lies around 2026-11-27; caseload demo --fresh lays it around today.\n"
    fresh = run("demo", "--fresh", "--json", "--on", "2026-12-18")
    assert {row["started"] for row in fresh.data if row["kind"] == "reassessment"} == {"2026-11-26"}


def test_the_demo_never_goes_into_a_caseload(run: Type, demo_zip: Path, tmp_path: Path) -> None:
    run("load", small(tmp_path / "w"))
    for words in (["demo"], ["demo", "--fresh"]):
        told = run(*words, "--db", str(tmp_path / "c.db"))
        assert (told.code, told.out) == (1, "")
    assert len(run("owed", "--json").data) > 0


def test_a_failure_of_the_program_says_where_and_nothing_about_anybody(
    run: Type, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise KeyError("Lindqvist")

    monkeypatch.setattr("caseload.cli.owed.show", fail)
    told = run("owed")
    assert (told.code, told.out) == (1, "")
    assert told.err.startswith("The program itself failed (KeyError, cli/owed.py line ")
    assert "Lindqvist" not in told.err


def test_interrupting_is_said(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("caseload.cli.main._run", stop)
    assert main([]) == 130
    assert capsys.readouterr().err == "Stopped; nothing was changed.\n"


def _process(*words: str, **more: str) -> subprocess.Popen[bytes]:
    environment = {**os.environ, **more}
    command = [sys.executable, *words]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment)


def test_a_reader_that_has_seen_enough_is_no_failure(example: Type) -> None:
    running = _process("-m", "caseload", "owed", "--all", "--json")
    assert running.stdout is not None and running.stderr is not None
    running.stdout.read(10)
    running.stdout.close()
    said = running.stderr.read()
    assert (running.wait(), said) == (0, b"")


def test_the_command_line_imports_no_more_than_it_needs(example: Type) -> None:
    for words in (["owed"], ["owed", "--json"], ["why", "H9001-0002"], ["protocol", "show"], ["--help"]):
        code = f"""
import sys
from caseload.cli.main import main
try: main({words!r})
except SystemExit: pass
heavy = {{"textual", "openpyxl", "arrow", "scipy", "numpy"}} & set(sys.modules)
sys.stderr.write(" ".join(sorted(heavy)))
"""
        out, err = _process("-c", code).communicate()
        assert (err, bool(out)) == (b"", True), words
