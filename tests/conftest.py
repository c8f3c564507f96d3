"""What holds for every test: nothing of whoever runs it is read or written, and the same run finds the same."""

from __future__ import annotations

import os

import pytest
from hypothesis import settings

# A run that is to be believed is one that can be run again. HYPOTHESIS_PROFILE=explore looks further.
settings.register_profile("same", derandomize=True, deadline=None)
settings.register_profile("explore", deadline=None, print_blob=True)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "same"))


@pytest.fixture(autouse=True)
def _nobodys_data(monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory) -> None:
    """The data folder is an empty one, and no setting of the environment reaches a test."""
    for name in ("CASELOAD_DB", "CASELOAD_USER", "CASELOAD_HOLIDAYS"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path_factory.mktemp("data")))
