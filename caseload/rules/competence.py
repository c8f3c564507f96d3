"""Who manages putting the device on and taking it off (rules.md 4.2). Wearer and carers are separate."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.facts import Fact
from caseload.rules.protocol.settings import DonningRules


@dataclass(slots=True)
class Learner:
    """The wearer, or one carer, and how far they have come."""

    who: str
    scored: list[Fact]
    """Practices with both levels on the scale, in order."""
    competent_since: date | None = None
    """None while not (or no longer) competent."""
    last_enough: date | None = None
    """The day of the latest scored practice, if it was enough."""

    def stalled(self, after: int) -> bool:
        """Whether the last so many scored practices brought no gain in donning."""
        if self.competent_since is not None or len(self.scored) < after:
            return False
        return int(self.scored[-1].body.don) <= int(self.scored[-after].body.don)


class Competence:
    """Competence as it builds up, practice by practice."""

    def __init__(self, rules: DonningRules, lives_alone: bool) -> None:
        self.rules = rules
        self.lives_alone = lives_alone
        self.learners: dict[str, Learner] = {}

    def take(self, practice: Fact, day: date) -> None:
        """Count one practice in; `day` is the day it counts as."""
        body = practice.body
        learner = self.learners.setdefault(body.who, Learner(body.who, []))
        if body.don in words.NOT_ATTEMPTED or body.doff in words.NOT_ATTEMPTED:
            return
        learner.scored.append(practice)
        if not self.is_enough(body.who, body.don, body.doff):
            learner.competent_since = learner.last_enough = None
            return
        if learner.last_enough is not None and learner.last_enough < day and learner.competent_since is None:
            learner.competent_since = day
        learner.last_enough = day

    def is_enough(self, who: str, don: str, doff: str) -> bool:
        """Whether one practice was good enough."""
        alone = who == words.WEARER and self.lives_alone
        enough = self.rules.enough_alone if alone else self.rules.enough
        return don in enough and doff in enough

    @property
    def reached(self) -> bool:
        """Whether anybody is competent."""
        return any(learner.competent_since is not None for learner in self.learners.values())


def competence(
    practices: Iterable[Fact], rules: DonningRules, lives_alone: bool, delivered: date | None
) -> Competence:
    """Competence after all the practices; those before delivery count as on its day."""
    found = Competence(rules, lives_alone)
    for practice in practices:
        found.take(practice, max(practice.on, delivered or practice.on))
    return found
