"""The list of a clinician, a site or everyone, in order of work, and why for the line under the cursor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import timedelta
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Container
from textual.widgets import Input

from caseload.plain import plain
from caseload.screens import keys
from caseload.screens.page import Page, Told, bindings
from caseload.screens.widgets.foot import Foot
from caseload.screens.widgets.head import Head
from caseload.screens.widgets.lines import Lines
from caseload.screens.widgets.paragraphs import Paragraphs
from caseload.screens.widgets.tone import Piece
from caseload.words import days, owed
from caseload.words import list as listing
from caseload.words.list import Line
from caseload.words.paragraph import Paragraph

if TYPE_CHECKING:
    from caseload.screens.asking import Seen, WeekSeen, Whose

_HEADING, _GAP = "\0heading ", "\0gap "


class WeekScreen(Page):
    """The first screen."""

    NAME = keys.WEEK
    CSS_PATH = "week.tcss"
    BINDINGS: ClassVar[list[Any]] = bindings(keys.WEEK)
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (150, "-wide")]  # noqa: RUF012  declared so by Textual

    def __init__(self, whose: Whose | None = None) -> None:
        super().__init__()
        self.whose = whose
        self.seen: WeekSeen | None = None
        self.case: Seen | None = None
        self._by_name = False
        self._lines: Mapping[str, Line] = {}

    def compose(self) -> ComposeResult:
        today = self.caseload.today
        yield Head(self._date(), "", [(f"Opening the caseload for {days.full(today, today)} …", "quiet")])
        yield Input(
            placeholder="narrow by name, reference or what is owed; esc shows all", compact=True, id="narrow"
        )
        with Container(id="body"):
            yield Lines(self._draw, id="list")
            yield Paragraphs(id="why")
        yield Told()
        yield Foot(keys.WEEK)

    def on_mount(self) -> None:
        self.query_one("#narrow").display = False
        self.query_one(Lines).focus()
        self.call_after_refresh(self.reload)

    def reload(self) -> None:
        app = self.caseload
        self.ask("week", self.whose, app.who, app.today, app.demo, then=self._show)

    def _date(self) -> str:
        today = self.caseload.today
        monday = today - timedelta(days=today.weekday())
        return f"{days.full(today)} ({days.stretch(monday, self._sunday())})"

    def _sunday(self) -> Any:
        today = self.caseload.today
        return today + timedelta(days=6 - today.weekday())

    def _show(self, seen: WeekSeen) -> None:
        if seen.empty:
            self.caseload.open_first_run()
        self.seen, self.whose = seen, seen.whose
        today = self.caseload.today
        said = owed.counts_said(seen.rows, today, self._sunday())
        if not said:
            said = listing.empty_said(seen.quiet, today)
        else:
            said += listing.beside(seen.quiet, "; ")
        sites = " and ".join(plain(site) for site in seen.sites if site) if seen.whose.clinician else ""
        whose = " · ".join(
            part
            for part in (plain(seen.whose.name), sites, days.count(seen.people, "person", "people"))
            if part
        )
        self.query_one(Head).say(self._date(), whose, [(said, "")])
        self._list()

    def _list(self) -> None:
        """Show the lines, narrowed by what is typed and in the order chosen."""
        assert self.seen is not None
        wanted = self.query_one("#narrow", Input).value.casefold().split()
        shown: list[str] = []
        fixed: set[str] = set()
        lines: dict[str, Line] = {}
        for number, section in enumerate(self.seen.sections):
            kept = [line for line in section.lines if all(word in self._text(line) for word in wanted)]
            if self._by_name:
                kept.sort(key=lambda line: line.first.name.casefold())
            if not kept:
                continue
            if shown:
                shown.append(f"{_GAP}{number}")
            shown.append(f"{_HEADING}{section.heading}")
            fixed |= {f"{_GAP}{number}", f"{_HEADING}{section.heading}"}
            shown += [line.key for line in kept]
            lines |= {line.key: line for line in kept}
        self._lines = lines
        self.query_one(Lines).show(shown, fixed=fixed)
        if not lines:
            self.case = None
            narrowed = bool(self.query_one("#narrow", Input).value)
            said = "Nobody on this list fits what is typed; esc shows all of it."
            self.query_one(Paragraphs).say([Paragraph("Empty", said)] if narrowed else ())

    def _text(self, line: Line) -> str:
        first = line.first
        return f"{first.name} {line.key} {first.device} {owed.what(first.row)}".casefold()

    def _draw(self, key: str, row: Any, width: int) -> Sequence[Piece]:
        if key.startswith(_GAP):
            return []
        if key.startswith(_HEADING):
            return [(f" {key.removeprefix(_HEADING)}", "accent")]
        whose = self.whose.name if self.whose else ""
        return [(" ", ""), *listing.pieces(self._lines[key], self.caseload.today, width - 1, whose)]

    @on(Lines.Moved)
    def _moved(self, event: Lines.Moved) -> None:
        if event.key in self._lines:
            self.ask("person", event.key, self.caseload.today, then=self._explain, group="why")

    def _explain(self, seen: Seen | None) -> None:
        line = self._lines.get(seen.case.person.person) if seen else None
        if seen is None or line is None:
            return
        self.case = seen
        from caseload.words.why import why

        booked = [each for each in seen.booked if each.is_for(line.first.row)]
        self.query_one(Paragraphs).say(
            why(
                line.first.row,
                seen.case,
                seen.protocol,
                self.caseload.today,
                staffed=seen.staffed,
                bookings=booked,
            )
        )

    @on(Lines.Chosen)
    def _chosen(self, event: Lines.Chosen) -> None:
        self.caseload.open_person(event.key)

    def action_record(self) -> None:
        line = self._lines.get(self.query_one(Lines).key)
        if line and self.case and self.case.case.person.person == line.key:
            from caseload.screens.form import facts

            facts.record(self, self.case, line.first.row)

    def action_fact(self) -> None:
        if self.case:
            from caseload.screens.form import facts

            facts.other_fact(self, self.case)

    def action_time_off(self) -> None:
        from caseload.screens.form import records

        records.absence(self)

    def action_new(self) -> None:
        from caseload.screens.form import records

        records.new_person(self)

    def action_narrow(self) -> None:
        box = self.query_one("#narrow", Input)
        box.display = True
        box.focus()

    @on(Input.Changed, "#narrow")
    def _narrowed(self) -> None:
        if self.seen:
            self._list()

    @on(Input.Submitted, "#narrow")
    def _to_list(self) -> None:
        self.query_one(Lines).focus()

    def key_escape(self) -> None:
        box = self.query_one("#narrow", Input)
        if box.display:
            box.value = ""
            box.display = False
        self.query_one(Lines).focus()

    def action_order(self) -> None:
        self._by_name = not self._by_name
        if self.seen:
            self._list()
        self.tell([("In order of name." if self._by_name else "In order of work.", "quiet")])

    def action_whose(self) -> None:
        self.ask("lists", then=self._choose, group="whose")

    def _choose(self, lists: Sequence[tuple[Whose, int]]) -> None:
        from caseload.screens.asking import Whose
        from caseload.screens.dialogs.choose import Choose, Option

        sort = {True: "clinician", False: "site"}
        options = [
            Option(
                str(number),
                plain(whose.name),
                ", ".join(
                    part
                    for part in (
                        sort[bool(whose.clinician)] if whose != Whose() else "",
                        days.count(people, "person", "people"),
                    )
                    if part
                ),
            )
            for number, (whose, people) in enumerate(lists)
        ]
        at = next((str(number) for number, (whose, _) in enumerate(lists) if whose == self.whose), "")

        def chosen(key: str | None) -> None:
            if key is not None:
                self.whose = lists[int(key)][0]
                self.reload()

        self.app.push_screen(Choose("Whose list?", options, at), chosen)

    def action_copy(self) -> None:
        if self.seen:
            heading = f"{plain(self.seen.whose.name)}, {days.full(self.caseload.today)}"
            self.caseload.copy(listing.as_text(self.seen.sections, self.caseload.today, heading), "The list")

    def action_quit(self) -> None:
        self.app.exit()
