"""Opening the screens; without a terminal, the owed list as text instead."""

from __future__ import annotations

import argparse
import sys

from caseload import settings
from caseload.cli import owed
from caseload.cli.place import at_desk, holidays, today, wants_json, who
from caseload.cli.progress import Bar


def open_screens(asked: argparse.Namespace) -> None:
    """The screens on the user's own caseload."""
    if _may_open(asked):
        ended = _open(asked, settings.database(getattr(asked, "db", None)), demo=False)
        if ended == "demo":  # an empty caseload, and the user would rather look at the demo first
            asked.db, asked.fresh = None, False
            open_demo(asked)
    else:
        owed.owed(asked)


def open_demo(asked: argparse.Namespace) -> None:
    """The screens on the demo, which has a database of its own unless one was named."""
    from caseload.acts import demo

    given = getattr(asked, "db", None)
    place = given or demo.own_place()
    if asked.fresh:
        demo.clear(place, own=not given)
    with at_desk(asked, writes=True, place=place) as desk, Bar() as bar:
        hint = demo.make(desk, bar)
    if hint:
        print(hint, file=sys.stderr)
    if _may_open(asked):
        _open(asked, place, demo=True)
        return
    with at_desk(asked, place=place) as desk:
        owed.show(asked, desk.store, desk.today)


def _may_open(asked: argparse.Namespace) -> bool:
    return sys.stdout.isatty() and sys.stdin.isatty() and not wants_json(asked)


def _open(asked: argparse.Namespace, place: str, *, demo: bool) -> str:
    """Open the screens until the user leaves; `demo` if they asked for the demo."""
    fixed = today(asked) if getattr(asked, "on", None) else None
    region = holidays(asked)
    from caseload.screens.app import run

    return run(place, who(asked), fixed, region, demo=demo)
