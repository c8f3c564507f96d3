"""Where the database lives, who is at the keyboard, whose public holidays count for this run."""

from __future__ import annotations

import getpass
import os
from pathlib import Path

DATABASE, USER, HOLIDAYS = "CASELOAD_DB", "CASELOAD_USER", "CASELOAD_HOLIDAYS"


def database(given: str | None = None) -> str:
    """Path or URL of the database: as given, else `CASELOAD_DB`, else a file in the user's data folder."""
    named = given or os.environ.get(DATABASE)
    return named or str(data_folder() / "caseload.db")


def data_folder() -> Path:
    """The folder for this user's data; it may not exist yet."""
    import platformdirs

    return Path(platformdirs.user_data_dir("caseload", appauthor=False))


def user(given: str | None = None) -> str:
    """Who records: as given, else `CASELOAD_USER`, else the login name."""
    named = (given or os.environ.get(USER) or "").strip()
    if named:
        return named
    try:
        return getpass.getuser()
    except (KeyError, OSError):  # a user id without a name, as in a container
        return "unknown"


def holidays(given: str | None = None) -> str | None:
    """The holiday region for one run, which overrules the protocol's; None to leave it to the protocol."""
    named = given or os.environ.get(HOLIDAYS)
    return named.strip().upper() if named and named.strip() else None
