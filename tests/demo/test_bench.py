"""The bench measures and says what it was asked for; what it finds is told, never tested."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

TOP = Path(__file__).parents[2]


def bench(tmp_path: Path, *asked: str) -> subprocess.CompletedProcess[str]:
    path = f"{TOP / 'scripts'}{os.pathsep}{TOP}"
    env = os.environ | {"PYTHONPATH": path, "TMPDIR": str(tmp_path)}
    return subprocess.run([sys.executable, "-m", "benching", *asked], env=env, capture_output=True, text=True)


def test_it_prints_a_ratio_beside_each_goal_and_leaves_nothing_behind(tmp_path: Path) -> None:
    done = bench(tmp_path, "week", "recording", "loading", "--size", "132")
    assert done.returncode in (0, 1), done.stderr
    for part, goal in (
        ("one clinician's week over the raw query", "10"),
        ("recording one fact over a bare two-row insert", "15"),
        ("loading a workbook over csv and executemany", "6"),
    ):
        line = next(line for line in done.stdout.splitlines() if line.startswith(part))
        assert line.removeprefix(part).removesuffix("missed").split()[-1] == goal
    assert not list(tmp_path.iterdir())


def test_the_screens_are_measured_in_a_terminal(tmp_path: Path) -> None:
    done = bench(tmp_path, "paint", "--size", "132")
    assert done.returncode in (0, 1), done.stderr
    assert "first paint of Week over the smallest Textual app" in done.stdout
    assert not list(tmp_path.iterdir())


def test_an_unknown_part_is_wrong_usage(tmp_path: Path) -> None:
    done = bench(tmp_path, "everything")
    assert done.returncode == 2
    assert "there is no part everything" in done.stderr
