"""What the screens' pure rooms and the first frame import: seen in a process of its own, late imports too."""

from __future__ import annotations

import subprocess
import sys

import pytest


def imported(code: str) -> set[str]:
    """The modules loaded after running a piece of code in a fresh process."""
    listing = f"{code}\nimport sys\nprint('\\n'.join(sys.modules))"
    done = subprocess.run([sys.executable, "-c", listing], capture_output=True, text=True, check=True)
    return set(done.stdout.split())


@pytest.mark.parametrize(
    "room", ["days", "numbers", "course", "entry", "form", "sentences", "owed", "list", "why", "about"]
)
def test_words_know_no_terminal_and_no_database(room: str) -> None:
    loaded = imported(f"import caseload.words.{room}")
    assert not {name for name in loaded if name.split(".")[0] in ("textual", "peewee")}


def test_the_first_frame_waits_for_no_database_no_calendar_and_no_other_screen() -> None:
    loaded = imported("import caseload.screens.app")
    late = (
        "peewee",
        "psycopg",
        "arrow",
        "holidays",
        "openpyxl",
        "scipy",
        "caseload.acts",
        "caseload.rules",
        "caseload.exchange",
    )
    assert not {name for name in loaded if name.startswith(late)}
    assert "caseload.screens.person.screen" not in loaded
