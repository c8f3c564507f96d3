"""What can be asked for, with an example each. Nothing heavy is imported before it is known what was."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from datetime import date
from typing import Any

from caseload import __version__
from caseload.records.facts import KINDS
from caseload.records.followups import FollowUpKind, State

Run = Callable[[argparse.Namespace], int | None]
WITHIN = 14
"""Days ahead up to which what is not open yet is listed, unless asked otherwise."""


def parser(asked: Sequence[str] = ("record",)) -> argparse.ArgumentParser:
    """The parser of the whole command line; the namespace it gives has `run`.

    The options of every kind of fact are a third of the start-up (50 ms): made only where `asked` names record.
    """
    top = argparse.ArgumentParser(
        prog="caseload",
        description="Orthosis follow-up: what is owed to each person, when, and why. Without a command it opens"
        " the screens. A local policy and the judgement of the clinician come first.",
        epilog="Example: caseload owed --clinician 'Imogen Vale'",
    )
    top.add_argument("--version", action="version", version=f"caseload {__version__}")
    _everywhere(top)
    top.set_defaults(run=_later("screens", "open_screens"))
    commands = top.add_subparsers(title="commands", metavar="COMMAND")
    _demo(commands)
    _load(commands)
    _dump(commands)
    _owed(commands)
    _why(commands)
    _record(commands, "record" in asked)
    _protocol(commands)
    return top


def _later(module: str, function: str) -> Run:
    """A command whose module is imported when it runs."""

    def run(asked: argparse.Namespace) -> int | None:
        from importlib import import_module

        found: Run = getattr(import_module(f"caseload.cli.{module}"), function)
        return found(asked)

    return run


def _everywhere(to: argparse.ArgumentParser) -> None:
    """The options that may stand before the command and after it."""
    group = to.add_argument_group("everywhere")
    quiet: dict[str, Any] = {"default": argparse.SUPPRESS}
    group.add_argument(
        "--on", type=day, metavar="DATE", help="what day it is, as 2026-02-01; else today", **quiet
    )
    group.add_argument(
        "--as", dest="who", metavar="NAME", help="who records; else CASELOAD_USER or the login", **quiet
    )
    group.add_argument("--db", metavar="PATH|URL", help="the database; else CASELOAD_DB or your own", **quiet)
    group.add_argument(
        "--holidays",
        metavar="REGION",
        help="public holidays for this run: GB-ENG, US ...; else the protocol's",
        **quiet,
    )
    group.add_argument("--json", action="store_true", help="print data, not a table", **quiet)


def day(text: str) -> date:
    """A date of the command line; argparse says what is wrong with it."""
    from caseload.exchange.dates import read_date
    from caseload.exchange.problems import Wrong

    try:
        return read_date(text.strip())
    except Wrong as wrong:
        raise argparse.ArgumentTypeError(str(wrong).split(";")[0]) from None


def _days(text: str) -> int:
    if not text.isdigit() or int(text) > 36_500:
        raise argparse.ArgumentTypeError(f"'{text[:20]}' is no number of days, expected one like {WITHIN}")
    return int(text)


def _command(
    commands: Any, name: str, does: str, example: str, run: Run, **more: Any
) -> argparse.ArgumentParser:
    made: argparse.ArgumentParser = commands.add_parser(
        name, help=does, description=f"{does[0].upper()}{does[1:]}.", epilog=f"Example: {example}", **more
    )
    made.set_defaults(run=run)
    _everywhere(made)
    return made


def _demo(commands: Any) -> None:
    made = _command(
        commands,
        "demo",
        "look at an invented caseload whose dates lie around today",
        "caseload demo --fresh",
        _later("screens", "open_demo"),
    )
    made.add_argument("--fresh", action="store_true", help="make it anew, laid around today")


def _load(commands: Any) -> None:
    made = _command(
        commands,
        "load",
        "bring in a workbook, all of it or nothing; loading it twice changes nothing",
        "caseload load taken-over.xlsx --check",
        _later("workbooks", "load"),
    )
    made.add_argument("path", metavar="PATH", help="a folder or .zip of NAME.csv, or an .xlsx")
    made.add_argument(
        "--check", action="store_true", help="write nothing; say what is wrong and what would be owed"
    )
    made.add_argument(
        "--dates",
        choices=("iso", "dmy", "mdy"),
        default="iso",
        help="how dates like 1/2/2026 are written in it",
    )
    made.add_argument(
        "--amend", default="", metavar="REASON", help="put the record right where the workbook differs"
    )


def _dump(commands: Any) -> None:
    made = _command(
        commands,
        "dump",
        "write everything as a workbook that can be loaded again",
        "caseload dump caseload.xlsx",
        _later("workbooks", "dump"),
    )
    made.add_argument("path", metavar="PATH", help="a name ending in .zip or .xlsx, or else a folder")


def _owed(commands: Any) -> None:
    made = _command(
        commands,
        "owed",
        "list the follow-ups in order of work: missed, late, open, and those that open soon",
        "caseload owed --clinician 'Imogen Vale' --state late",
        _later("owed", "owed"),
    )
    made.add_argument("--clinician", default="", metavar="NAME", help="of one clinician's people")
    made.add_argument("--person", default="", metavar="REF", help="of one person")
    made.add_argument(
        "--kind", choices=[kind.value for kind in FollowUpKind], metavar="KIND", help=_words(FollowUpKind)
    )
    made.add_argument("--state", choices=[state.value for state in State], metavar="STATE", help=_words(State))
    made.add_argument(
        "--within", type=_days, default=WITHIN, metavar="DAYS", help=f"how far ahead; {WITHIN} unless said"
    )
    made.add_argument("--all", action="store_true", help="every follow-up there is, done and cancelled too")


def _words(of: Any) -> str:
    return ", ".join(each.value for each in of)


def _why(commands: Any) -> None:
    made = _command(
        commands,
        "why",
        "say why the follow-ups of a person or device are owed when they are, with the competing dates",
        "caseload why P0042-L",
        _later("why", "why"),
    )
    made.add_argument("reference", metavar="REF", help="of a person or a device")
    made.add_argument("--all", action="store_true", help="what is done and cancelled too")


def _record(commands: Any, with_facts: bool) -> None:
    made = _command(
        commands,
        "record",
        "record that something happened",
        "caseload record look --device P0042-L --area heel --how seen --skin clear",
        _later("record", "record"),
    )
    if not with_facts:
        return
    from caseload.cli.record_arguments import add_facts

    facts = made.add_subparsers(title="facts", metavar="FACT", required=True, dest="fact")
    add_facts(facts, KINDS, lambda to: _everywhere(to), _later("record", "record"))


def _protocol(commands: Any) -> None:
    made = _command(
        commands,
        "protocol",
        "show the rules in force, check a file of rules, or put it in force",
        "caseload protocol show > ours.toml",
        _later("protocol", "show"),
    )
    ways = made.add_subparsers(title="what to do", metavar="show|check|use", required=True)
    example = "caseload protocol %s ours.toml"
    _command(ways, "show", "print the rules in force", "caseload protocol show", _later("protocol", "show"))
    check = _command(
        ways, "check", "say what is wrong in a file", example % "check", _later("protocol", "check")
    )
    use = _command(
        ways, "use", "put a file in force from its first day on", example % "use", _later("protocol", "use")
    )
    for way in (check, use):
        way.add_argument("file", metavar="FILE", help="a copy of what `show` prints, with your own numbers")
