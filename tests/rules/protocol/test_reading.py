"""Reading a protocol: every mistake gets one sentence with its line, all at once, and never an exception."""

from __future__ import annotations

import dataclasses
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from caseload.rules.protocol import read_protocol, shipped, shipped_text
from caseload.rules.spans import Span, Unit
from tests.rules.protocol.mistakes import MISTAKES, REBOOKING

TEXT = shipped_text()


def line_of(text: str, start: str) -> int:
    """The number of the first line that begins so."""
    return next(n for n, line in enumerate(text.splitlines(), 1) if line.startswith(start))


def edited(*edits: tuple[str, str]) -> str:
    """The shipped text with some of its words replaced, each there exactly once."""
    text = TEXT
    for old, new in edits:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the file"
        text = text.replace(old, new)
    return text


def mistakes(text: str) -> list[str]:
    protocol, problems = read_protocol(text)
    assert (protocol is None) == bool(problems)
    return [str(problem) for problem in problems]


def only_mistake(*edits: tuple[str, str]) -> str:
    found = mistakes(edited(*edits))
    assert len(found) == 1, found
    return found[0]


def test_the_shipped_file_has_none():
    assert mistakes(TEXT) == []


@pytest.mark.parametrize(("edit", "line", "says"), MISTAKES.values(), ids=MISTAKES)
def test_one_mistake_one_sentence_with_its_line(edit, line, says):
    found = only_mistake(edit)
    assert says in found
    number = re.match(r"line (\d+): ", found)
    assert number is not None
    if line is not None:
        assert int(number[1]) == line_of(edited(edit), line)
    assert found.count("\n") == 0


def test_a_missing_table_and_one_that_is_none():
    text = edited(("[donning]\n", "[doning]\n"))
    found = mistakes(text)
    assert (
        f"line {line_of(text, '[doning]')}: doning is no setting of a protocol. Did you mean donning?" in found
    )
    assert "the table [donning] is missing." in found
    assert len(found) == 2


@pytest.mark.parametrize("table", ["fit_check", "skin", "minutes", "phones", "ends"])
def test_a_table_that_is_missing_is_one_mistake(table):
    text = re.sub(rf"^\[{table}\]\n(.*?)(?=^\[)", "", TEXT, flags=re.MULTILINE | re.DOTALL)
    found = [each for each in mistakes(text) if not each.split(": ", 1)[-1].startswith("caution")]
    assert found == [f"the table [{table}] is missing."]


@pytest.mark.parametrize("table", ["fit_check", "minutes", "phones", "areas", "caution"])
@pytest.mark.parametrize("value", ["3", '"soon"', "[]", "[1]", "true", "2026-01-01", "{}"])
def test_something_else_in_place_of_a_table(table, value):
    text = re.sub(rf"^\[+{table}\]+\n(.*?)(?=^\[(?!\[{table})|\Z)", "", TEXT, flags=re.MULTILINE | re.DOTALL)
    assert mistakes(f"{table} = {value}\n{text}")


def test_a_misspelt_landmark_key_is_named():
    found = mistakes(edited(("landmarks = [", "landmark = [")))
    assert any("Did you mean landmarks?" in each for each in found)
    assert any("landmarks is missing from [areas]" in each for each in found)


def test_a_caution_names_its_own_line():
    text = edited(('call = "out_of_hours"', 'call = "night"'))
    blocks = [n for n, line in enumerate(text.splitlines(), 1) if line == "[[caution]]"]
    at = line_of(text, 'id = "out of hours"')
    assert mistakes(text) == [
        f"line {max(n for n in blocks if n < at)}: caution: 'night' is no key of [phones]."
    ]


def test_all_mistakes_at_once_in_the_order_of_the_file():
    edits = [
        one[0]
        for name, one in MISTAKES.items()
        if name
        in (
            "out of range",
            "bad region",
            "bad weekday",
            "no level",
            "bad plan steps",
            "wrong tier",
            "caution with an unknown phone",
            "minutes out of range",
            "bands that fall",
        )
    ]
    # Two of them stand on one line: a limit is told its first mistake.
    edits = [edit for edit in edits if not edit[0].startswith(REBOOKING + ",")]
    found = mistakes(edited(*edits))
    lines = [int(re.match(r"line (\d+)", each)[1]) for each in found]
    assert len(found) == len(edits)
    assert lines == sorted(lines)


