"""What all screens share: their keys from the registry, the head, the line that tells, and the lane.

A question of the database is cancelled with its screen and the last one wins; an act is carried to its end
whatever becomes of the screen. What goes wrong is told in one place, in plain words, and nothing typed goes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar

from textual.binding import Binding
from textual.screen import Screen
from textual.widgets import Static

from caseload.errors import CaseloadError
from caseload.screens import keys
from caseload.screens.widgets.tone import Piece, lines

if TYPE_CHECKING:
    from caseload.screens.app import Caseload


def bindings(screen: str) -> list[Binding]:
    """The keys of the registry that hold on a screen."""
    return [
        Binding(key.key, key.action, key.label, show=False, tooltip=key.help, id=f"{screen}.{key.action}")
        for key in keys.of(screen)
        if key.key != "enter"  # lists and fields post their own message for it
    ]


class Told(Static):
    """The line above the foot: what was just done, or why not. It stays until the next thing is told."""

    DEFAULT_CSS = """
    Told { height: auto; max-height: 6; padding: 0 1; display: none; border-top: solid $primary; }
    Told.-on { display: block; }
    """

    def tell(self, said: Sequence[Sequence[Piece]]) -> None:
        self.update(lines(said))
        self.set_class(bool(said), "-on")


class Page(Screen[Any]):
    """A screen of the caseload."""

    NAME: ClassVar[str] = ""
    """Its name in the key registry."""

    _left = False
    """Whether another screen was opened over this one."""

    def on_screen_suspend(self) -> None:
        self._left = True

    def on_screen_resume(self) -> None:
        """On coming back, what somebody else did meanwhile is read too."""
        if self._left:
            self.reload()

    @property
    def caseload(self) -> Caseload:
        """The app, with its own type."""
        return self.app  # type: ignore[return-value]

    def ask(self, question: str, *args: Any, then: Callable[[Any], Any], group: str = "ask") -> None:
        """Ask a question of `asking` and hand the answer to `then`; a newer one of the group replaces it."""
        self.run_worker(partial(self._asked, question, args, then), group=group, exclusive=True)

    async def _asked(self, question: str, args: Sequence[Any], then: Callable[[Any], Any]) -> None:
        try:
            answer = await self.caseload.answer(question, *args)
        except CaseloadError as error:
            self.tell_trouble(error)
            return
        then(answer)

    def tell(self, *said: Sequence[Piece]) -> None:
        """Say on the line above the foot what was done."""
        for told in self.query(Told):
            told.tell(said)

    def tell_trouble(self, error: CaseloadError) -> None:
        """Say what went wrong, and that nothing was changed."""
        self.tell(*([(line, "urgent")] for line in str(error).splitlines()))

    def reload(self) -> None:
        """Read again what the screen shows: after an act, on a new day, on coming back."""

    def action_back(self) -> None:
        self.dismiss(None)

    def action_help(self) -> None:
        self.caseload.open_help(self.NAME)

    def action_find(self) -> None:
        self.caseload.open_find()

    def action_protocol(self) -> None:
        self.caseload.open_protocol()

    def action_undo(self) -> None:
        self.caseload.open_undo()
