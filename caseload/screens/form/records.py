"""Forms of what is no fact: a person, a device, an absence."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from caseload.acts import clinic, devices, people
from caseload.acts.facts import Recorded
from caseload.plain import plain
from caseload.records.devices import Device
from caseload.records.followups import FollowUp
from caseload.records.people import Person
from caseload.records.sessions import Absence
from caseload.screens.asking import Seen
from caseload.screens.form.screen import Afresh, FormScreen
from caseload.screens.page import Page
from caseload.screens.widgets.tone import Piece
from caseload.words.form import Form, Understood, record_form, typed_of
from caseload.words.news import news


def new_person(page: Page) -> None:
    """The form of a new person, with a free reference; opens their page when saved."""

    def opened(known: tuple[str, Mapping[str, tuple[str, ...]]]) -> None:
        reference, names = known
        filled = {name: _only(there) for name, there in names.items()}
        form = record_form(Person, "New person", filled={"person": reference, **filled})

        async def save(values: Mapping[str, Any]) -> Person:
            added: Person = await page.caseload.act(people.add, values)
            return added

        def closed(person: Any) -> None:
            if person is Afresh:
                new_person(page)
            elif person is not None:
                page.caseload.open_person(person.person)

        page.app.push_screen(FormScreen(form, "", save, draft="new person", offered=names), closed)

    page.ask("for_new_person", then=opened, group="new")


def _only(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else ""


def edit_person(page: Page, seen: Seen) -> None:
    """Correct a person's details; what changes on a day has its own fact."""
    person = seen.case.person
    dated = ("site", "clinician", "sensation", "foot_risk", "circulation_concern")
    changed = {fact.body.what for fact in seen.case.counting() if fact.kind == "change"}
    hidden = ("person", *(name for name in dated if name in changed))
    form = record_form(Person, "Details", filled=typed_of(person), hidden=hidden)

    async def save(values: Mapping[str, Any]) -> Person:
        differing = {name: value for name, value in values.items() if value != getattr(person, name)}
        edited: Person = await page.caseload.act(people.edit, person.person, seen.version, differing)
        return edited

    def closed(outcome: Any) -> None:
        if outcome is Afresh:
            edit_person(page, seen)
        elif outcome is not None:
            page.tell([("Saved.", "good")])

    page.app.push_screen(FormScreen(form, person.name, save, draft=f"details {person.person}"), closed)


def new_device(page: Page, seen: Seen) -> None:
    """The form of a new device of a person; neither side nor orthosis is filled in."""
    person = seen.case.person
    added: list[Device] = []
    form = record_form(Device, "New device", filled={"device": _free(seen)}, hidden=("person",))
    form = replace(
        form,
        choices={
            "replaces": tuple((each.device, f"{each.name} ({each.device})") for each in seen.case.devices)
        },
    )

    async def save(values: Mapping[str, Any]) -> Recorded:
        recorded: Recorded = await page.caseload.act(devices.add, {**values, "person": person.person})
        added.append(Device(**{**values, "person": person.person}))
        return recorded

    _push(
        page,
        seen,
        FormScreen(form, person.name, save, draft=f"new device {person.person}", beside=_no_clock),
        "New device on record.",
        lambda: new_device(page, seen),
        added,
    )


def _no_clock(texts: Mapping[str, str], found: Understood) -> Sequence[Sequence[Piece]]:
    """While typing: that nothing is owed for a device of which no beginning is told."""
    if any(found.values.get(name) for name in ("ordered", "delivered", "taken_over", "ended")):
        return ()
    return [[("Nothing is owed for a device that is neither ordered, delivered nor taken over.", "late")]]


def _free(seen: Seen) -> str:
    taken = {device.device for device in seen.case.devices}
    person = seen.case.person.person
    return next(name for number in range(1, 1000) if (name := f"{person}-{number}") not in taken)


def edit_device(
    page: Page, seen: Seen, device: Device, only: tuple[str, ...] = (), filled: Mapping[str, str] | None = None
) -> None:
    """Change a device: delivered, ended, a detail; `only` asks for these fields alone."""
    form = record_form(
        Device, device.name, filled={**typed_of(device), **(filled or {})}, hidden=("device", "person")
    )
    if only:
        form = Form(form.title, tuple(column for column in form.columns if column.name in only), form.texts)

    async def save(values: Mapping[str, Any]) -> Recorded:
        differing = {name: value for name, value in values.items() if value != getattr(device, name)}
        version = await page.caseload.answer("device_version", device.device)
        recorded: Recorded = await page.caseload.act(devices.edit, device.device, version, differing)
        return recorded

    screen = FormScreen(
        form,
        seen.case.person.name,
        save,
        draft=f"device {device.device} {' '.join(only)}".strip(),
        beside=None if only else _no_clock,
    )
    _push(page, seen, screen, "Saved.", lambda: edit_device(page, seen, device, only, filled))


def supply(page: Page, seen: Seen, row: FollowUp) -> None:
    """What does a supply: the delivery of the device ordered, or the order of the next one."""
    device = next((each for each in seen.case.devices if each.device == row.device), None)
    if device is not None and device.delivered is None:
        edit_device(page, seen, device, ("delivered", "promised"), {"delivered": "today"})
    else:
        new_device(page, seen)


def _push(
    page: Page, seen: Seen, screen: FormScreen, said: str, again: Any, added: Sequence[Device] = ()
) -> None:
    def closed(outcome: Any) -> None:
        if outcome is Afresh:
            again()
        elif isinstance(outcome, Recorded):
            known = {device.device: device for device in (*seen.case.devices, *added)}
            moved = news(outcome.before, outcome.after, known, page.caseload.today)
            warned = [[(plain(problem.says), "late")] for problem in outcome.warnings]
            page.tell([(said, "good"), (" " + plain(" ".join(moved)), "strong")], *warned)

    page.app.push_screen(screen, closed)


def absence(page: Page) -> None:
    """A clinician's absence and who covers their list."""

    def opened(names: Mapping[str, tuple[str, ...]]) -> None:
        there = names["clinician"]
        who = page.caseload.who if page.caseload.who in there else ""
        form = record_form(Absence, "Absence and cover", filled={"who": who, "first": "today"})
        offered = {"who": there, "cover": there}
        page.app.push_screen(FormScreen(form, "", save, draft="absence", offered=offered), closed)

    async def save(values: Mapping[str, Any]) -> Any:
        return await page.caseload.act(clinic.add_absence, values)

    def closed(outcome: Any) -> None:
        if outcome is Afresh:
            absence(page)
        elif outcome is not None:
            page.tell([("The absence is on record.", "good")])

    page.ask("names", then=opened, group="new")
