"""From a follow-up, or from nothing, to the form of a fact; and what is told when it is saved."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from caseload.acts import facts as acts
from caseload.acts.facts import Draft, Recorded
from caseload.plain import plain
from caseload.records.columns import columns
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, KINDS, Fact, FactKind
from caseload.records.followups import FollowUp, FollowUpKind
from caseload.records.people import ALLOWED
from caseload.rules.attributes import Attributes
from caseload.rules.grading import grade
from caseload.screens.asking import Seen
from caseload.screens.dialogs.choose import Choose, Option
from caseload.screens.dialogs.say import Say
from caseload.screens.form import records
from caseload.screens.form.screen import Afresh, FormScreen, Offers
from caseload.screens.page import Page
from caseload.screens.widgets.tone import Piece
from caseload.words import cautions, days, owed, sentences
from caseload.words.form import Form, Understood, amended_form, fact_form
from caseload.words.news import news

ENVELOPE = ("on", "at", "note", "device")


def record(page: Page, seen: Seen, row: FollowUp) -> None:
    """Open the form of the fact that would do a follow-up."""
    if row.kind is FollowUpKind.SUPPLY:
        records.supply(page, seen, row)
        return
    begun = _begun(seen, row)
    if begun is not None:
        complete(page, seen, begun, row)
    else:
        open_fact(page, seen, BY_NAME[owed.RECORDS[row.kind]], row)


def _begun(seen: Seen, row: FollowUp) -> Fact | None:
    """The fact on record that only wants its end: an escalation to be answered, a device to come back."""
    wanted = {
        FollowUpKind.ESCALATION: ("escalation", "answered_on"),
        FollowUpKind.BACK_FROM_WORKSHOP: ("away", "back"),
    }
    if row.kind not in wanted:
        return None
    kind, blank = wanted[row.kind]
    fitting = [
        fact
        for fact in seen.case.counting()
        if fact.kind == kind
        and getattr(fact.body, blank) is None
        and (row.device is None or fact.device == row.device)
        and (kind == "away" or fact.body.escalation == row.cause or fact.on == row.started)
    ]
    return fitting[-1] if fitting else None


def other_fact(page: Page, seen: Seen) -> None:
    """Choose which kind of fact to record."""
    has_devices = bool(seen.case.devices)
    options = [
        Option(kind.name, kind.name, f"{kind.letter}  {(kind.body.__doc__ or '').splitlines()[0]}")
        for kind in KINDS
        if has_devices or kind.of == "person"
    ]

    def chosen(name: str | None) -> None:
        if name is not None:
            open_fact(page, seen, BY_NAME[name], None)

    page.app.push_screen(Choose(f"Record which fact of {plain(seen.case.person.name)}?", options), chosen)


def open_fact(
    page: Page,
    seen: Seen,
    kind: FactKind,
    row: FollowUp | None,
    filled: Mapping[str, str] | None = None,
    names: Mapping[str, tuple[str, ...]] | None = None,
) -> None:
    """Open the form of one kind of fact; `names`: the clinicians and sites there are, for a change."""
    app = page.caseload
    form = fact_form(kind, seen.case, app.today, row)
    form = replace(form, texts={**form.texts, **(filled or {})})
    about = [owed.reason(row.why, app.today)] if row is not None else []

    async def save(values: Mapping[str, Any]) -> Recorded:
        body = {
            name: value
            for name, value in values.items()
            if name not in ENVELOPE and value not in (None, "", ())
        }
        draft = Draft(
            kind.name,
            values["on"],
            body,
            person=seen.case.person.person,
            device=values.get("device", ""),
            at=values["at"],
            note=values["note"],
        )
        recorded: Recorded = await app.act(acts.record, [draft])
        return recorded

    screen = FormScreen(
        form,
        seen.case.person.name,
        save,
        offers=_values_of_a_change(names or {}) if kind.name == "change" else None,
        draft=" ".join(
            ["fact", kind.name, seen.case.person.person, *([row.device or "", row.cause] if row else [])]
        ),
        offered={"areas": seen.protocol.areas},
        beside=lambda texts, found: beside(seen, kind, found, app.today),
        above=[[(f"{owed.what(row)} · ", "strong"), (f"{line}.", "quiet")] for line in about]
        if row is not None
        else (),
    )
    _push(page, seen, screen, lambda: open_fact(page, seen, kind, row, filled, names))


def _values_of_a_change(names: Mapping[str, tuple[str, ...]]) -> Offers:
    """What a change may be to, by what changes."""
    known = {**ALLOWED, **names}
    return lambda texts: {"to": tuple(known.get(texts.get("what", ""), ()))}


def complete(page: Page, seen: Seen, fact: Fact, row: FollowUp | None = None) -> None:
    """Fill in how what began has ended: the answer, the day it is back, the day it may be worn again."""
    app, kind = page.caseload, BY_NAME[fact.kind]
    form = amended_form(fact, kind, seen.case, app.today)
    asked = tuple(column for column in form.columns if column.name in kind.completed)
    first = next(column.name for column in asked if column.name != "promised")
    form = Form(
        form.title, asked, {**{column.name: form.texts[column.name] for column in asked}, first: "today"}
    )

    async def save(values: Mapping[str, Any]) -> Recorded:
        ended = {
            name: value
            for name, value in values.items()
            if value not in (None, "") and value != getattr(fact.body, name)
        }
        recorded: Recorded = await app.act(acts.amend, fact.id, fact.version, ended, "")
        return recorded

    above: list[list[Piece]] = [
        [(plain(f"{days.full(fact.on, app.today)}: {sentences.fact_said(fact, app.today)}."), "quiet")]
    ]
    if row is not None:
        called = cautions.of_row(row, seen.case.facts, app.today)
        told = cautions.sentences(called, seen.protocol, seen.staffed, app.today)
        above += [[(plain(sentence), "urgent")] for sentence in told[:-1]]
        above += [[(plain(told[-1]), "quiet")]] if len(told) > 1 else []
    screen = FormScreen(form, seen.case.person.name, save, draft=f"end {fact.id}", above=above)
    _push(page, seen, screen, lambda: complete(page, seen, fact, row))


def correct(page: Page, seen: Seen, fact: Fact) -> None:
    """Correct an entry; what it was is kept, and a reason is asked for when it is saved."""
    app, kind = page.caseload, BY_NAME[fact.kind]
    form = amended_form(fact, kind, seen.case, app.today)
    was = {
        **{column.name: getattr(fact.body, column.name) for column in columns(kind.body)},
        "on": fact.on,
        "at": fact.at,
        "note": fact.note,
    }

    async def save(values: Mapping[str, Any]) -> Recorded | None:
        changed = {name: value for name, value in values.items() if value != was[name]}
        if not changed:
            return Recorded(())
        completes = all(name in kind.completed and was[name] in (None, "") for name in changed)
        reason = (
            ""
            if completes
            else await app.push_screen_wait(Say([[("Why is it corrected?", "strong")]], "the reason"))
        )
        if reason is None:
            return None
        recorded: Recorded = await app.act(acts.amend, fact.id, fact.version, changed, reason)
        return recorded

    screen = FormScreen(
        replace(form, title=f"Correct: {kind.name}"),
        seen.case.person.name,
        save,
        draft=f"correct {fact.id}",
        offered={"areas": seen.protocol.areas},
        beside=lambda texts, found: beside(seen, kind, found, app.today),
    )
    _push(page, seen, screen, lambda: correct(page, seen, fact))


def _push(page: Page, seen: Seen, screen: FormScreen, again: Any) -> None:
    def closed(outcome: Any) -> None:
        if outcome is Afresh:
            again()
        elif isinstance(outcome, Recorded):
            page.tell(*told(outcome, seen, page.caseload.today))

    page.app.push_screen(screen, closed)


def told(recorded: Recorded, seen: Seen, today: date) -> Sequence[Sequence[Piece]]:
    """What is said after saving: what was recorded, what that did, and what it warns of."""
    devices = {device.device: device for device in seen.case.devices}
    moved = news(recorded.before, recorded.after, devices, today)
    said = "; ".join(_named(fact, devices, today) for fact in recorded.facts)
    lines: list[list[Piece]] = [[("Recorded: " if said else "Nothing to change. ", "good"), (plain(said), "")]]
    if moved:
        lines.append([(plain(" ".join(moved)), "strong")])
    elif said:
        lines.append([("What is owed stays as it was.", "quiet")])
    return [*lines, *([(plain(problem.says), "late")] for problem in recorded.warnings)]


def _named(fact: Fact, devices: Mapping[str, Device], today: date) -> str:
    device = devices.get(fact.device or "")
    said = sentences.fact_said(fact, today)
    return f"{device.name} {said}" if device else said


def beside(seen: Seen, kind: FactKind, found: Understood, today: date) -> Sequence[Sequence[Piece]]:
    """While typing: the grade as it is computed, and the cautions it calls for."""
    body = _body(kind, found)
    if body is None:
        return ()
    lines: list[list[Piece]] = []
    word = ""
    if kind.name in ("look", "wear report"):
        on = found.values.get("on") or today
        attributes = Attributes(
            seen.case.person, [fact for fact in seen.case.counting() if fact.kind == "change"]
        )
        graded = grade(body, attributes.vulnerable(on), seen.protocol.skin)
        word = graded.grade.word
        unknown = (
            " Sensation is not on record: counted as vulnerable." if attributes.unrecorded_skin(on) else ""
        )
        role = {"urgent": "urgent", "stop": "urgent", "watch": "late"}.get(word, "good")
        lines.append([(f"Grade {word}", role), (f": {plain(graded.because)}.{unknown}", "")])
    told = cautions.sentences(cautions.of_body(kind.name, body, word), seen.protocol, seen.staffed, today)
    if len(told) > 1:
        lines += [[(plain(sentence), "urgent")] for sentence in told[:-1]]
        lines.append([(plain(told[-1]), "quiet")])
    return lines


def _body(kind: FactKind, found: Understood) -> Any | None:
    """The body as far as it is typed; None while what it rests on is still missing."""
    asked = columns(kind.body)
    if any(column.required and found.values.get(column.name) in (None, "") for column in asked):
        return None
    return kind.body(**{column.name: found.values[column.name] for column in asked})
