"""`protocol`: the rules in force, a file of rules looked over, or put in force."""

from __future__ import annotations

import argparse
from pathlib import Path

from caseload.cli.place import at_desk, print_json, wants_json, warn
from caseload.cli.progress import Bar
from caseload.errors import Refused
from caseload.plain import plain
from caseload.rules.protocol import Protocol, read_protocol

_LARGEST = 2_000_000


def show(asked: argparse.Namespace) -> None:
    """Print the file in force on the day, as it was put in use."""
    from caseload.store import clinic

    with at_desk(asked) as desk:
        used = clinic.protocols(desk.store)
        now = next((each for each in reversed(used) if each.first_day <= desk.today), used[0])
        if wants_json(asked):
            print_json(
                {
                    "version": now.version,
                    "first_day": now.first_day.isoformat(),
                    "used_by": now.used_by,
                    "region": desk.protocol().region,
                    "text": now.text,
                }
            )
        else:
            print(now.text, end="" if now.text.endswith("\n") else "\n")


def check(asked: argparse.Namespace) -> None:
    """Say every mistake of a file with its line, or that there is none."""
    protocol = _read(asked.file)
    warn(_silences(protocol))
    if wants_json(asked):
        print_json({"version": protocol.version, "first_day": protocol.first_day.isoformat()})
    else:
        print(
            plain(
                f"No mistakes: version {protocol.version}, in force from {protocol.first_day} once it is used."
            )
        )


def use(asked: argparse.Namespace) -> None:
    """Put a file in force from its first day; what was over before keeps the rules it had."""
    from caseload.acts import protocol as acts

    found = _read(asked.file)
    warn(_silences(found))
    with at_desk(asked, writes=True) as desk, Bar() as bar:
        acts.use(desk, _text(asked.file), lambda done, total: bar("working out what is owed", done, total))
    if wants_json(asked):
        print_json({"version": found.version, "first_day": found.first_day.isoformat()})
    else:
        print(plain(f"In use: version {found.version}, from {found.first_day} on. The past stays as it was."))


def _read(file: str) -> Protocol:
    protocol, mistakes = read_protocol(_text(file))
    if protocol is None:
        raise Refused(f"{plain(Path(file).name)}, {mistake}" for mistake in mistakes)
    return protocol


def _text(file: str) -> str:
    path = Path(file)
    name = plain(path.name)
    try:
        if path.stat().st_size > _LARGEST:
            raise Refused([f"{name} is too large for a protocol, expected a file like the one `show` prints"])
        return path.read_text("utf-8-sig")
    except UnicodeDecodeError:
        raise Refused([f"{name} is not text in UTF-8, expected a file like the one `show` prints"]) from None
    except OSError as error:
        raise Refused([f"{name} could not be read: {(error.strerror or 'unknown').lower()}"]) from None


def _silences(protocol: Protocol) -> list[str]:
    """Phone numbers that cautions need and that are empty."""
    return [
        f"the number of {name.replace('_', ' ')} is empty; a caution cannot say whom to call"
        for name, number in protocol.phones.items()
        if not number.strip()
    ]
