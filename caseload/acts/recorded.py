"""What an act did, and what that did to the follow-ups of the people concerned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from caseload.errors import Problem
from caseload.records.facts import Fact
from caseload.records.followups import FollowUp
from caseload.store.ledger import Rebuilt
from caseload.store.work import Work


@dataclass(frozen=True, slots=True)
class Recorded:
    """What an act did to facts, and what that did to the follow-ups of the people concerned."""

    facts: tuple[Fact, ...]
    warnings: tuple[Problem, ...] = ()
    deed: str = ""
    """Names the act in the audit."""
    rebuilt: tuple[Rebuilt, ...] = ()
    """One for each person concerned."""

    @property
    def before(self) -> tuple[FollowUp, ...]:
        """The follow-ups of the people concerned as they were."""
        return tuple(row for each in self.rebuilt for row in each.before)

    @property
    def after(self) -> tuple[FollowUp, ...]:
        """The follow-ups of the people concerned as they are now."""
        return tuple(row for each in self.rebuilt for row in each.after)

    @property
    def done(self) -> list[FollowUp]:
        """The follow-ups that ended through this act."""
        were, owed = set(self.before), {_name(row) for row in self.before if row.ended is None}
        return [row for row in self.after if row.ended is not None and row not in were and _name(row) in owed]

    @property
    def new(self) -> list[FollowUp]:
        """The follow-ups owed now that were not owed before, or not with these dates."""
        were = set(self.before)
        return [row for row in self.after if row.ended is None and row not in were]


def _name(row: FollowUp) -> tuple[object, ...]:
    return row.kind, row.device, row.cause, row.started


def recorded(work: Work, facts: Sequence[Fact] = (), warnings: Sequence[Problem] = ()) -> Recorded:
    """The outcome of an act that has ended well."""
    return Recorded(tuple(facts), tuple(warnings), work.deed, tuple(work.rebuilt.values()))
