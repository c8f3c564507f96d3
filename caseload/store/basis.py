"""What the ledger is made under: the protocols in use, the closures, the holiday region.

The table `basis` says what the stored ledger was made under, so that a session notices within its
next transaction that another one put a protocol or a closure in force.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from caseload import clock
from caseload.errors import Trouble
from caseload.store.values import day, iso_day, iso_instant

if TYPE_CHECKING:
    from caseload.rules.ledger import Rulebook
    from caseload.rules.protocol import Protocol
    from caseload.store.store import Store

Stamp = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Basis:
    """What was read, and the stamp it was read under."""

    stamp: Stamp
    rulebooks: tuple[Rulebook, ...]


def stamp(store: Store) -> Stamp:
    """The revision of protocols and closures, and the holiday region the ledger was made with."""
    return tuple(store.all("SELECT name, value FROM basis ORDER BY name"))


def read(store: Store) -> Basis:
    """Read protocols and closures; a few milliseconds, so it is kept by the store."""
    from caseload.rules.calendar import Calendar
    from caseload.rules.ledger import Rulebook

    closures = [(day(on), site) for on, site in store.all('SELECT "on", site FROM closures')]
    made: dict[tuple[str, frozenset[int]], Calendar] = {}
    rulebooks = []
    for protocol in protocols(store):
        region = protocol.region if store.holidays is None else store.holidays
        calendar = made.setdefault((region, protocol.weekdays), Calendar(region, protocol.weekdays, closures))
        rulebooks.append(Rulebook(protocol, calendar))
    return Basis(stamp(store), tuple(rulebooks))


def protocols(store: Store) -> list[Protocol]:
    """The protocols in use by first day; of two of one day the one put in use last."""
    from caseload.rules.protocol import read_protocol

    by_day: dict[date, Protocol] = {}
    for first_day, text in store.all("SELECT first_day, text FROM protocols ORDER BY first_day, id"):
        protocol, problems = read_protocol(text)
        if protocol is None:
            raise Trouble(f"A protocol in use cannot be read any more: {problems[0]}")
        by_day[day(first_day)] = protocol
    return list(by_day.values())


def add_protocol(store: Store, text: str, protocol: Protocol, who: str) -> None:
    """Put a protocol in use; the ledger must be rebuilt in the same transaction."""
    store.run(
        "INSERT INTO protocols (version, first_day, text, used_at, used_by) VALUES (?, ?, ?, ?, ?)",
        protocol.version,
        iso_day(protocol.first_day),
        text,
        iso_instant(clock.now()),
        who,
    )
    changed(store)


def changed(store: Store) -> None:
    """Say that protocols or closures are no longer what they were."""
    store.run("UPDATE basis SET value = CAST(CAST(value AS INTEGER) + 1 AS TEXT) WHERE name = 'revision'")
    store.forget_basis()


def settle(store: Store) -> None:
    """Make a new database ready, and the ledger one of this run's holiday region."""
    from caseload.store import ledger

    wanted = store.holidays or ""
    kept = dict(stamp(store))
    if kept.get("holidays") == wanted:
        return
    with store.change():
        if not kept:
            from caseload.rules.protocol import shipped, shipped_text

            store.many("INSERT INTO basis VALUES (?, ?)", [("revision", "0"), ("holidays", wanted)])
            # Kept word for word: a later release may ship other numbers, and the past must not move.
            add_protocol(store, shipped_text(), shipped(), "shipped")
        store.run("UPDATE basis SET value = ? WHERE name = 'holidays'", wanted)
        store.forget_basis()
        ledger.rebuild_all(store)
