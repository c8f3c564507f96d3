"""Killed anywhere (SIGKILL): what was acknowledged is there, nothing is half there, the ledger is a rebuild."""

import random
import subprocess
import sys
import time

import pytest

from caseload.acts.desk import Desk
from caseload.rules.ledger import follow_ups
from caseload.store import cases, open_store, owed
from caseload.store.store import Store
from tests.store.databases import TODAY, someone
from tests.store.recorder import AT_ONCE

KILLS = {"sqlite": 20, "postgresql": 4}


def _killed(place: str, what: str, after: float, warm: bool) -> list[str]:
    """The lines a recorder said before it was killed, so long after its start or after its first act."""
    process = subprocess.Popen(
        [sys.executable, "-m", "tests.store.recorder", place, what], stdout=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "ready\n"
    first = process.stdout.readline() if warm else ""
    time.sleep(after)
    process.kill()
    said = first + process.communicate()[0]
    # The last line may be cut in the middle; then nobody was told.
    return [line for line in said.splitlines(keepends=True) if line.endswith("\n")]


@pytest.mark.parametrize("what", ["record", "bring"])
def test_killed_anywhere(place: str, what: str) -> None:
    engine = "postgresql" if "://" in place else "sqlite"
    chance = random.Random(f"{what} {engine}")
    with open_store(place) as store:
        someone(Desk(store, "imogen", TODAY))
    said: list[str] = []
    for number in range(KILLS[engine]):
        # Every other time from its first act on: how long the rules take to load is not to decide.
        said += _killed(place, what, chance.uniform(0, 0.25), warm=number % 2 == 1)
    with open_store(place) as store:
        if what == "record":
            ids = {row[0] for row in store.all('SELECT "id" FROM facts')}
            assert {each for line in said for each in line.split()} <= ids
        else:
            marks = [row[0] for row in store.all("SELECT ref FROM audit WHERE act = 'load'")]
            assert {line.strip() for line in said} <= set(marks)
            by_mark = store.all('SELECT substr("person", 1, 8), COUNT(*) FROM facts GROUP BY 1')
            assert dict(by_mark) == dict.fromkeys(marks, AT_ONCE)
        assert said
        _is_whole(store)


def _is_whole(store: Store) -> None:
    """No fact without its audit, none of an act without the others, and the ledger a full rebuild."""
    acts = store.all("SELECT deed, COUNT(*) FROM audit WHERE act = 'record' GROUP BY deed")
    assert all(number == 2 for _, number in acts)
    facts, entries = store.one("SELECT (SELECT COUNT(*) FROM facts), (SELECT COUNT(*) FROM audit)")
    assert facts == sum(number for _, number in acts) or facts % AT_ONCE == 0
    assert entries >= sum(number for _, number in acts)
    want = [row for batch in cases.cases(store) for case in batch for row in follow_ups(case, store.rulebooks)]
    kept = [each.row for each in owed.listed(store, TODAY, ended_too=True)]
    assert len(kept) == len(want) and set(kept) == set(want)
