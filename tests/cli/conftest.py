"""A command line to type into: its own database, user and data folder."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from caseload.cli.main import main

EXAMPLE = Path(__file__).parents[2] / "fixtures" / "example"


@dataclass
class Ran:
    """What a command did."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        """What it printed, as data."""
        return json.loads(self.out)


Type = Callable[..., Ran]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Type:
    """Types a command; wrong usage too comes back as a code."""
    monkeypatch.setenv("CASELOAD_DB", str(tmp_path / "c.db"))
    monkeypatch.setenv("CASELOAD_USER", "Imogen Vale")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.delenv("CASELOAD_HOLIDAYS", raising=False)

    def typed(*words: str) -> Ran:
        try:
            code = main(["--on", "2026-11-24", *words] if "--on" not in words else list(words))
        except SystemExit as wrong:
            code = int(wrong.code or 0)
        told = capsys.readouterr()
        return Ran(code, told.out, told.err)

    return typed


@pytest.fixture
def example(run: Type) -> Type:
    """The same, with the example caseload loaded."""
    assert run("load", str(EXAMPLE / "workbook"), "--holidays", "GB-ENG").code == 0
    return run
