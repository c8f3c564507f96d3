"""The lane: stale reads are not delivered, writes are never lost, everything ends."""

import asyncio
import subprocess
import sys
import threading
from typing import Any

import pytest

from caseload.acts import facts, people
from caseload.acts.desk import at_desk
from caseload.acts.facts import Draft
from caseload.errors import NotOurs, Refused
from caseload.store import open_store
from caseload.store import people as reads
from caseload.store.lane import Lane
from caseload.store.store import Store
from tests.store.databases import TODAY

NEW = {"person": "P1", "family_name": "Lindqvist", "given_name": "Åsa"}


def _hold(gate: threading.Event) -> Any:
    def held(store: Store) -> None:
        assert gate.wait(10)

    return held


async def test_reads_and_acts_go_through(file: str) -> None:
    lane = Lane(file)
    await lane.open()
    await lane.change(at_desk, "imogen", TODAY, people.add, NEW)
    assert [found.name for found in await lane.read(reads.find, "asa")] == ["Lindqvist, Åsa"]
    with pytest.raises(Refused, match="used already"):
        await lane.change(at_desk, "imogen", TODAY, people.add, NEW)
    await lane.close()
    await lane.close()


async def test_one_thread_owns_the_database(file: str) -> None:
    lane = Lane(file)
    names = {await lane.read(lambda store: threading.current_thread().name) for _ in range(5)}
    assert len(names) == 1 and names != {threading.current_thread().name}
    await lane.close()
    assert not names & {thread.name for thread in threading.enumerate()}


async def test_only_the_last_search_is_delivered(file: str) -> None:
    lane, gate = Lane(file), threading.Event()
    held = asyncio.create_task(lane.read(_hold(gate)))
    ran: list[int] = []

    def search(store: Store, number: int) -> int:
        ran.append(number)
        return number

    searches = [asyncio.create_task(lane.read_last("find", search, number)) for number in range(4)]
    other = asyncio.create_task(lane.read_last("list", search, 9))
    await asyncio.sleep(0)
    gate.set()
    outcomes = await asyncio.gather(*searches, return_exceptions=True)
    assert all(isinstance(outcome, asyncio.CancelledError) for outcome in outcomes[:3])
    assert outcomes[3] == 3 and await other == 9
    assert ran == [3, 9]
    await held
    await lane.close()


async def test_a_cancelled_read_that_has_not_begun_is_dropped(file: str) -> None:
    lane, gate = Lane(file), threading.Event()
    held = asyncio.create_task(lane.read(_hold(gate)))
    await asyncio.sleep(0)
    ran: list[int] = []
    waiting = asyncio.create_task(lane.read(lambda store: ran.append(1)))
    await asyncio.sleep(0)
    waiting.cancel()
    await asyncio.sleep(0)
    gate.set()
    await held
    await lane.close()
    assert ran == []


async def test_a_save_pressed_just_before_closing_is_written(file: str) -> None:
    lane, gate = Lane(file), threading.Event()
    held = asyncio.create_task(lane.read(_hold(gate)))
    save = asyncio.create_task(lane.change(at_desk, "imogen", TODAY, people.add, NEW))
    fall = Draft("fall", TODAY, {}, person="P1")
    then = asyncio.create_task(lane.change(at_desk, "imogen", TODAY, facts.record, [fall]))
    await asyncio.sleep(0)
    save.cancel()
    then.cancel()
    await asyncio.gather(save, then, return_exceptions=True)
    assert save.cancelled() and then.cancelled()
    closing = asyncio.create_task(lane.close())
    await asyncio.sleep(0)
    gate.set()
    await closing
    await held
    with open_store(file) as store:
        assert reads.person(store, "P1") is not None
        assert store.one("SELECT COUNT(*) FROM facts") == (1,)
    with pytest.raises(RuntimeError, match="closed"):
        await lane.change(at_desk, "imogen", TODAY, people.add, NEW)


async def test_trouble_comes_back_in_plain_words(tmp_path: Any) -> None:
    path = tmp_path / "notes.txt"
    path.write_text("my notes")
    lane = Lane(str(path))
    with pytest.raises(NotOurs, match="text file"):
        await lane.open()
    await lane.close()


def test_peewee_is_imported_on_the_lane_only() -> None:
    script = (
        "import sys\n"
        "import caseload.store, caseload.store.lane, caseload.store.owed, caseload.store.people\n"
        "import caseload.store.cases, caseload.store.audit, caseload.store.clinic, caseload.store.work\n"
        "import caseload.acts.facts, caseload.acts.people, caseload.acts.devices, caseload.acts.undo\n"
        "import caseload.acts.clinic, caseload.acts.protocol\n"
        "print(sorted({'peewee', 'psycopg', 'textual', 'holidays', 'platformdirs'} & set(sys.modules)))\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
