"""The only place that knows the keys: footer, key list, manual and tests read it.

A letter means the same thing on every screen that has it. `s`, `a`, `g` and `p` are kept for the screens of
skin, adjustments, gaps and the plan.
"""

from __future__ import annotations

from dataclasses import dataclass

WEEK, PERSON, FIND, FORM, PROTOCOL, HELP = "week", "person", "find", "form", "protocol", "help"
FIRST = "first"
LISTS = (WEEK, PERSON)
EVERYWHERE = (WEEK, PERSON, FIND, FORM, PROTOCOL, HELP, FIRST)
WITHOUT_TYPING = (WEEK, PERSON, PROTOCOL, HELP)
"""Screens on which a letter is a command, for nothing is typed there."""


@dataclass(frozen=True, slots=True)
class Key:
    """One key and what it does."""

    action: str
    """The name of the action method, without `action_`."""
    key: str
    """As Textual names it."""
    shown: str
    """As it is printed."""
    label: str
    """A word or two for the foot of the screen."""
    help: str
    """One sentence for the key list."""
    screens: tuple[str, ...]
    foot: bool = True
    """Whether it stands at the foot; the key list has them all."""


KEYS = (
    Key("record", "r", "r", "record", "Record what would do the follow-up under the cursor.", LISTS),
    Key("open", "enter", "enter", "open", "Open the person, or the entry, under the cursor.", (*LISTS, FIND)),
    Key("save", "ctrl+s", "ctrl+s", "save", "Save what stands on the form.", (FORM,)),
    Key(
        "go_on",
        "enter",
        "enter",
        "go on",
        "To the next field that must be filled; saves when none is.",
        (FORM,),
    ),
    Key(
        "afresh",
        "ctrl+n",
        "ctrl+n",
        "afresh",
        "Throw the draft away and begin the form afresh.",
        (FORM,),
        foot=False,
    ),
    Key("fact", "f", "f", "other fact", "Record any other fact: choose which.", LISTS),
    Key("find", "slash", "/", "find", "Find a person by name or reference.", WITHOUT_TYPING),
    Key(
        "whose",
        "w",
        "w",
        "whose list",
        "Choose whose list this is: a clinician's, a site's, everyone's.",
        (WEEK,),
    ),
    Key("narrow", "n", "n", "narrow", "Narrow the list by typing; Esc shows all of it again.", (WEEK,)),
    Key("order", "t", "t", "order", "Order by work, or by name.", (WEEK,), foot=False),
    Key("copy", "c", "c", "copy", "Copy as plain sentences: the list, or the person's last visit.", LISTS),
    Key("new", "plus", "+", "new", "A new person; on a person's page, a new device for them.", (*LISTS, FIND)),
    Key("change", "m", "m", "change", "Change clinician, site, status or a risk, with its date.", (PERSON,)),
    Key(
        "time_off", "b", "b", "time off", "A pause of the person; on the week, an absence and its cover.", LISTS
    ),
    Key("edit", "e", "e", "correct", "Correct the entry under the cursor, or the person's details.", (PERSON,)),
    Key("strike", "x", "x", "strike out", "Strike out the entry under the cursor, with a reason.", (PERSON,)),
    Key("undo", "u", "u", "undo", "Take back the last thing you recorded; that it was is kept.", LISTS),
    Key("protocol", "o", "o", "protocol", "The rules in force and where they come from.", LISTS, foot=False),
    Key(
        "help",
        "question_mark",
        "?",
        "keys",
        "These keys, and what the screen is for.",
        (*WITHOUT_TYPING, FIRST),
    ),
    Key(
        "back",
        "escape",
        "esc",
        "back",
        "Go back; what is typed is kept as a draft.",
        (PERSON, FIND, FORM, PROTOCOL, HELP, FIRST),
    ),
    Key("quit", "q", "q", "quit", "Leave. Everything recorded is saved.", (WEEK,), foot=False),
)


def of(screen: str) -> tuple[Key, ...]:
    """The keys that hold on one screen, in the order of the foot."""
    return tuple(key for key in KEYS if screen in key.screens)
