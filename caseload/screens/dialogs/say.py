"""Say why, or answer yes or no."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Input, Static

from caseload.screens.widgets.tone import Piece, lines


class Say(ModalScreen[str | None]):
    """A question answered with a sentence; None when it was left. An empty answer is not taken."""

    CSS = """
    Say, Sure { align: center middle; background: $background 60%; }
    Say > Vertical, Sure > Vertical { width: 76; max-width: 96%; height: auto; max-height: 90%;
        background: $surface; padding: 1 2; border: round $primary; }
    Say Input { margin: 1 0 0 0; }
    Sure Horizontal { height: 1; margin: 1 0 0 0; }
    Sure Button { margin: 0 2 0 0; }
    """
    BINDINGS: ClassVar[list[Any]] = [Binding("escape", "dismiss(None)", show=False)]

    def __init__(self, question: Sequence[Sequence[Piece]], asked: str, text: str = "") -> None:
        super().__init__()
        self._question, self._asked, self._text = question, asked, text

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Static(lines(self._question), markup=False)
            yield Input(self._text, placeholder=self._asked, compact=True)

    @on(Input.Submitted)
    def _answered(self, event: Input.Submitted) -> None:
        if event.value.strip():
            self.dismiss(event.value.strip())
        else:
            event.input.placeholder = f"{self._asked} (needed; esc to leave)"


class Sure(ModalScreen[str | None]):
    """A question with a few answers, each a button and a letter; None when it was left."""

    CSS = Say.CSS
    BINDINGS: ClassVar[list[Any]] = [
        Binding("escape", "dismiss(None)", show=False),
        Binding("right,down", "app.focus_next", show=False),
        Binding("left,up", "app.focus_previous", show=False),
    ]

    def __init__(self, question: Sequence[Sequence[Piece]], answers: Sequence[tuple[str, str]]) -> None:
        """`answers` as (key, how it reads); the first is the one that changes nothing."""
        super().__init__()
        self._question, self._answers = question, answers

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Static(lines(self._question), markup=False)
            with Horizontal():
                for key, said in self._answers:
                    yield Button(Content(said), id=f"answer-{key}", compact=True)

    @on(Button.Pressed)
    def _pressed(self, event: Button.Pressed) -> None:
        self.dismiss((event.button.id or "").removeprefix("answer-"))
