"""How the page of a person is drawn: courses, and one line each for what is owed, a device, an entry."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from caseload.plain import plain
from caseload.records.case import Case
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, Fact
from caseload.records.followups import FollowUp, State
from caseload.screens.asking import Seen
from caseload.screens.widgets.tone import Piece
from caseload.words import about, days, owed, sentences
from caseload.words.cells import fitted, wrapped
from caseload.words.course import course, legend
from caseload.words.form import in_use

NONE = {
    "Owed": "Nothing is owed.",
    "Devices": "No device yet; + adds one.",
    "History": "Nothing recorded yet; f records a fact.",
}


def devices_in_order(case: Case) -> list[Device]:
    """In use first, left before right, then the newest."""
    return sorted(case.devices, key=lambda device: (device.ended is not None, device.side, device.device))


def courses(seen: Seen, today: date, width: int, roomy: bool) -> list[list[Piece]]:
    """Name and line of each device in use; the letters are explained where there is room."""
    out: list[list[Piece]] = []
    letters: list[str] = []
    worn = in_use(seen.case, today)
    owing = {row.device for row in seen.rows if row.ended is None}
    others = [device for device in devices_in_order(seen.case) if device not in worn and device.device in owing]
    shown = [*worn, *others] or devices_in_order(seen.case)[:1]
    for device in shown[:4]:
        open_rows = [
            row for row in seen.rows if row.device == device.device and (row.ended is None or row.ended > today)
        ]
        drawn = course(device, [fact for fact in seen.case.facts if fact.on <= today], open_rows, today, width)
        letters += [letter for letter in drawn.letters if letter not in letters]
        title = f"{device.name}  {plain(about.device_line(device, seen.case, seen.protocol, today))}"
        out.append([(device.name, "strong"), (fitted(title, width)[len(device.name) :], "quiet")])
        out.append(_marked(drawn.line, drawn.marks))
    if roomy and letters:
        out += [[(line, "quiet")] for line in wrapped(legend(letters), width)]
    return out


def _marked(line: str, marks: Sequence[object]) -> list[Piece]:
    pieces: list[Piece] = []
    for mark in marks:
        role = mark.role  # type: ignore[attr-defined]
        pieces.append((line[mark.start : mark.end], role))  # type: ignore[attr-defined]
    return pieces


def line(under: FollowUp | Device | Fact, seen: Seen, today: date, width: int) -> list[Piece]:
    """One line of the list, in exactly `width` cells."""
    names = {device.device: device.name for device in seen.case.devices}
    if isinstance(under, FollowUp):
        return _owed(under, names, today, width)
    if isinstance(under, Device):
        return [
            ("  ", ""),
            (fitted(under.name, 13), "strong"),
            (
                fitted(plain(about.device_line(under, seen.case, seen.protocol, today)), width - 15),
                "quiet" if under.ended else "",
            ),
        ]
    return _fact(under, names, today, width)


def _owed(row: FollowUp, names: dict[str, str], today: date, width: int) -> list[Piece]:
    state = row.state(today)
    tone = {State.MISSED: "urgent", State.LATE: "late", State.WAITING: "quiet"}.get(state, "")
    what = 28 if width < 100 else 44
    pressing = row.tier == 1 and state is not State.WAITING
    return [
        ("  ", ""),
        (fitted(names.get(row.device or "", ""), 13), "strong"),
        (fitted(plain(owed.what_where(row)), what - 1) + " ", "urgent" if pressing else ""),
        (fitted(owed.stands(row, today), 18) + " ", tone),
        (fitted(days.full(row.due, today), max(width - 34 - what, 0)), "quiet"),
    ]


def _fact(fact: Fact, names: dict[str, str], today: date, width: int) -> list[Piece]:
    letter = BY_NAME[fact.kind].letter
    device = names.get(fact.device or "", "")
    said = plain(sentences.fact_said(fact, today))
    if fact.note:
        said += f" · {plain(fact.note)}"
    when = fitted(days.short(fact.on, today), 10)
    if not fact.counts:
        struck = f"{device} {said}".strip()
        out: list[Piece] = [("  ", ""), (f"{letter} ", "quiet"), (when, "quiet")]
        return [*out, ("struck out ", "quiet"), (fitted(struck, max(width - 25, 0)), "struck")]
    return [
        ("  ", ""),
        (f"{letter} ", "accent"),
        (when, "quiet"),
        (fitted(device, 11), "strong"),
        (fitted(said, max(width - 25, 0)), ""),
    ]
