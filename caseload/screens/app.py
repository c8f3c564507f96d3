"""The app: it owns the lane to the database, today, the drafts and the way from screen to screen.

What a screen does stands with the screen. Paint first, load second: the database is opened on its own thread
after the first frame, and peewee is imported there.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from typing import Any, ClassVar

from rich.traceback import Traceback
from textual.app import App
from textual.binding import Binding

from caseload import clock, settings
from caseload.errors import CaseloadError
from caseload.plain import plain
from caseload.screens import theme
from caseload.screens.drafts import Drafts
from caseload.screens.page import Page, Told
from caseload.screens.week.screen import WeekScreen
from caseload.screens.widgets.tone import Piece
from caseload.store.lane import Lane

# Screens other than the first are imported where they are opened: the first frame waits for none of them.


class Caseload(App[str]):
    """The caseload on screen."""

    TITLE = "caseload"
    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[Any]] = [
        Binding("ctrl+t", "paper", "light or dark", show=False),
        Binding("ctrl+q,ctrl+c", "quit", "leave", show=False, priority=True),
    ]

    def __init__(
        self,
        place: str,
        who: str,
        today: date | None = None,
        holidays: str | None = None,
        *,
        demo: bool = False,
        drafts: Path | None = None,
    ) -> None:
        """`today` None follows the clock; `drafts` is the folder for what is typed and not yet saved."""
        super().__init__()
        self.place, self.who, self.demo = place, who, demo
        self._fixed = today
        self.today = today or clock.today()
        self.lane = Lane(place, holidays=holidays)
        self.drafts = Drafts(drafts or settings.data_folder(), place)
        for paper in theme.PAPERS.values():
            self.register_theme(paper)
        self.theme = theme.first()

    def on_mount(self) -> None:
        self.push_screen(WeekScreen())
        self._wait_for_midnight()

    def _wait_for_midnight(self) -> None:
        if self._fixed is None:
            now = clock.now().astimezone()
            midnight = (now + timedelta(days=1)).replace(hour=0, minute=0, second=1, microsecond=0)
            self.set_timer((midnight - now).total_seconds(), self._midnight)

    def _midnight(self) -> None:
        self.look_at_the_day()
        self._wait_for_midnight()

    def look_at_the_day(self) -> None:
        """Take over the date if it has changed, at midnight or on coming back from sleep."""
        day = self._fixed or clock.today()
        if day != self.today:
            self.today = day
            self.reload_all()

    def on_app_focus(self) -> None:
        """On coming back to the window: it may be another day, and others may have recorded something."""
        self.look_at_the_day()
        if isinstance(self.screen, Page):
            self.screen.reload()

    def reload_all(self) -> None:
        """Have every screen that is open read again what it shows."""
        for screen in self.screen_stack:
            if isinstance(screen, Page):
                screen.reload()

    async def answer(self, question: str, *args: Any) -> Any:
        """The answer to a question of `asking`; raises Trouble in plain words."""
        return await self.lane.read(_asked, question, args)

    async def act(self, what: Callable[..., Any], *args: Any) -> Any:
        """Carry out an act as whoever is at the keyboard, today; it is carried to its end in any case.

        `what` gets a `Desk` first. The screens read again afterwards.
        """
        outcome = await self.lane.change(_at_desk, what, self.who, self.today, args)
        self.reload_all()
        return outcome

    async def try_act(self, what: Callable[..., Any], *args: Any) -> Any | None:
        """As `act`; what goes wrong is told on the screen in front, and gives None."""
        try:
            return await self.act(what, *args)
        except CaseloadError as error:
            self.tell_now(error)
            return None

    def tell_now(self, error: CaseloadError, kept: str = "") -> None:
        """Tell on the screen in front what went wrong, and what was kept."""
        if isinstance(self.screen, Page):
            self.screen.tell(*([(line, "urgent")] for line in str(error).splitlines()), [(kept, "")])

    def saved_elsewhere(self, outcome: Any) -> None:
        """An act begun on a screen that is gone has ended well."""
        if isinstance(self.screen, Page):
            self.screen.tell([("Saved.", "good")])

    def copy(self, text: str, what: str) -> None:
        """Put text on the clipboard, and show it, since not every terminal has one."""
        if not text:
            self.screen.query_one(Told).tell([[("There is nothing to copy yet.", "quiet")]])
            return
        from caseload.screens.dialogs.details import Details
        from caseload.words.paragraph import Paragraph

        self.copy_to_clipboard(text)
        told = [Paragraph("", plain(text, lines=True))]
        self.push_screen(Details(f"{what}, copied to the clipboard", told))

    def open_person(self, reference: str) -> None:
        from caseload.screens.person.screen import PersonScreen

        if type(self.screen).__name__ == "FirstScreen":  # the first person is on record: it has done its work
            self.switch_screen(PersonScreen(reference))
        else:
            self.push_screen(PersonScreen(reference))

    def open_find(self) -> None:
        from caseload.screens.find.screen import FindScreen

        self.push_screen(FindScreen(), lambda key: self.open_person(key) if key else None)

    def open_help(self, screen: str) -> None:
        from caseload.screens.help.screen import HelpScreen

        self.push_screen(HelpScreen(screen))

    def open_protocol(self) -> None:
        from caseload.screens.protocol.screen import ProtocolScreen

        self.push_screen(ProtocolScreen())

    def open_first_run(self) -> None:
        from caseload.screens.first.screen import FirstScreen

        if not any(isinstance(screen, FirstScreen) for screen in self.screen_stack):
            self.push_screen(FirstScreen())

    def open_undo(self) -> None:
        """Ask before the last act is taken back; that it was done, and undone, is kept."""
        self.run_worker(self._undo(), group="undo", exclusive=True)

    async def _undo(self) -> None:
        try:
            last = await self.answer("last_deed", self.who)
        except CaseloadError as error:
            self.tell_now(error)
            return
        from caseload.acts import undo
        from caseload.screens.dialogs.say import Sure

        page = self.screen
        if last is None:
            page.query_one(Told).tell([[("There is nothing of yours to take back.", "quiet")]])
            return
        question: list[list[Piece]] = [[("Take back your last act?", "strong")], [(plain(last[1]), "")]]
        if await self.push_screen_wait(Sure(question, (("no", "leave it"), ("yes", "take it back")))) != "yes":
            return
        if await self.try_act(undo.undo_last, last[0]) is not None:
            page.query_one(Told).tell([[("Taken back: ", "good"), (plain(last[1]), "")]])

    def _fatal_error(self) -> None:
        """A mistake of the program, told without the values it was working on: they are about people."""
        said = (
            "The program made a mistake and ended. What was saved is saved; what was typed is kept as a draft."
        )
        self._exit_renderables += [said, Traceback(show_locals=False, extra_lines=0, max_frames=6)]
        self._close_messages_no_wait()

    def action_paper(self) -> None:
        self.theme = theme.other(self.theme)

    async def on_unmount(self) -> None:
        await self.lane.close()


def _at_desk(store: Any, what: Callable[..., Any], who: str, today: date, args: tuple[Any, ...]) -> Any:
    from caseload.acts.desk import Desk

    return what(Desk(store, who, today), *args)


def _asked(store: Any, question: str, args: tuple[Any, ...]) -> Any:
    from caseload.screens import asking  # on the thread of the database, after the first frame

    return getattr(asking, question)(store, *args)


def run(
    place: str, who: str, today: date | None = None, holidays: str | None = None, *, demo: bool = False
) -> str:
    """Open the screens; `demo` when the user asked to look at the demo instead, else empty.

    `place` is a path or URL, `today` None for the clock's. Ends when the user leaves.
    """
    return Caseload(place, who, today, holidays, demo=demo).run() or ""
