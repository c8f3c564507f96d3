"""Putting a protocol in use: from its first day on; what was over before keeps what it had."""

from __future__ import annotations

from collections.abc import Callable

from caseload.acts.desk import Desk
from caseload.errors import Problem, Refused
from caseload.rules.protocol import Protocol, read_protocol
from caseload.store import basis
from caseload.store.ledger import Progress


def use(
    desk: Desk,
    text: str,
    progress: Progress | None = None,
    cancelled: Callable[[], bool] | None = None,
) -> Protocol:
    """Put the protocol of a file in use, and work every date out again in the same transaction.

    Raises Refused with one sentence per mistake, or Cancelled; then the old one stays in force.
    """
    protocol, mistakes = read_protocol(text)
    if protocol is None:
        raise Refused(mistakes)
    with desk.act("use protocol") as work:
        in_use = desk.store.rulebooks[-1].protocol
        begun = desk.store.one("SELECT 1 FROM facts LIMIT 1") is not None
        # Put in force today, a slip in it (a phone number, say) is mended today: no past is under it yet.
        mended = protocol.first_day == in_use.first_day >= desk.today
        if begun and protocol.first_day <= in_use.first_day and not mended:
            says = (
                f"Its first day, {protocol.first_day}, must be later than {in_use.first_day}, the first day"
                f" of {in_use.version}, which is in use: the past stays as it was. Set first_day in the file,"
                " most often to today or the day the clinic agreed on."
            )
            raise Refused([Problem(says, "first_day")])
        before = {"version": in_use.version, "first_day": in_use.first_day.isoformat()}
        after = {"version": protocol.version, "first_day": protocol.first_day.isoformat()}
        basis.add_protocol(desk.store, text, protocol, desk.who)
        work.note("protocols", protocol.version, before=before, after=after)
        work.everyone, work.progress, work.cancelled = True, progress, cancelled
    return protocol
