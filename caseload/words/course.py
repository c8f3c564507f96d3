"""The course of a device: its whole history on one line of a given width.

Delivery stands at the left edge, the next due date at the right, today between them. A capital letter is a
fact that happened (the letter of its kind), a small letter is one that is owed, inside the brackets of its
window. Quiet time is drawn short and says how long it was. Meaning is in letters and shapes; the roles of
the marks only let a screen repeat it in colour.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from caseload.records import words
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, Fact
from caseload.records.followups import FollowUp, FollowUpKind, State
from caseload.words import days

LETTERS = {
    FollowUpKind.FIT_CHECK: "f",
    FollowUpKind.DONNING_PRACTICE: "d",
    FollowUpKind.WEAR_CHECK: "w",
    FollowUpKind.SKIN_LOOK: "s",
    FollowUpKind.ADJUSTMENT: "a",
    FollowUpKind.REASSESSMENT: "r",
    FollowUpKind.SUPPLY: "v",
    FollowUpKind.BACK_FROM_WORKSHOP: "b",
    FollowUpKind.REPLACEMENT: "n",
}
TODAY = "|today|"
QUIET_CELLS = 9
"""A stretch without facts that would take more cells than this is drawn short, with its length written in."""
_SCALES = (1, 2, 3, 5, 7, 10, 14, 21, 28, 42, 61, 91)
"""Days that one cell may stand for, finest first."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A stretch of the line with a meaning."""

    start: int
    end: int
    role: str
    """`fact`, `bad`, `today`, `owed`, `late`, `quiet` or `date`."""


@dataclass(frozen=True, slots=True)
class Course:
    """The line and what its stretches mean."""

    line: str
    marks: tuple[Mark, ...]
    letters: tuple[str, ...]
    """The letters on it, each once, in the order they first stand there: for the legend."""


@dataclass(slots=True)
class _Stop:
    """Everything that stands at one day."""

    day: date
    text: str
    role: str


def course(device: Device, facts: Iterable[Fact], owed: Sequence[FollowUp], today: date, width: int) -> Course:
    """The course of one device in exactly `width` cells (at least 40).

    `facts` are those of the device and of its wearer (falls); `owed` its follow-ups that are not ended.
    """
    happened = sorted((fact for fact in facts if fact.counts and _belongs(fact, device)), key=lambda f: f.on)
    begin = device.delivered or device.taken_over or device.ordered or (happened[0].on if happened else today)
    stops = _stops(happened, owed, today)
    begin = min([begin, *(stop.day for stop in stops)])
    left = f"{days.short(begin, today)} "
    due = min((row.due for row in owed), default=None)
    right = f" due {days.short(due, today)}" if due else ""
    if device.ended and device.ended <= today:
        right = f" ended {days.short(device.ended, today)}"
    room = max(width - len(left) - len(right) - 2, 10)
    pieces = _laid(begin, stops, room)
    pieces = [(left, "date"), ("├", "quiet"), *pieces, ("┤", "quiet"), (right, "date")]
    return _joined(pieces, width)


def legend(letters: Iterable[str]) -> str:
    """`F fit check · W wear report · s skin look owed`, for the letters given."""
    names = {kind.letter: kind.name for kind in BY_NAME.values()}
    owed = {letter: f"{kind} owed" for kind, letter in LETTERS.items()}
    said = {**names, **owed}
    return " · ".join(f"{letter} {said[letter]}" for letter in letters if letter in said)


def _belongs(fact: Fact, device: Device) -> bool:
    if fact.device is None:
        return fact.kind in ("fall", "pause") and (device.ended is None or fact.on <= device.ended)
    return fact.device == device.device


