"""A week's list: one line per person, the most pressing first, what else is owed counted beside it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from caseload.plain import plain
from caseload.records.followups import FollowUp, State
from caseload.words import days, owed
from caseload.words.cells import fitted, length

Piece = tuple[str, str]
PRESSING = (State.OPEN, State.LATE, State.MISSED)


@dataclass(frozen=True, slots=True)
class Listed:
    """A follow-up with what a line needs to know about the person."""

    row: FollowUp
    name: str
    """Family name first."""
    device: str
    """`LEFT AFO`; empty for what is owed to the person."""
    clinician: str
    site: str
    booked: date | None = None
    """The appointment the person has on or after today, if any."""


@dataclass(frozen=True, slots=True)
class Line:
    """One person on the list."""

    first: Listed
    others: int
    """How many more follow-ups of the person the list holds."""

    @property
    def key(self) -> str:
        """The person's reference: the cursor stays on the person when the list changes."""
        return self.first.row.person


@dataclass(frozen=True, slots=True)
class Section:
    """A stretch of the list under one heading."""

    heading: str
    lines: tuple[Line, ...]


def sections(rows: Iterable[Listed], today: date, whose: str, site: str) -> tuple[Section, ...]:
    """The list in sections: tier 1 of the site whoever's it is, what is owed now, what opens soon.

    `rows` are in order of work: those of the list (`clinician` or `site` is `whose`) and every tier 1 row of
    the site. A person stands once, where the most pressing row stands.
    """
    urgent, now, soon = [], [], []
    people: dict[str, list[Listed]] = {}
    for listed in rows:
        people.setdefault(listed.row.person, []).append(listed)
    for theirs in people.values():
        line = Line(theirs[0], len(theirs) - 1)
        if theirs[0].row.tier == 1 and theirs[0].row.state(today) in PRESSING:
            urgent.append(line)
        elif any(each.row.state(today) in PRESSING for each in theirs):
            now.append(line)
        else:
            soon.append(line)
    at = f" at {site}" if site else ""
    found = (
        Section(f"Urgent{at}, whoever's they are", tuple(urgent)),
        Section("Owed now", tuple(now)),
        Section("Opens in the next two weeks", tuple(sorted(soon, key=lambda line: line.first.row.opens))),
    )
    return tuple(section for section in found if section.lines)


def pieces(line: Line, today: date, width: int, whose: str) -> list[Piece]:
    """One line in exactly `width` cells; wide screens say more of it in full."""
    first = line.first
    wide = width >= 100
    name, device, what = (30, 13, 34) if wide else (19, 8, 24)
    out: list[Piece] = [
        (fitted(plain(first.name, longest=200), name - 1) + " ", ""),
        (fitted(_device(first.device, wide), device), "quiet"),
        (
            fitted(plain(owed.what_where(first.row) if wide else owed.what(first.row)), what - 1) + " ",
            _tone(first.row, today),
        ),
    ]
    left = max(width - name - device - what, 0)
    stands = owed.stands(first.row, today)
    more = f"and {line.others}" if line.others else ""
    booked = f"booked {days.near(first.booked, today)}" if first.booked else ""
    theirs = plain(first.clinician, longest=60) if first.clinician != whose and (wide or not booked) else ""
    room = left - length(stands) - 1
    rest = [fitted(more, 7 if wide else 6)] if more or wide else []
    for part in (booked, theirs):
        if part and length("  ".join([part, *rest])) <= room:
            rest.insert(0, part)
    told = "  ".join(rest)
    gap = max(left - length(stands) - length(told), 0)
    return [
        *out,
        (fitted(stands, min(left, length(stands))), _when(first.row, today)),
        (" " * gap + told, "quiet"),
    ]


def _device(name: str, wide: bool) -> str:
    if wide or not name:
        return name
    side, _, orthosis = name.partition(" ")
    return f"{side[:1]} {orthosis}"


def _tone(row: FollowUp, today: date) -> str:
    return "urgent" if row.tier == 1 and row.state(today) in PRESSING else ""


def _when(row: FollowUp, today: date) -> str:
    state = row.state(today)
    if state is State.MISSED:
        return "urgent"
    if state is State.LATE:
        return "late"
    return "quiet" if state is State.WAITING else ""


@dataclass(frozen=True, slots=True)
class Quiet:
    """Who is on a list with nothing owed, and why: an empty list must not look like an empty caseload."""

    people: int
    """People on the list who are followed at all."""
    next_opens: date | None
    """The first day on which something of the list opens; None when nothing will."""
    in_no_clock: int
    """Followed, and no row of theirs is owed."""
    paused: int


def empty_said(quiet: Quiet, today: date) -> str:
    """`Nothing owed before Thu 3 Dec; 3 people of this list are in no clock, 2 paused.`"""
    if not quiet.people:
        return "Nobody is on this list."
    begin = f"Nothing owed before {days.full(quiet.next_opens, today)}" if quiet.next_opens else "Nothing owed"
    return f"{begin}{beside(quiet, '; ')}."


def beside(quiet: Quiet, joint: str) -> str:
    """`; 3 people of this list are in no clock, 2 paused`; empty when neither is so."""
    clock = ""
    if quiet.in_no_clock:
        who = days.count(quiet.in_no_clock, "person", "people")
        clock = f"{who} of this list {'are' if quiet.in_no_clock > 1 else 'is'} in no clock"
    paused = f"{quiet.paused} paused" if quiet.paused else ""
    told = ", ".join(part for part in (clock, paused) if part)
    return f"{joint}{told}" if told else ""


def as_text(found: Sequence[Section], today: date, heading: str) -> str:
    """The list as it stands, as plain lines, to be written out or pasted elsewhere."""
    out = [heading]
    for section in found:
        out += ["", section.heading]
        for line in section.lines:
            first = line.first
            parts = (
                first.device,
                plain(owed.what_where(first.row)),
                owed.stands(first.row, today),
                f"and {line.others} more" if line.others else "",
            )
            out.append(
                f"- {plain(first.name)} ({first.row.person}): {', '.join(part for part in parts if part)}"
            )
    return "\n".join(out)