def test_that_a_local_policy_comes_first_is_asked_for_beside_other_mistakes():
    found = mistakes(edited(('when = ["always"]', 'when = ["never"]'), ("goal_hours = 6 ", "goal_hours = 25 ")))
    assert len(found) == 2


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('version = "1"\nfirst_day = \n', 2),
        ("a = 1\nb = 2\na = 3\n", 3),
        ("[x\n", 1),
        ("first_day = 2026-13-01", 1),
    ],
)
def test_what_is_no_toml_says_where(text, line):
    (found,) = mistakes(text)
    assert found.startswith(f"line {line}: this is not TOML")


@pytest.mark.parametrize("text", ["a = " + "[" * 5000, "a = " + "9" * 5000, "\x00", "a = '\ud800'", "\ufeff"])
def test_what_no_parser_likes_is_one_sentence(text):
    assert mistakes(text)


def test_an_empty_file_names_every_table():
    found = mistakes("")
    assert "the table [skin] is missing." in found
    assert "version is missing." in found


def test_a_copy_edited_in_one_number_reads_back_with_that_number():
    text = edited(
        ('stable = { due = "6 months"', 'stable = { due = "5 months"'),
        ("goal_hours = 6 ", "goal_hours = 7.5 "),
        ("first_day = 1900-01-01", "first_day = 2026-11-24"),
        ('emergency = ""', 'emergency = "112"'),
        ('"wear check" = 10', '"wear check" = 15\n"strap" = 10'),
    )
    protocol, problems = read_protocol(text)
    assert problems == []
    assert protocol is not None
    assert protocol.reassessment.stable.due == Span(5, Unit.MONTHS)
    assert protocol.wear.goal_hours == 7.5
    assert str(protocol.first_day) == "2026-11-24"
    assert protocol.phones["emergency"] == "112"
    assert (protocol.minutes["wear check"], protocol.minutes["strap"]) == (15, 10)
    usual = shipped()
    assert (
        dataclasses.replace(
            protocol,
            reassessment=usual.reassessment,
            wear=usual.wear,
            first_day=usual.first_day,
            phones=usual.phones,
            minutes=usual.minutes,
        )
        == usual
    )


NUMBERS = [
    match.span()
    for match in re.finditer(r"\d+(?= (?:working )?(?:days?|weeks|months)\")", TEXT)
    if match.start() > TEXT.index("[fit_check]")
]
"""Where the number of each span stands."""


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(NUMBERS), st.integers(0, 9999))
def test_any_one_span_edited_is_read_back_or_refused_on_its_line(where, number):
    start, end = where
    text = f"{TEXT[:start]}{number}{TEXT[end:]}"
    protocol, problems = read_protocol(text)
    if protocol is None:
        assert [problem.line for problem in problems] == [TEXT[:start].count("\n") + 1]
    elif str(number) != TEXT[start:end]:
        assert protocol != shipped()


PIECES = st.sampled_from(
    [
        "",
        "0",
        "-1",
        '"x"',
        "[",
        "]",
        "{",
        "}",
        "=",
        "\n",
        "true",
        "nan",
        "1e999",
        '"given"',
        "2026-01-01",
        "[[caution]]\n",
        "'''",
    ]
)


@settings(max_examples=120, deadline=None)
@given(st.integers(0, len(TEXT)), st.integers(0, 60), PIECES | st.text(max_size=8))
def test_a_file_damaged_anywhere_is_never_an_exception(at, gone, put):
    protocol, problems = read_protocol(TEXT[:at] + put + TEXT[at + gone :])
    assert (protocol is None) == bool(problems)
    assert all(str(problem) for problem in problems)


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=80))
def test_no_text_is_an_exception(text):
    protocol, problems = read_protocol(text)
    assert protocol is None
    assert problems
