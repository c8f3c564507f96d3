"""The only reader of the clock, so that a test, or `--on`, can say what day it is."""

from __future__ import annotations

import secrets
import time
import uuid
from datetime import UTC, date, datetime


def today() -> date:
    """The local calendar date."""
    return date.today()


def now() -> datetime:
    """This instant, in UTC and aware."""
    return datetime.now(UTC)


def new_id() -> str:
    """A UUID that sorts by the moment it was made (version 7), so that new rows lie beside each other."""
    bits = (time.time_ns() // 1_000_000) << 80 | secrets.randbits(80)
    bits = bits & ~(0xF << 76) | 0x7 << 76
    return str(uuid.UUID(int=bits & ~(0b11 << 62) | 0b10 << 62))
