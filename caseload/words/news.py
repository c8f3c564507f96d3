"""What an act did to the ledger, in sentences: what is done, what is owed next, which dates moved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date

from caseload.records.devices import Device
from caseload.records.followups import FollowUp
from caseload.words import days, owed


def news(
    before: Iterable[FollowUp], after: Iterable[FollowUp], devices: Mapping[str, Device], today: date
) -> tuple[str, ...]:
    """One sentence each: `Done: LEFT AFO skin look, stop.` `Next: LEFT AFO fit check, due Mon 30 Nov.`

    Empty when the act did nothing to what is owed.
    """
    known, after = set(before), list(after)
    was = {_key(row): row for row in known if row.ended is None}
    ended = [row for row in after if row.ended is not None and row not in known and _key(row) in was]
    over = {_key(row) for row in ended}
    open_now = [row for row in after if row.ended is None]
    done = [row for row in ended if row.done]
    cancelled = [row for row in ended if row.cancelled]
    gone = [row for key, row in was.items() if key not in {_key(row) for row in after}]
    new = [row for row in open_now if row not in known and (_key(row) not in was or _key(row) in over)]
    moved = [row for row in open_now if row not in new and _key(row) in was and was[_key(row)].due != row.due]

    def named(row: FollowUp) -> str:
        device = devices.get(row.device or "")
        return f"{device.name} {owed.what_where(row)}" if device else owed.what_where(row)

    def all_of(word: str, rows: Iterable[FollowUp], when: str = "") -> str:
        said = "; ".join(
            named(row) + (f", {when} {days.both(row.due, today)}" if when else "")
            for row in sorted(rows, key=lambda row: (row.due, row.tier))
        )
        return f"{word}: {said}." if said else ""

    told = (
        all_of("Done", done),
        all_of("No longer owed", (*cancelled, *gone)),
        all_of("Next", new, "due"),
        all_of("Moved", moved, "now due"),
    )
    first = min(open_now, key=lambda row: (row.due, row.tier), default=None)
    still = (
        f"Next for them: {named(first)}, {owed.stands(first, today)}."
        if first and any(told) and not new
        else ""
    )
    return tuple(sentence for sentence in (*told, still) if sentence)


def _key(row: FollowUp) -> tuple[str, str, str, date]:
    return (str(row.kind), row.device or "", row.cause, row.started)
