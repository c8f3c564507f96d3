"""Who acts, and on which day: every act is done from a desk."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, TypeVar

from caseload.rules.protocol import Protocol
from caseload.store.work import Work, act

if TYPE_CHECKING:
    from caseload.store.store import Store

_R = TypeVar("_R")


@dataclass(frozen=True, slots=True)
class Desk:
    """One person at work on one day."""

    store: Store
    who: str
    today: date

    def act(self, name: str, why: str = "", undoes: str | None = None) -> AbstractContextManager[Work]:
        """One act: a transaction with its audit and the rebuild of whom it touched."""
        return act(self.store, self.who, name, why, undoes)

    def protocol(self, on: date | None = None) -> Protocol:
        """The protocol in force on a day (today)."""
        day = on or self.today
        books = self.store.rulebooks
        return next(
            (book.protocol for book in reversed(books) if book.protocol.first_day <= day), books[0].protocol
        )


def at_desk(store: Store, who: str, today: date, what: Callable[..., _R], *args: Any) -> _R:
    """Do an act from a desk made for it; what screens hand to the database lane."""
    return what(Desk(store, who, today), *args)
