"""A short page on each screen: what it is for and what is worth knowing. The keys are not told here."""

from __future__ import annotations

import string

from caseload.screens import keys
from caseload.words.course import legend

PAGES: dict[str, tuple[str, ...]] = {
    keys.WEEK: (
        "Whom must I see or call, in what order, and why. One line per person: the most pressing thing owed to"
        " them, how it stands, and how much more is owed ('and 2'). Urgent matters of the site stand on top,"
        " whoever's list they are on.",
        "Under the list (beside it on a wide screen) stands why: the rule that binds, the caution that belongs"
        " to it, what would do it, the dates other rules would give, and the last facts. The program proposes;"
        " a clinician decides.",
        "Late: beyond its due day. Missed: beyond its last day. Opens: may be done from that day on.",
    ),
    keys.PERSON: (
        "What happened, where it is heading, what is owed. The line over the list is the course of each device:"
        " delivery on the left, a capital letter for each thing recorded, today, and in brackets the window of"
        " what is owed next (small letter). Quiet time is drawn short and says how long it was.",
        f"The letters: {legend(tuple(string.ascii_letters))}.",
        "The history has the newest on top. An entry is never deleted: it is corrected or struck out, with a"
        " reason, and both are kept.",
    ),
    keys.FIND: (
        "Type any part of the names or the reference; every word must fit. Accents and capitals do not matter:"
        " asa finds Åsa.",
    ),
    keys.FORM: (
        "A star marks what must be filled. Dates take today, tue, 3 dec, -2d, 3 weeks ago, +2w or 2026-12-03;"
        " under the field stands how it was understood. A choice takes its first letter. A timed walk may be"
        " typed as 12.4 s / 10 m.",
        "The grade of a look is computed while you type; a clinician may raise it, with a reason, and never"
        " lower it.",
        "What is typed is kept as a draft until it is saved, also when the window is closed.",
    ),
    keys.PROTOCOL: (
        "The rules in force, each with the source of its number. A clinic replaces the example by its own:"
        " caseload protocol show, check and use.",
    ),
    keys.HELP: ("The keys, and a page on each screen.",),
    keys.FIRST: (
        "Nobody is on record yet. A workbook (.xlsx, zip or folder of CSV) is looked at before anything is"
        " written: all problems at once, and how much would be owed, late and missed.",
    ),
}
TITLES = {
    keys.WEEK: "Week",
    keys.PERSON: "Person",
    keys.FIND: "Find",
    keys.FORM: "A form",
    keys.PROTOCOL: "Protocol",
    keys.HELP: "Keys and help",
    keys.FIRST: "The first run",
}
ALWAYS = (
    ("ctrl+t", "Light or dark paper."),
    ("ctrl+q", "Leave. Everything recorded is saved; what is typed is kept as a draft."),
    ("arrows", "Move; page up, page down, home and end too. The mouse can do all of it."),
)
