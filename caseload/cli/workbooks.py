"""`load` and `dump`: a workbook brought in, or everything written as one."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from caseload.cli.place import at_desk, print_json, wants_json, warn
from caseload.cli.progress import Bar
from caseload.plain import plain

if TYPE_CHECKING:
    from caseload.acts.forecast import Forecast
    from caseload.acts.load import Loaded


def load(asked: argparse.Namespace) -> None:
    """Bring in a workbook, or with `--check` say what is wrong with it and what would be owed."""
    from caseload.acts import load as acts

    with at_desk(asked, writes=not asked.check) as desk, Bar() as bar:
        done = acts.load(
            desk, asked.path, check=asked.check, dates=asked.dates, amend=asked.amend, progress=bar
        )
    warn(done.warnings)
    if wants_json(asked):
        print_json(_as_json(done))
        return
    for sheet, counts in done.counts.items():
        said = ", ".join(f"{number} {what}" for what, number in counts.items() if number)
        print(f"{sheet}: {said}")
    if done.forecast:
        _print(done.forecast)
    elif not done.changed:
        print("Nothing new: all of it was on record already.")


def dump(asked: argparse.Namespace) -> None:
    """Write everything as a workbook."""
    from caseload.acts import dump as acts

    with at_desk(asked) as desk, Bar() as bar:
        rows = acts.dump(desk.store, asked.path, bar)
    if wants_json(asked):
        print_json({"path": asked.path, "rows": rows})
    else:
        print(plain(f"{rows} rows written to {asked.path}, readable by you only."))


def _as_json(done: Loaded) -> dict[str, Any]:
    told: dict[str, Any] = {"counts": done.counts, "changed": done.changed, "warnings": done.warnings}
    if done.forecast:
        found = done.forecast
        told["would_be"] = {
            "on": found.on.isoformat(),
            "people": found.people,
            **found.states,
            "kinds": [{"tier": tier, "kind": kind, **counts} for (tier, kind), counts in found.kinds.items()],
            "weeks": [{"week": monday.isoformat(), "due": number} for monday, number in found.weeks],
            "taken_over": found.taken_over,
        }
    return told


def _print(found: Forecast) -> None:
    from caseload.cli.table import print_table
    from caseload.words import days

    said = ", ".join(f"{number} {state}" for state, number in found.states.items())
    print(
        f"\nNothing was written. Loaded on {days.full(found.on)}, {found.people} people would be owed: {said}."
    )
    if found.kinds:
        heads = ("", *next(iter(found.kinds.values())))
        rows = [
            (f"{kind}, tier {tier}", *map(str, counts.values())) for (tier, kind), counts in found.kinds.items()
        ]
        print_table([heads, *rows], give=0)
    taken = (
        f" {found.taken_over} devices are taken over; their first reviews are spread."
        if found.taken_over
        else ""
    )
    print(f"\nNot due yet, by the week they fall due in.{taken}")
    print_table(
        [(f"week of {days.full(monday, found.on)}", str(number)) for monday, number in found.weeks], give=0
    )
