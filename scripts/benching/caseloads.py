"""The caseloads that are measured: made by the demo script at size, loaded once, kept in a temporary folder."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from demo_clinic.making import REFERENCE, make

from caseload.acts.desk import Desk
from caseload.acts.load import load
from caseload.store import open_store
from caseload.store.store import Store


@dataclass
class Caseloads:
    """Workbooks and databases by number of people; made when first asked for."""

    folder: Path
    size: int
    today: date = REFERENCE
    _known: dict[int, Path] = field(default_factory=dict)

    def workbook(self, size: int) -> Path:
        """The zip with so many people."""
        path = self.folder / f"{size}.zip"
        if not path.exists():
            make(path, size)
        return path

    def database(self, size: int) -> Path:
        """The SQLite file with so many people."""
        path = self.folder / f"{size}.db"
        if size not in self._known:
            with open_store(str(path), create=True) as store:
                load(Desk(store, "bench", self.today), self.workbook(size))
            self._known[size] = path
        return path

    @contextmanager
    def opened(self, size: int) -> Iterator[Store]:
        """The database with so many people, open."""
        with open_store(str(self.database(size))) as store:
            yield store
