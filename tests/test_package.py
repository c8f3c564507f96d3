"""The built package, installed where nothing else is: it must carry its data and run."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from pathlib import Path

TOP = Path(__file__).parent.parent


def test_the_wheel_carries_its_data_and_runs(tmp_path: Path) -> None:
    """Built from a copy of the source, unpacked into an empty folder, run from there."""
    wheels = tmp_path / "wheels"
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--wheel-dir", wheels, _copy(tmp_path)],
        check=True,
        timeout=240,
    )
    (wheel,) = wheels.glob("caseload-*.whl")
    unpacked = tmp_path / "unpacked"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(unpacked)
    inside = {str(path.relative_to(unpacked / "caseload")) for path in (unpacked / "caseload").rglob("*")}
    source = TOP / "caseload"
    wanted = {
        str(path.relative_to(source))
        for path in source.rglob("*")
        if path.suffix in (".py", ".toml", ".tcss", ".zip", ".md") and "__pycache__" not in path.parts
    }
    assert wanted - inside == set()
    environment = {**os.environ, "PYTHONPATH": str(unpacked), "CASELOAD_DB": str(tmp_path / "demo.db")}
    done = subprocess.run(
        [sys.executable, "-m", "caseload", "demo", "--json"],
        env=environment,
        cwd=tmp_path,
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    assert len(json.loads(done.stdout)) > 20


def _copy(tmp_path: Path) -> Path:
    """The source without what building leaves behind, so that an old build cannot help."""
    import shutil

    copy = tmp_path / "source"
    copy.mkdir()
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(TOP / name, copy / name)
    shutil.copytree(TOP / "caseload", copy / "caseload", ignore=shutil.ignore_patterns("__pycache__"))
    return copy
