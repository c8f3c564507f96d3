"""Where a command works: which database, which day, who, and how it prints."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import date
from typing import TYPE_CHECKING, Any

from caseload import clock, settings
from caseload.errors import Refused

if TYPE_CHECKING:
    from caseload.acts.desk import Desk
    from caseload.store.store import Store


def today(asked: argparse.Namespace) -> date:
    """The day it is for this run."""
    given: date | None = getattr(asked, "on", None)
    return given or clock.today()


def who(asked: argparse.Namespace) -> str:
    """Who acts."""
    return settings.user(getattr(asked, "who", None))


def holidays(asked: argparse.Namespace) -> str | None:
    """The holiday region of this run, or None for the protocol's; Refused when its holidays are not known."""
    region = settings.holidays(getattr(asked, "holidays", None))
    if region:
        from caseload.rules.calendar import known_region

        if not known_region(region):
            raise Refused(
                [f"No public holidays are known for '{region[:20]}', expected one like GB-ENG or US."]
            )
    return region


def wants_json(asked: argparse.Namespace) -> bool:
    """Whether data are to be printed rather than words."""
    return bool(getattr(asked, "json", False))


@contextmanager
def at_desk(asked: argparse.Namespace, *, writes: bool = False, place: str | None = None) -> Iterator[Desk]:
    """The desk for this run, its database closed at the end; only one that `writes` makes a new database."""
    from caseload.acts.desk import Desk
    from caseload.store import open_store

    where = place or settings.database(getattr(asked, "db", None))
    with open_store(where, create=writes, holidays=holidays(asked)) as store:
        yield Desk(store, who(asked), today(asked))


def next_staffed(store: Store, person: str, on: date) -> date | None:
    """The next working day at a person's site when tomorrow is none: the days between want advice."""
    from caseload.screens import asking  # plain questions; it brings no screen with it

    seen = asking.person(store, person, on)
    return seen.staffed if seen else None


def print_json(data: Any) -> None:
    """Print data; ASCII, so that no name can do anything to a terminal. A list has one item a line."""
    if isinstance(data, list) and data:
        print("[\n" + ",\n".join(json.dumps(item) for item in data) + "\n]")
    else:
        print(json.dumps(data, indent=1 if data else None))


def warn(sentences: Iterable[str]) -> None:
    """Say on standard error what was kept all the same."""
    from caseload.plain import plain

    for sentence in sentences:
        print(f"warning: {plain(sentence)}", file=sys.stderr)