def _stops(happened: Sequence[Fact], owed: Sequence[FollowUp], today: date) -> list[_Stop]:
    """One stop per day and role, in order of days; today after what happened on it, before what is due."""
    stops: list[_Stop] = []
    for fact in happened:
        letter = BY_NAME[fact.kind].letter
        role = "bad" if _is_bad(fact) else "fact"
        if stops and stops[-1].day == fact.on and stops[-1].role != "today":
            if letter not in stops[-1].text:
                stops[-1].text += letter
            stops[-1].role = "bad" if "bad" in (role, stops[-1].role) else "fact"
        else:
            stops.append(_Stop(fact.on, letter, role))
    stops.append(_Stop(today, TODAY, "today"))
    nearest = min(owed, key=lambda row: (row.due, row.tier), default=None)
    for row in sorted(owed, key=lambda row: row.due):
        letter = LETTERS.get(row.kind, "")
        role = "late" if row.state(today) in (State.LATE, State.MISSED) else "owed"
        if row is nearest:
            stops.append(_Stop(row.opens, "[", role))
            stops.append(_Stop(row.last_day, "]", role))
        stops.append(_Stop(row.due, letter, role))
    order = {"[": 2, "]": 4, TODAY: 1}
    return sorted(stops, key=lambda stop: (stop.day, order.get(stop.text, 0 if stop.text.isupper() else 3)))


def _is_bad(fact: Fact) -> bool:
    """What a reader should not overlook: a fall, broken skin, wear stopped, a device not to be worn."""
    body = fact.body
    return (
        fact.kind in ("fall", "wear stop")
        or getattr(body, "skin", "") in (words.DARK, words.BLISTER, words.BROKEN)
        or bool(getattr(body, "signs", ()))
        or getattr(body, "overall", "") == words.NOT_TO_BE_WORN
    )


def _laid(begin: date, stops: list[_Stop], room: int) -> list[tuple[str, str]]:
    """The pieces between the edges, `room` cells: at the finest scale that fits, the oldest folded if none."""
    for scale in _SCALES:
        pieces = _drawn(begin, stops, scale)
        if _length(pieces) <= room:
            return _padded(pieces, room)
    for folded in range(1, len(stops)):
        rest = stops[folded:]
        head = (f"… {sum(len(s.text) for s in stops[:folded] if s.text.isupper())} earlier …", "quiet")
        pieces = [head, *_drawn(rest[0].day, rest, _SCALES[-1])]
        if _length(pieces) <= room:
            return _padded(pieces, room)
    return _padded([("…", "quiet")], room)


def _drawn(begin: date, stops: Sequence[_Stop], scale: int) -> list[tuple[str, str]]:
    pieces: list[tuple[str, str]] = []
    before = begin
    window = False
    for stop in stops:
        gap = (stop.day - before).days
        cells = -(-gap // scale) - (1 if gap and pieces and pieces[-1][1] != "quiet" else 0)
        if gap > 0 and cells > 0:
            pieces.append((_quiet(gap, cells, "·" if window else "─"), "quiet"))
        pieces.append((stop.text, stop.role))
        window = (window or stop.text == "[") and stop.text != "]"
        before = max(before, stop.day)
    return pieces


def _quiet(gap: int, cells: int, line: str) -> str:
    if cells <= QUIET_CELLS:
        return line * cells
    said = f" {days.span(gap)} "
    side = line * max((QUIET_CELLS + 5 - len(said)) // 2, 1)
    return f"{side}{said}{side}"


def _length(pieces: Sequence[tuple[str, str]]) -> int:
    return sum(len(text) for text, _ in pieces)


def _padded(pieces: list[tuple[str, str]], room: int) -> list[tuple[str, str]]:
    """Spread what is left over quiet stretches, longest first, so that the line ends at the edge."""
    spare = room - _length(pieces)
    if spare <= 0:
        return pieces
    quiet = [at for at, (text, role) in enumerate(pieces) if role == "quiet" and text[0] in "─·"]
    if not quiet:
        return [*pieces, ("─" * spare, "quiet")]
    share, over = divmod(spare, len(quiet))
    for number, at in enumerate(quiet):
        text = pieces[at][0]
        more = share + (1 if number < over else 0)
        pieces[at] = (text[0] * (more // 2) + text + text[0] * (more - more // 2), "quiet")
    return pieces


def _joined(pieces: Sequence[tuple[str, str]], width: int) -> Course:
    line, marks, letters = "", [], []
    for text, role in pieces:
        if text:
            marks.append(Mark(len(line), len(line) + len(text), role))
        if role in ("fact", "bad", "owed", "late"):
            letters += [letter for letter in text if letter.isalpha() and letter not in letters]
        line += text
    return Course(line[:width].ljust(width), tuple(marks), tuple(letters))
