"""The only reader of the clock, so that a test, or `--on`, can say what day it is."""

from __future__ import annotations

from datetime import UTC, date, datetime


def today() -> date:
    """The local calendar date."""
    return date.today()


def now() -> datetime:
    """This instant, in UTC and aware."""
    return datetime.now(UTC)
