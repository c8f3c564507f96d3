"""A `Store`: one open database, used from one thread; its reads, and its one kind of write transaction."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import peewee

from caseload.errors import NotOurs
from caseload.store import basis, engines, tables

if TYPE_CHECKING:
    from caseload.rules.ledger import Rulebook

_MIGRATIONS = Path(__file__).parent / "migrations"
Row = tuple[Any, ...]


class Store:
    """An open database."""

    tables = tables
    """The tables, for queries built with peewee's own words: `store.query(store.tables.People.select(...))`."""

    def __init__(self, place: str, *, create: bool = False, holidays: str | None = None) -> None:
        """See `open_store`."""
        self.place, self.holidays = place, holidays
        self.engine = engines.open_engine(place, create=create)
        self.db = self.engine.db
        self._basis: basis.Basis | None = None
        with self._plainly():
            self._migrate()
            basis.settle(self)

    def _migrate(self) -> None:
        """Bring the tables to the form this version knows; a copy of the file is kept before."""
        names = sorted(path.stem for path in _MIGRATIONS.glob("[0-9]*.py"))
        newest, version = int(names[-1][:4]), self.engine.version()
        if version > newest:
            raise NotOurs(
                f"{self.engine.path or 'The database'} was written by a newer version of this program;"
                " update the program to open it. Nothing was changed."
            )
        if version == newest:
            return
        from playhouse.migrations import Runner  # type: ignore[import-untyped]

        self.engine.back_up(version)
        Runner(self.db, str(_MIGRATIONS)).up()
        self.engine.migrated(newest)

    @property
    def rulebooks(self) -> tuple[Rulebook, ...]:
        """The protocols in use with their calendars, by first day."""
        if self._basis is None:
            self._basis = basis.read(self)
        return self._basis.rulebooks

    @contextmanager
    def change(self) -> Iterator[None]:
        """One write transaction: all of it is kept, or none."""
        with self._plainly(), self.engine.begin():
            if self._basis is not None and self._basis.stamp != basis.stamp(self):
                self._basis = None
            try:
                yield
            except BaseException:
                self._basis = None
                raise

    def forget_basis(self) -> None:
        """Read protocols and closures again before they are next used."""
        self._basis = None

    def all(self, sql: str, *values: Any) -> list[Row]:
        """All rows of a query written with `?` for its values."""
        with self._plainly():
            return list(self.db.execute_sql(self.engine.adapt(sql), values).fetchall())

    def one(self, sql: str, *values: Any) -> Row | None:
        """The first row, or None."""
        with self._plainly():
            row: Row | None = self.db.execute_sql(self.engine.adapt(sql), values).fetchone()
            return row

    def each(self, sql: str, *values: Any) -> Iterator[Row]:
        """The rows one by one, for reading more than fits into memory at ease."""
        with self._plainly():
            cursor = self.db.execute_sql(self.engine.adapt(sql), values)
            while rows := cursor.fetchmany(2000):
                yield from rows

    def run(self, sql: str, *values: Any) -> int:
        """Run a statement; how many rows it touched."""
        with self._plainly():
            return int(self.db.execute_sql(self.engine.adapt(sql), values).rowcount)

    def many(self, sql: str, rows: Iterable[Sequence[Any]]) -> None:
        """Run a statement once for each row of values."""
        with self._plainly():
            self.db.cursor().executemany(self.engine.adapt(sql), rows)

    def query(self, query: Any) -> list[Row]:
        """All rows of a query built from `tables`, as they come from the driver."""
        with self._plainly():
            return list(self.db.execute(query).fetchall())

    def close(self) -> None:
        """Close the connection; closing twice is no harm."""
        self.db.close()

    def __enter__(self) -> Store:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    @contextmanager
    def _plainly(self) -> Iterator[None]:
        """Say the database's own errors in plain sentences."""
        try:
            yield
        except (peewee.PeeweeException, sqlite3.Error) as error:
            raise self.engine.trouble(error) from error
