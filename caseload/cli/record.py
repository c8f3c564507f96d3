"""`record`: one fact from the command line, by the same act as on screen."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from caseload.cli.owed import as_json, named_devices
from caseload.cli.place import at_desk, next_staffed, print_json, wants_json, warn
from caseload.cli.record_arguments import ENVELOPED, option
from caseload.errors import Refused
from caseload.plain import plain
from caseload.records.columns import columns
from caseload.records.facts import FactKind, Of

if TYPE_CHECKING:
    from caseload.acts.desk import Desk
    from caseload.acts.facts import Draft, Recorded


def record(asked: argparse.Namespace) -> None:
    """Record the fact, and say what it did and what is owed now."""
    from caseload.acts import facts

    with at_desk(asked, writes=True) as desk:
        done = facts.record(desk, [_draft(asked, desk)])
        warn(str(warning) for warning in done.warnings)
        if wants_json(asked):
            print_json(_as_json(done, desk))
        else:
            _print(asked.kind, done, desk)


def _draft(asked: argparse.Namespace, desk: Desk) -> Draft:
    """The fact that was typed; Refused with every option that cannot be read."""
    from caseload.acts.facts import Draft
    from caseload.exchange.cells import reader
    from caseload.exchange.dates import read_date
    from caseload.exchange.problems import Wrong

    kind: FactKind = asked.kind
    values: dict[str, Any] = {}
    problems = []
    for column in (*columns(kind.body), *ENVELOPED):
        try:
            values[column.name] = reader(column)(getattr(asked, f"column_{column.name}"))
        except Wrong as wrong:
            problems.append(f"{option(column)} {wrong}")
    on = desk.today
    try:
        on = read_date(asked.happened.strip()) if asked.happened else desk.today
    except Wrong as wrong:
        problems.append(f"--happened {str(wrong).split(';')[0]}")
    if problems:
        raise Refused(problems)
    envelope = {column.name: values.pop(column.name) for column in ENVELOPED}
    subject = {} if kind.of is Of.REQUEST else {kind.of.value: asked.subject.strip()}
    return Draft(kind.name, on, values, **subject, **envelope)


def _as_json(done: Recorded, desk: Desk) -> dict[str, Any]:
    return {
        "facts": [
            {
                "id": fact.id,
                "kind": fact.kind,
                "person": fact.person,
                "device": fact.device,
                "on": fact.on.isoformat(),
            }
            for fact in done.facts
        ],
        "done": [as_json(row, desk.today) for row in done.done],
        "owed": [as_json(row, desk.today) for row in done.new],
        "warnings": [str(warning) for warning in done.warnings],
    }


def _print(kind: FactKind, done: Recorded, desk: Desk) -> None:
    from caseload.words import cautions, days
    from caseload.words import owed as words

    devices = named_devices(desk.store)

    def named(device: str | None) -> str:
        return f"{devices[device]} ({device})" if device in devices else device or ""

    called = set[str]()
    for fact in done.facts:
        print(plain(f"Recorded: {kind.name}, {named(fact.device) or fact.person}, {days.full(fact.on)}."))
        called |= cautions.of_body(kind.name, fact.body)
    for row in done.done:
        ended = "Done" if row.done else "No longer owed"
        print(plain(f"{ended}: {words.what(row)}{_whose(named(row.device))}."))
    for row in done.new:
        print(plain(f"Owed: {words.what(row)}{_whose(named(row.device))}, due {days.full(row.due)}."))
        called |= cautions.of_row(row, done.facts, desk.today)
    staffed = next_staffed(desk.store, done.facts[0].person, desk.today) if done.facts else None
    for sentence in cautions.sentences(called, desk.protocol(), staffed, desk.today):
        print(plain(sentence))


def _whose(device: str) -> str:
    return f" for {device}" if device else ""
