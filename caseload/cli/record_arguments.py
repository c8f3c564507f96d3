"""The options of `record`: one command per kind of fact, one option per column it declares."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable
from typing import Any

from caseload.exchange.cells import expected
from caseload.records.columns import Column, columns
from caseload.records.facts import FactKind, Of
from caseload.records.sheets import ENVELOPE

ENVELOPED = tuple(column for column in ENVELOPE if column.name in ("at", "by", "note"))
_SAMPLES = {
    "look": "--device P0042-L --area heel --how seen --skin clear",
    "practice": "--device P0042-L --who wearer --don 05 --doff 06",
    "contact": "--person P0042 --how phone --outcome reached",
    "change": "--person P0042 --what clinician --to 'Imogen Vale'",
    "pause": "--person P0042 --happened 2026-02-01 --until 2026-02-15 --reason 'in hospital'",
    "request withdrawal": "--request Q-0007 --reason 'no longer sore'",
    "wear stop": "--device P0042-L --stopped-by wearer --reason 'sore heel'",
    "adjustment request": "--device P0042-L --request Q-0100 --cause rub --area heel",
    "escalation": "--person P0042 --escalation E-0100 --to 'on-call physician' --why 'calf swelling'",
}


def add_facts(
    commands: Any,
    kinds: Iterable[FactKind],
    everywhere: Callable[[argparse.ArgumentParser], None],
    run: Callable[[argparse.Namespace], int | None],
) -> None:
    """Add a command for each kind of fact."""
    for kind in kinds:
        name = dashed(kind.name)
        made = commands.add_parser(
            name,
            aliases=[kind.name] if kind.name != name else [],
            help=_said(kind)[:1].lower() + _said(kind)[1:].rstrip("."),
            description=f"Record: {kind.name}. {_said(kind)}",
            epilog=f"Example: caseload record {name} {_example(kind)}",
        )
        made.set_defaults(run=run, kind=kind)
        if kind.of is not Of.REQUEST:
            made.add_argument(
                f"--{kind.of.value}", dest="subject", metavar="REF", required=True, help="whose it is"
            )
        made.add_argument(
            "--happened",
            dest="happened",
            metavar="DATE",
            default="",
            help="the day it happened, as 2026-02-01; else today",
        )
        for column in (*columns(kind.body), *ENVELOPED):
            made.add_argument(
                option(column),
                dest=f"column_{column.name}",
                metavar=_metavar(column),
                required=column.required,
                default="",
                help=_help(column).replace("%", "%%"),
            )
        everywhere(made)


def _said(kind: FactKind) -> str:
    """What the fact is, in the sentence its record says of itself."""
    return (kind.body.__doc__ or "").split("\n")[0]


def dashed(name: str) -> str:
    """`wear report` as it is typed: `wear-report`."""
    return name.replace(" ", "-").replace("_", "-")


def option(column: Column) -> str:
    """`fade_minutes` as it is typed: `--fade-minutes`."""
    return f"--{dashed(column.name)}"


def _metavar(column: Column) -> str:
    return dashed(column.name).upper()


def _help(column: Column) -> str:
    what = expected(column)
    said = f"{column.label.lower()}: {what}" if what != "text" else column.label.lower()
    return f"{said}. {column.help}" if column.help else said


def _example(kind: FactKind) -> str:
    if kind.name in _SAMPLES:
        return _SAMPLES[kind.name]
    subject = (
        "" if kind.of is Of.REQUEST else f"--{kind.of.value} {'P0042-L' if kind.of is Of.DEVICE else 'P0042'} "
    )
    own = " ".join(f"{option(column)} {_sample(column)}" for column in columns(kind.body) if column.required)
    return f"{subject}{own}".strip()


def _sample(column: Column) -> str:
    if column.words:
        return f"'{column.words[0]}'" if " " in column.words[0] else column.words[0]
    if column.low is not None:
        return f"{max(column.low, 1):g}"
    return "Q-0007" if column.refers_to else "0.8"
