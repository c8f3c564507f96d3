"""Where arrows point, looked at as a process loads things: static contracts cannot see late imports."""

from __future__ import annotations

import subprocess
import sys

import pytest


def loaded_by(code: str) -> set[str]:
    """The top-level names and own packages a fresh process has loaded after the code."""
    shown = "import sys; print('\\n'.join(sys.modules))"
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\n{shown}"], capture_output=True, text=True, check=True, timeout=60
    )
    return set(done.stdout.split())


@pytest.mark.parametrize(
    ("room", "never"),
    [
        ("caseload.records.sheets", {"peewee", "textual", "arrow", "openpyxl", "holidays", "caseload.rules"}),
        ("caseload.rules.ledger", {"peewee", "textual", "arrow", "openpyxl", "holidays", "caseload.store"}),
        ("caseload.exchange.workbook", {"peewee", "textual", "holidays", "caseload.store", "caseload.acts"}),
        (
            "caseload.store.store",
            {"textual", "openpyxl", "caseload.acts", "caseload.screens"},
        ),
        ("caseload.acts.facts", {"textual", "openpyxl", "caseload.screens", "caseload.cli"}),
        ("caseload.cli.main", {"textual", "peewee", "openpyxl", "holidays", "arrow"}),
        ("caseload.screens.app", {"peewee", "openpyxl", "holidays", "psycopg"}),
    ],
)
def test_a_room_loads_only_what_it_needs(room: str, never: set[str]) -> None:
    """The command line starts without the screens; the screens are painted before the database is loaded."""
    assert loaded_by(f"import {room}") & never == set()


def test_a_command_never_loads_the_screens(tmp_path) -> None:
    """`owed` does its whole work without textual."""
    code = (
        "from caseload.cli.main import main\n"
        "import contextlib, io\n"
        "with contextlib.redirect_stdout(io.StringIO()):\n"
        f"    assert main(['owed', '--json', '--db', {str(tmp_path / 'none.db')!r}]) == 0"
    )
    assert "textual" not in loaded_by(code)


def test_only_the_store_writes_an_import_of_the_database() -> None:
    """Nobody else names peewee, and only the screens name textual."""
    import caseload

    top = next(iter(caseload.__path__))
    from pathlib import Path

    for path in Path(top).rglob("*.py"):
        room = path.relative_to(top).parts[0]
        text = path.read_text("utf-8")
        if room != "store":
            assert "import peewee" not in text, path
            assert "import sqlite3" not in text, path
        if room != "screens":
            assert "from textual" not in text, path
            assert "import textual" not in text, path


def test_only_the_clock_reads_the_time() -> None:
    """Today is handed in everywhere: `--on` must hold for all of it."""
    import re
    from pathlib import Path

    import caseload

    reading = re.compile(
        r"\b(date\.today|datetime\.now|datetime\.utcnow|arrow\.now|arrow\.utcnow|time\.time)\("
    )
    top = Path(next(iter(caseload.__path__)))
    found = [
        str(path.relative_to(top))
        for path in top.rglob("*.py")
        if path.name != "clock.py" and reading.search(path.read_text("utf-8"))
    ]
    assert found == []
