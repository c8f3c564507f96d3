"""One person: the course of each device, what is owed, the devices, and the history, newest first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.widgets import Static

from caseload.acts import facts as acts
from caseload.plain import plain
from caseload.records.devices import Device
from caseload.records.facts import BY_NAME, Fact
from caseload.records.followups import FollowUp
from caseload.screens import keys
from caseload.screens.asking import Seen
from caseload.screens.dialogs.choose import Choose, Option
from caseload.screens.dialogs.details import Details
from caseload.screens.dialogs.say import Say
from caseload.screens.form import facts, records
from caseload.screens.page import Page, Told, bindings
from caseload.screens.person import drawing
from caseload.screens.widgets.foot import Foot
from caseload.screens.widgets.head import Head
from caseload.screens.widgets.lines import Lines
from caseload.screens.widgets.paragraphs import Paragraphs
from caseload.screens.widgets.tone import Piece, lines
from caseload.words import about, days, sentences
from caseload.words.paragraph import Paragraph
from caseload.words.why import newest_first, why

CHANGES = (
    ("clinician", "Another clinician looks after them."),
    ("site", "They come to another site."),
    ("status", "Active, open access, discharged, moved, died."),
    ("sensation", "Intact, reduced or absent."),
    ("foot_risk", "Foot-risk category 0 to 3."),
    ("circulation_concern", "Yes or no."),
)


class PersonScreen(Page):
    """The page of one person."""

    NAME = keys.PERSON
    CSS_PATH = "person.tcss"
    BINDINGS: ClassVar[list[Any]] = bindings(keys.PERSON)
    VERTICAL_BREAKPOINTS = [(0, "-short"), (30, "-tall")]  # noqa: RUF012  declared so by Textual

    def __init__(self, reference: str) -> None:
        super().__init__()
        self.reference = reference
        self.seen: Seen | None = None
        self._rows: dict[str, FollowUp | Device | Fact] = {}

    def compose(self) -> ComposeResult:
        yield Head(self.reference)
        yield Static("", id="courses", markup=False)
        yield Lines(self._draw, id="list")
        yield Paragraphs(id="about")
        yield Told()
        yield Foot(keys.PERSON)

    def on_mount(self) -> None:
        self.query_one(Lines).focus()
        self.reload()

    def reload(self) -> None:
        self.ask("person", self.reference, self.caseload.today, then=self._show)

    def _show(self, seen: Seen | None) -> None:
        if seen is None:
            self.tell([(f"There is no person {plain(self.reference)} on record any more.", "urgent")])
            return
        self.seen = seen
        today = self.caseload.today
        self.query_one(Head).say(
            plain(seen.case.person.name),
            plain(about.subject(seen.case, today)),
            [(plain(about.in_force(seen.case, today)), "quiet")],
        )
        self._courses()
        owed_rows = about.owed_in_order(seen.rows, today, seen.case)
        parts: tuple[tuple[str, list[tuple[str, Any]]], ...] = (
            ("Owed", [(f"row {number}", row) for number, row in enumerate(owed_rows)]),
            (
                "Devices",
                [(f"device {device.device}", device) for device in drawing.devices_in_order(seen.case)],
            ),
            ("History", [(f"fact {fact.id}", fact) for fact in newest_first(seen.case.facts)]),
        )
        shown: list[str] = []
        fixed: set[str] = set()
        self._rows = {}
        for heading, rows in parts:
            fixed |= {f"\0{heading}", f"\0gap {heading}", f"\0none {heading}"}
            shown += [f"\0gap {heading}"] if shown else []
            shown += [f"\0{heading}", *([key for key, _ in rows] or [f"\0none {heading}"])]
            self._rows |= dict(rows)
        self.query_one(Lines).show(shown, fixed=fixed)

    def on_resize(self) -> None:
        self._courses()

    def _courses(self) -> None:
        if self.seen is not None:
            roomy = self.size.height >= 34
            drawn = drawing.courses(self.seen, self.caseload.today, max(self.size.width - 2, 40), roomy)
            self.query_one("#courses", Static).update(lines(drawn))

    def _draw(self, key: str, row: Any, width: int) -> Sequence[Piece]:
        if key.startswith("\0gap"):
            return []
        if key.startswith("\0none"):
            return [(f"   {drawing.NONE[key.removeprefix(chr(0) + 'none ')]}", "quiet")]
        if key.startswith("\0"):
            return [(f" {key[1:]}", "accent")]
        assert self.seen is not None
        return drawing.line(self._rows[key], self.seen, self.caseload.today, width)

    @property
    def under(self) -> FollowUp | Device | Fact | None:
        """What the cursor is on."""
        return self._rows.get(self.query_one(Lines).key)

    def _device(self, reference: str | None) -> Device | None:
        assert self.seen is not None
        return next((device for device in self.seen.case.devices if device.device == reference), None)

    @on(Lines.Moved)
    def _moved(self) -> None:
        self.query_one(Paragraphs).say(self._told_of(self.under))

    def _told_of(self, under: FollowUp | Device | Fact | None) -> Sequence[Paragraph]:
        seen, today = self.seen, self.caseload.today
        if seen is None or under is None:
            return ()
        if isinstance(under, FollowUp):
            booked = [each for each in seen.booked if each.is_for(under)]
            return why(under, seen.case, seen.protocol, today, staffed=seen.staffed, bookings=booked)
        if isinstance(under, Fact):
            return about.fact_paragraphs(under, self._device(under.device), today)
        return (
            Paragraph(
                "Device",
                f"{under.name} ({under.device}): {about.device_line(under, seen.case, seen.protocol, today)}",
            ),
        )

    @on(Lines.Chosen)
    def _chosen(self) -> None:
        under = self.under
        if isinstance(under, Device) and self.seen:
            records.edit_device(self, self.seen, under)
        elif isinstance(under, Fact):
            self.app.push_screen(Details(f"{under.kind}", about.fact_fields(under, self.caseload.today)))
        elif under is not None:
            self.app.push_screen(Details("Why", self._told_of(under)))

    def action_record(self) -> None:
        if self.seen and isinstance(self.under, FollowUp):
            facts.record(self, self.seen, self.under)
        elif self.seen and isinstance(self.under, Fact) and self._open_end(self.under):
            facts.complete(self, self.seen, self.under)
        else:
            self.tell([("Put the cursor on something that is owed; f records any other fact.", "quiet")])

    @staticmethod
    def _open_end(fact: Fact) -> bool:
        blank = [name for name in BY_NAME[fact.kind].completed if getattr(fact.body, name) is None]
        return fact.counts and bool(blank)

    def action_fact(self) -> None:
        if self.seen:
            facts.other_fact(self, self.seen)

    def action_new(self) -> None:
        if self.seen:
            records.new_device(self, self.seen)

    def action_time_off(self) -> None:
        if self.seen:
            facts.open_fact(self, self.seen, BY_NAME["pause"], None)

    def action_change(self) -> None:
        options = [Option(what, what.replace("_", " "), said) for what, said in CHANGES]

        def chosen(what: str | None) -> None:
            if what:
                self.ask("names", then=lambda names: change(what, names), group="change")

        def change(what: str, names: Mapping[str, tuple[str, ...]]) -> None:
            if self.seen:
                facts.open_fact(self, self.seen, BY_NAME["change"], None, {"what": what}, names)

        self.app.push_screen(Choose("What changes?", options), chosen)

    def action_edit(self) -> None:
        if self.seen is None:
            return
        if isinstance(self.under, Fact):
            if self.under.counts:
                facts.correct(self, self.seen, self.under)
            else:
                self.tell([("It was struck out; u takes the last act back.", "quiet")])
        elif isinstance(self.under, Device):
            records.edit_device(self, self.seen, self.under)
        else:
            records.edit_person(self, self.seen)

    def action_strike(self) -> None:
        fact = self.under
        if not isinstance(fact, Fact) or not fact.counts:
            self.tell([("Put the cursor on an entry of the history that counts.", "quiet")])
            return
        said = sentences.sentence(fact, self._device(fact.device), self.caseload.today)
        question = [
            [("Strike out this entry?", "strong")],
            [(plain(said), "")],
            [("It is kept and shown, and counts for nothing.", "quiet")],
        ]

        def answered(reason: str | None) -> None:
            if reason:
                self.run_worker(self._strike(fact, reason), group="acts")

        self.app.push_screen(Say(question, "why it is wrong"), answered)

    async def _strike(self, fact: Fact, reason: str) -> None:
        done = await self.caseload.try_act(acts.strike_out, fact.id, fact.version, reason)
        if done is not None and self.seen is not None:
            said = facts.told(done, self.seen, self.caseload.today)
            self.tell([("Struck out, with its reason.", "good")], *said[1:])

    def action_copy(self) -> None:
        if self.seen is None:
            return
        devices = {device.device: device for device in self.seen.case.devices}
        told = sentences.visit(self.seen.case.person.name, self.seen.case.facts, devices, self.caseload.today)
        next_up = about.owed_in_order(self.seen.rows, self.caseload.today, self.seen.case)
        if told and next_up:
            device = self._device(next_up[0].device)
            name = f"{device.name} " if device else ""
            told = (*told, f"Next: {name}{next_up[0].kind}, due {days.full(next_up[0].due)}.")
        self.caseload.copy("\n".join(told), "The last visit")
