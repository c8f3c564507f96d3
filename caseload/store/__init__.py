"""The database: opened here, read through plain functions that take a `Store`, changed through `acts`.

Importing this package, or anything in it but the engines and tables, does not import peewee.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from caseload.store.store import Store


def open_store(place: str, *, create: bool = False, holidays: str | None = None) -> Store:
    """Open the database at a path or a `postgresql://` URL, for use from this thread only.

    A file that does not exist is made with `create`, else it reads as an empty caseload and nothing
    is written. `holidays`: a region that overrules the protocol's for this run.
    Raises Trouble or NotOurs, in one sentence, when it cannot be used.
    """
    from caseload.store.store import Store

    return Store(place, create=create, holidays=holidays)
