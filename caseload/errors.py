"""What can go wrong, each said in plain sentences; nothing has been changed when one is raised."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong, in one sentence a person can act on."""

    says: str
    field: str = ""
    """The field it stands at, so that a form can say it there; empty if it is about the whole."""
    warning: bool = False
    """Kept all the same; only said."""

    def __str__(self) -> str:
        return self.says


class CaseloadError(Exception):
    """Any error meant for the person at the screen; its text is one or more plain sentences."""


class Refused(CaseloadError):  # noqa: N818 - named as it is said
    """What was asked for cannot be done as it stands."""

    def __init__(self, problems: Iterable[object]) -> None:
        """`problems`: at least one; what is no `Problem` becomes one of the whole by its text."""
        self.at = tuple(each if isinstance(each, Problem) else Problem(str(each)) for each in problems)
        """The problems with the fields they stand at."""
        super().__init__("\n".join(self.problems))

    @property
    def problems(self) -> list[str]:
        """The sentences alone."""
        return [problem.says for problem in self.at]


class Changed(CaseloadError):  # noqa: N818 - named as it is said
    """Somebody else saved the same thing meanwhile; both values are kept here for the person to choose."""

    def __init__(self, what: str, yours: object, theirs: object, by: str = "") -> None:
        """`what`: the thing in words; `yours`, `theirs`: the values wanted and on record."""
        self.what, self.yours, self.theirs, self.by = what, yours, theirs, by
        who = f"by {by} " if by else ""
        super().__init__(f"{what} was changed {who}meanwhile; nothing of yours was saved.")


class Trouble(CaseloadError):  # noqa: N818 - named as it is said
    """The database cannot be used, or not now: in use, full, damaged, read-only, not reachable."""


class NotOurs(Trouble):
    """The file is no caseload, or not one this version can read."""


class Cancelled(CaseloadError):  # noqa: N818 - named as it is said
    """A long act was stopped by the person who began it; nothing was changed."""
