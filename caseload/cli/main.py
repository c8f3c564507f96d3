"""The command line: what was asked is parsed, one act or question is called, and its answer printed."""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Sequence
from pathlib import Path

DONE, REFUSED, STOPPED = 0, 1, 130


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command; the exit code: 0 done, 1 refused, 2 (raised by argparse) wrong usage."""
    from caseload.errors import CaseloadError

    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):  # a terminal that lacks a letter shows its number instead of failing
            stream.reconfigure(errors="backslashreplace")
    try:
        code = _run(argv)
        sys.stdout.flush()
    except CaseloadError as refused:
        _say(str(refused))
        return REFUSED
    except BrokenPipeError:  # the reader of our output, `head` or a pager, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return DONE
    except KeyboardInterrupt:
        _say("Stopped; nothing was changed.")
        return STOPPED
    except Exception as error:
        _say(_crash(error))
        return REFUSED
    return code


def _run(argv: Sequence[str] | None) -> int:
    from caseload.cli.arguments import parser

    given = sys.argv[1:] if argv is None else argv
    asked = parser(given).parse_args(given)
    return int(asked.run(asked) or DONE)


def _say(text: str) -> None:
    from caseload.plain import plain

    for line in text.splitlines():
        print(plain(line), file=sys.stderr)


def _crash(error: Exception) -> str:
    """What went wrong in the program, where; never what was being worked on, which may be about a person."""
    package = Path(__file__).parent.parent
    frames = traceback.extract_tb(error.__traceback__)
    own = [frame for frame in frames if package in Path(frame.filename).parents]
    place = own[-1] if own else frames[-1]
    file = Path(place.filename)
    name = file.relative_to(package) if package in file.parents else file.name
    return (
        f"The program itself failed ({type(error).__name__}, {name} line {place.lineno}); what was not reported"
        " as saved was not saved. Please tell whoever looks after the program these words."
    )
