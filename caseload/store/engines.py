"""The two engines, SQLite and PostgreSQL; what differs between them stands here and nowhere else."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from pathlib import Path
from typing import Any

import peewee

from caseload.errors import CaseloadError, NotOurs, Trouble
from caseload.store import files

_BUSY_SECONDS = 10
_ONE_WRITER = 0x434C4F44
"""The advisory lock that makes writers on a server wait for each other, as IMMEDIATE does in SQLite."""


class Sqlite:
    """One file on this computer, or none at all (`path` None: in memory, gone when closed)."""

    in_byte_order = ""

    def __init__(self, path: Path | None, *, create: bool = False) -> None:
        """Raises Trouble or NotOurs when the file cannot be used."""
        self.path = path
        if path is not None and not files.look_at(path) and create:
            files.make_private(path)
        pragmas = {"foreign_keys": 1, "synchronous": "FULL", "cache_size": -65536}
        self.db: Any = peewee.SqliteDatabase(
            str(path) if path else ":memory:", pragmas=pragmas, timeout=_BUSY_SECONDS
        )
        try:
            self.db.connect()
            self._claim()
        except (peewee.PeeweeException, sqlite3.Error) as error:
            raise self.trouble(error) from error

    def _claim(self) -> None:
        """Make sure that the file is ours, or empty and so ours to take."""
        owner = self.db.application_id
        if owner == 0 and not self.db.execute_sql("SELECT 1 FROM sqlite_master").fetchone():
            self.db.application_id = files.APPLICATION
        elif owner != files.APPLICATION:
            raise NotOurs(f"{self.path} is a database of another program; it was left as it is.")
        if self.path is not None:
            self.db.journal_mode = "wal"

    @staticmethod
    def adapt(sql: str) -> str:
        """SQL is written with `?`, as SQLite takes it."""
        return sql

    def begin(self) -> Any:
        """A write transaction that waits for its turn at once rather than failing in the middle."""
        return self.db.atomic("IMMEDIATE")

    def version(self) -> int:
        """The number of the last migration."""
        return int(self.db.user_version)

    def migrated(self, version: int) -> None:
        """Write the number where other programs look for it."""
        self.db.user_version = version

    def back_up(self, version: int) -> Path | None:
        """Copy the file before it is changed to a newer form; the copy, or None with nothing to copy."""
        if self.path is None or version == 0:
            return None
        copy = self.path.with_name(f"{self.path.stem}.before-{version + 1:04d}{self.path.suffix}")
        files.make_private(copy)
        with sqlite3.connect(copy) as target:
            self.db.connection().backup(target)
        target.close()
        return copy

    def trouble(self, error: BaseException) -> CaseloadError:
        """The error in one plain sentence; programming mistakes are raised as they are."""
        chain = _chain(error)
        if said := next((each for each in chain if isinstance(each, CaseloadError)), None):
            return said
        where = self.path or "the database"
        names = {getattr(each, "sqlite_errorname", "") for each in chain}
        for start, says in _SQLITE:
            if any(name.startswith(start) for name in names):
                return Trouble(says.format(where=where))
        if "SQLITE_NOTADB" in names:
            return NotOurs(f"{where} is no database, or one that is encrypted or damaged.")
        raise error


_SQLITE = (
    ("SQLITE_BUSY", "Another window is saving and did not finish in time; nothing was saved. Try again."),
    ("SQLITE_LOCKED", "Another window is saving and did not finish in time; nothing was saved. Try again."),
    ("SQLITE_FULL", "The disk is full; nothing of this was saved, and everything saved before is kept."),
    ("SQLITE_IOERR", "The disk refused to write {where}; nothing of this was saved."),
    ("SQLITE_READONLY_DIR", "The folder of {where} is not writable; files beside the database are needed."),
    ("SQLITE_READONLY", "{where} is read-only; nothing was saved."),
    ("SQLITE_CANTOPEN", "{where} cannot be opened: there is no such folder, or it may not be entered."),
    ("SQLITE_CORRUPT", "{where} is damaged. Keep the file as it is and restore the latest backup."),
)


class Postgres:
    """A PostgreSQL server, by URL."""

    in_byte_order = ' COLLATE "C"'
    path = None

    def __init__(self, url: str) -> None:
        """Raises Trouble when the server cannot be reached."""
        try:
            from playhouse.postgres_ext import Psycopg3Database  # type: ignore[import-untyped]

            self.db: Any = Psycopg3Database(url)
            self.db.connect()
        except (ImportError, peewee.ImproperlyConfigured) as error:
            raise Trouble("PostgreSQL needs one more package: pip install 'caseload[server]'.") from error
        except peewee.PeeweeException as error:
            raise Trouble("The PostgreSQL server cannot be reached; nothing was changed.") from error

    @staticmethod
    @lru_cache(maxsize=512)
    def adapt(sql: str) -> str:
        """Placeholders as this driver wants them."""
        return sql.replace("%", "%%").replace("?", "%s")

    @contextmanager
    def begin(self) -> Iterator[None]:
        """A write transaction; writers wait for each other."""
        with self.db.atomic():
            self.db.execute_sql("SELECT pg_advisory_xact_lock(%s)", (_ONE_WRITER,))
            yield

    def version(self) -> int:
        """The number of the last migration."""
        if self.db.execute_sql("SELECT to_regclass('schema_migration')").fetchone()[0] is None:
            return 0
        last = self.db.execute_sql("SELECT max(name) FROM schema_migration").fetchone()[0]
        return int(last[:4]) if last else 0

    def migrated(self, version: int) -> None:
        """The history table says it already."""

    def back_up(self, version: int) -> Path | None:
        """A server's backups are its keeper's."""
        return None

    def trouble(self, error: BaseException) -> CaseloadError:
        """The error in one plain sentence; programming mistakes are raised as they are."""
        if isinstance(error, (peewee.OperationalError, peewee.InterfaceError)):
            return Trouble("The PostgreSQL server did not answer; nothing of this was saved.")
        raise error


Engine = Sqlite | Postgres


def open_engine(place: str, *, create: bool) -> Engine:
    """The engine for a path or a URL; a file that is not there, and not to be made, reads as empty.

    `:memory:`, as SQLite calls it, is no file: gone when closed.
    """
    if "://" in place:
        if place.split("://")[0] not in ("postgresql", "postgres"):
            raise Trouble(f"{place.split('://')[0]}:// is no database known here; use postgresql:// or a path.")
        return Postgres(place)
    if place == ":memory:":
        return Sqlite(None)
    path = Path(place).expanduser()
    if not create and not files.look_at(path):
        return Sqlite(None)
    return Sqlite(path, create=create)


def append_only(db: Any, table: str) -> None:
    """Refuse, in the database itself, to change or remove a row of the table."""
    if type(db).__name__.startswith("Sqlite"):
        for act in ("UPDATE", "DELETE"):
            db.execute_sql(
                f"CREATE TRIGGER {table}_no_{act.lower()} BEFORE {act} ON {table}"
                f" BEGIN SELECT RAISE(ABORT, '{table} is only ever added to'); END"
            )
        return
    db.execute_sql(
        f"CREATE FUNCTION {table}_is_kept() RETURNS trigger LANGUAGE plpgsql AS"
        f" $$ BEGIN RAISE EXCEPTION '{table} is only ever added to'; END $$"
    )
    db.execute_sql(
        f"CREATE TRIGGER {table}_kept BEFORE UPDATE OR DELETE OR TRUNCATE ON {table}"
        f" FOR EACH STATEMENT EXECUTE FUNCTION {table}_is_kept()"
    )


def _chain(error: BaseException) -> list[BaseException]:
    """The error and all it came from; peewee hides the driver's own deep inside (a full disk, say)."""
    seen: list[BaseException] = []
    todo: list[BaseException | None] = [error]
    while todo:
        each = todo.pop()
        if each is not None and each not in seen:
            seen.append(each)
            todo += [each.__cause__, each.__context__]
    return seen
