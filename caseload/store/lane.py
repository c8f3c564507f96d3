"""The database lane: one long-lived thread that owns one `Store`; screens await what it does.

Reads may be cancelled, and of several in one group only the last is delivered. Writes are shielded from
the screen that asked for them, done in order, and drained when the lane closes: a save pressed just
before its screen goes away is written.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec, TypeVar

if TYPE_CHECKING:
    from caseload.store.store import Store

_P = ParamSpec("_P")
_R = TypeVar("_R")


class Superseded(asyncio.CancelledError):
    """A newer read of the same group was asked for meanwhile; there is nothing to show."""


class Lane:
    """The one way from a screen to the database."""

    def __init__(self, place: str, *, create: bool = True, holidays: str | None = None) -> None:
        """Nothing is opened, and peewee not imported, before the first use on the lane's own thread."""
        self._place, self._create, self._holidays = place, create, holidays
        self._thread = ThreadPoolExecutor(max_workers=1, thread_name_prefix="database")
        self._store: Store | None = None
        self._latest: dict[str, int] = {}
        self._changes: set[Future[Any]] = set()
        self._closed = False

    async def open(self) -> None:
        """Open the database now rather than at the first read; raises Trouble in plain words."""
        await asyncio.wrap_future(self._thread.submit(self._opened))

    async def read(
        self,
        function: Callable[Concatenate[Store, _P], _R],
        /,
        *args: _P.args,
        **kwargs: _P.kwargs,
    ) -> _R:
        """What a reading function of the store gives. Cancelling the await drops a read not yet begun."""
        return await asyncio.wrap_future(self._thread.submit(self._call, function, args, kwargs))

    async def read_last(
        self,
        group: str,
        function: Callable[Concatenate[Store, _P], _R],
        /,
        *args: _P.args,
        **kwargs: _P.kwargs,
    ) -> _R:
        """As `read`; but raises Superseded (a cancellation) if the group was asked again meanwhile."""
        turn = self._latest[group] = self._latest.get(group, 0) + 1

        def unless_superseded() -> _R:
            if self._latest[group] != turn:
                raise Superseded
            return function(self._opened(), *args, **kwargs)

        result = await asyncio.wrap_future(self._thread.submit(unless_superseded))
        if self._latest[group] != turn:
            raise Superseded
        return result

    async def change(
        self,
        function: Callable[Concatenate[Store, _P], _R],
        /,
        *args: _P.args,
        **kwargs: _P.kwargs,
    ) -> _R:
        """Do an act. It is done even when the one who awaits it is cancelled; then nobody is told."""
        if self._closed:
            raise RuntimeError("the lane is closed")
        job = self._thread.submit(self._call, function, args, kwargs)
        self._changes.add(job)
        job.add_done_callback(self._changes.discard)
        return await asyncio.shield(asyncio.wrap_future(job))

    async def close(self) -> None:
        """Do every change that was asked for, then close the database and end the thread."""
        if self._closed:
            return
        self._closed = True
        await asyncio.shield(asyncio.wrap_future(self._thread.submit(self._close_store)))
        self._thread.shutdown(wait=True)

    def _call(self, function: Callable[..., _R], args: Any, kwargs: Any) -> _R:
        return function(self._opened(), *args, **kwargs)

    def _opened(self) -> Store:
        """The store, opened on the lane's own thread."""
        if self._store is None:
            from caseload.store import open_store

            self._store = open_store(self._place, create=self._create, holidays=self._holidays)
        return self._store

    def _close_store(self) -> None:
        if self._store is not None:
            self._store.close()
