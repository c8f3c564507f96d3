"""An act under way: its transaction, its audit entries, and the rebuild of whom it touched."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

from caseload import clock
from caseload.records.case import Case
from caseload.records.facts import Fact
from caseload.store import ledger, writes
from caseload.store.cases import case as read_case
from caseload.store.mapping import said
from caseload.store.values import iso_instant, to_json

if TYPE_CHECKING:
    from caseload.store.store import Store

_ADD = (
    'INSERT INTO audit ("deed", "at", "who", "act", "what", "ref", "person", "device", "before", "after",'
    ' "why", "undoes") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)'
)


@dataclass
class Work:
    """What an act does to the database; it is kept whole when the act ends well, else not at all."""

    store: Store
    who: str
    act: str
    """In the words of the trade: `record`, `strike out`, `change of clinician`."""
    why: str = ""
    undoes: str | None = None
    deed: str = field(default_factory=clock.new_id)
    rebuilt: dict[str, ledger.Rebuilt] = field(default_factory=dict)
    """Filled when the act ends: the follow-ups of each person touched."""
    everyone: bool = False
    """Rebuild all rows at the end rather than those of the persons touched."""
    progress: ledger.Progress | None = None
    cancelled: Callable[[], bool] | None = None
    """Asked now and then while all rows are rebuilt; the act is undone when it says yes."""
    _entries: list[tuple[Any, ...]] = field(default_factory=list)
    _cases: dict[str, Case | None] = field(default_factory=dict)
    _touched: dict[str, None] = field(default_factory=dict)

    def case(self, person: str) -> Case | None:
        """The case as it stands in this act; read once."""
        if person not in self._cases:
            self._cases[person] = read_case(self.store, person)
        return self._cases[person]

    def add_facts(self, facts: Sequence[Fact]) -> None:
        """Add facts, each with an audit entry."""
        writes.add_facts(self.store, facts)
        for fact in facts:
            self.note(fact.kind, fact.id, person=fact.person, device=fact.device, after=fact)
            self._put(fact)

    def replace_fact(self, before: Fact, after: Fact) -> None:
        """Put the next version of a fact in its place; Changed if somebody else was faster."""
        writes.replace_fact(self.store, after)
        self.note(after.kind, after.id, person=after.person, device=after.device, before=before, after=after)
        self._put(after)

    def _put(self, fact: Fact) -> None:
        case = self._cases.get(fact.person)
        if case is not None:
            others = tuple(each for each in case.facts if each.id != fact.id)
            self._cases[fact.person] = replace(case, facts=(*others, fact))
        self.touch(fact.person)

    def add(self, record: Any, **about: str | None) -> None:
        """Add a record that has a table of its own; `about`: the person and device it is about."""
        writes.add(self.store, [record])
        self.note(writes.TABLES[type(record)].name, writes.reference(record), after=record, **about)

    def replace(self, before: Any, after: Any, version: int, **about: str | None) -> None:
        """Put a record in the place of the version on record; Changed if somebody else was faster."""
        writes.replace(self.store, after, version)
        self.note(writes.TABLES[type(after)].name, writes.reference(after), before=before, after=after, **about)

    def remove(self, record: Any, **about: str | None) -> None:
        """Take a record away that has a table of its own."""
        ledger.forget(self.store, record)
        writes.remove(self.store, type(record), writes.key_of(record))
        self.note(writes.TABLES[type(record)].name, writes.reference(record), before=record, **about)

    def note(
        self,
        what: str,
        ref: str,
        *,
        person: str | None = None,
        device: str | None = None,
        before: Any = None,
        after: Any = None,
    ) -> None:
        """Write one thing that changed into the audit; `before`, `after`: a record, a fact, or plain data."""
        at = iso_instant(clock.now())
        states = [None if state is None else to_json(snapshot(state)) for state in (before, after)]
        self._entries.append(
            (self.deed, at, self.who, self.act, what, ref, person, device, *states, self.why, self.undoes)
        )

    def touch(self, person: str, *, afresh: bool = False) -> None:
        """Rebuild the follow-ups of this person when the act ends; `afresh`: read the case again."""
        self._touched[person] = None
        if afresh:
            self._cases.pop(person, None)

    def finish(self) -> None:
        """Rebuild and write the audit; called once, inside the transaction."""
        if self.everyone:
            ledger.rebuild_all(self.store, self.progress, self.cancelled)
        else:
            for person in self._touched:
                case = self.case(person)
                if case is not None:
                    self.rebuilt[person] = ledger.rebuild(self.store, case)
        if len(self._entries) == 1:
            self.store.run(_ADD, *self._entries[0])
        elif self._entries:
            self.store.many(_ADD, self._entries)


def snapshot(state: Any) -> Any:
    """A record or fact as plain data, from which it can be made again."""
    if isinstance(state, Fact):
        envelope = {
            "id": state.id,
            "kind": state.kind,
            "on": state.on.isoformat(),
            "version": state.version,
            "at": state.at,
            "by": state.by,
            "note": state.note,
            "struck_on": state.struck_on and state.struck_on.isoformat(),
            "struck_by": state.struck_by,
            "struck_reason": state.struck_reason,
        }
        return {**{k: v for k, v in envelope.items() if v}, "body": said(state.body)}
    return said(state) if hasattr(state, "__dataclass_fields__") else state


@contextmanager
def act(store: Store, who: str, name: str, why: str = "", undoes: str | None = None) -> Iterator[Work]:
    """One act in one write transaction: what it changed, its audit and the rebuilt rows, or nothing."""
    with store.change():
        work = Work(store, who, name, why, undoes)
        yield work
        work.finish()
