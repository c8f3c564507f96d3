"""What an act did to the ledger, in sentences."""

from __future__ import annotations

from datetime import date, timedelta

from caseload.records.followups import FollowUp, FollowUpKind, Reason
from caseload.words.news import news

TODAY = date(2026, 11, 25)
DUE = date(2026, 12, 2)
CHECK = FollowUp(
    person="P1",
    device="P1-L",
    kind=FollowUpKind.WEAR_CHECK,
    cause="gentle",
    started=TODAY,
    opens=TODAY,
    due=DUE,
    last_day=DUE + timedelta(days=4),
    tier=3,
    reasons=(Reason("from the latest wear report", TODAY, "7 days", DUE),),
    binding=0,
    done=None,
    cancelled=None,
)
DONE = CHECK._replace(done=TODAY)


def test_what_was_done_before_is_not_told_again() -> None:
    assert news([DONE, CHECK], [DONE, CHECK], {}, TODAY) == ()


def test_done_on_the_day_it_began_and_begun_anew_is_both() -> None:
    told = news([DONE, CHECK], [DONE, DONE._replace(last_day=DUE), CHECK._replace(opens=DUE)], {}, TODAY)
    assert told == ("Done: wear check.", "Next: wear check, due Wed 2 Dec, in 7 days.")


def test_a_date_that_moved() -> None:
    later = CHECK._replace(due=DUE + timedelta(days=7))
    assert news([CHECK], [later], {}, TODAY)[0] == "Moved: wear check, now due Wed 9 Dec, in 2 weeks."
