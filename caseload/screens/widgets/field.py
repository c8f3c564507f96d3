"""One field of a form: its label, what is typed or chosen, and under it how that was understood."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.suggester import SuggestFromList
from textual.widget import Widget
from textual.widgets import Input, Label, TextArea

from caseload.plain import visible
from caseload.records.columns import Column, Kind
from caseload.rules.known_words import as_known, stranger
from caseload.screens.widgets.choice import Choice
from caseload.words import entry


class Field(Widget):
    """A field made from its declaration; its text is the only thing it holds."""

    DEFAULT_CSS = """
    Field {
        layout: grid; grid-size: 2; grid-columns: 22 1fr; grid-rows: auto; height: auto;
        & > .label { padding: 0 1 0 1; width: 22; color: $text-muted; }
        & > .label.-here { color: $primary; text-style: bold; }
        & > Input { background: $surface; }
        & > Input:focus { background: $surface-lighten-1; }
        & > TextArea { height: 3; border: none; padding: 0 1; background: $surface; }
        & > TextArea:focus { background: $surface-lighten-1; }
        & > .under { column-span: 2; padding: 0 1 0 23; color: $text-muted; display: none; }
        & > .under.said { display: block; }
        & > .under.wrong { display: block; color: $error; text-style: bold; }
    }
    """

    @dataclass
    class Changed(Message):
        """Somebody typed or chose."""

        field: Field

        @property
        def control(self) -> Field:
            return self.field

    def __init__(
        self,
        column: Column,
        text: str = "",
        *,
        choices: tuple[tuple[str, str], ...] | None = None,
        offered: tuple[str, ...] = (),
        known: bool = False,
        several: bool = False,
    ) -> None:
        """`choices` make a choice of a field that would else be typed; `offered` are words to complete to.

        `known` says that these are all there are so far, so that another word is worth a remark.
        """
        super().__init__(id=f"field-{column.name}")
        self.column = column
        self._given = choices if choices is not None else self._own_choices(column)
        several = several or column.kind is Kind.WORDS
        self.offered = offered if known or column.kind is Kind.OPEN_WORD else ()
        self._known = known and bool(self.offered)
        self._raw, self._shown = text, visible(text, lines=column.long)
        text = self._shown
        self.editor: Choice | Input | TextArea
        if self._given:
            self.editor = Choice(self._given, text, several=several)
        elif column.long:
            self.editor = TextArea(text, compact=True, tab_behavior="focus", soft_wrap=True)
        else:
            suggester = SuggestFromList(offered, case_sensitive=False) if offered else None
            hint = _hint(column)
            self.editor = Input(
                text, placeholder=hint, compact=True, suggester=suggester, select_on_focus=False
            )
        self._under = Label("", classes="under", markup=False)

    @staticmethod
    def _own_choices(column: Column) -> tuple[tuple[str, str], ...]:
        free = column.kind is Kind.OPEN_WORD and len(column.words) < 2
        return () if free or column.kind is Kind.OPEN_WORD else entry.choices(column)

    def compose(self) -> ComposeResult:
        star = " *" if self.column.required else ""
        yield Label(f"{self.column.label}{star}", classes="label", markup=False)
        yield self.editor
        yield self._under

    def on_descendant_focus(self) -> None:
        self.query_one(".label").add_class("-here")

    def on_descendant_blur(self) -> None:
        self.query_one(".label").remove_class("-here")

    def on_mount(self) -> None:
        if self.column.help:
            self.tooltip = Content(self.column.help)

    @property
    def text(self) -> str:
        """What stands in it; a text on record with control characters stays as it is until it is edited."""
        standing = self._standing
        return self._raw if standing == self._shown else standing

    @property
    def _standing(self) -> str:
        return self.editor.value if isinstance(self.editor, Input) else self.editor.text

    def offer(self, words: tuple[str, ...]) -> None:
        """Offer these words from now on; they are all there are so far."""
        if words != self.offered and isinstance(self.editor, Input):
            self.offered, self._known = words, bool(words)
            self.editor.suggester = SuggestFromList(words, case_sensitive=False) if words else None

    def offers(self) -> str:
        """The words offered that go on from what is typed: `enter takes heel`; empty when none does."""
        typed, going_on = self._standing, self._going_on()
        if not going_on:
            return ""
        taken = ("enter takes " if len(going_on) == 1 else "→ takes ") if typed else ""
        return f"{taken}{' · '.join(going_on)}"

    def take_only(self) -> None:
        """Complete what is typed to the one word offered that goes on from it, if there is just one."""
        going_on = self._going_on()
        if self._standing and len(going_on) == 1:
            self.put(going_on[0])

    def remark(self) -> str:
        """That a word is none of those known so far; empty when it is, or when nothing is typed."""
        hint = stranger(self._standing, self.offered) if self._known else ""
        return f"New here, and kept as it is written{hint}" if hint else ""

    def _going_on(self) -> list[str]:
        if as_known(self._standing, self.offered) in self.offered:
            return []
        typed = self._standing.casefold()
        return [word for word in self.offered if word.casefold().startswith(typed)]

    def put(self, text: str) -> None:
        """Write something into it, as if it had been typed."""
        if isinstance(self.editor, Input):
            self.editor.value = text
        elif isinstance(self.editor, TextArea):
            self.editor.load_text(text)
        elif text and text != self.editor.text:
            self.editor.choose(text)

    def tell(self, said: str = "", problem: str = "") -> None:
        """Show under it how it was understood, or what is wrong."""
        self._under.update(Content(problem or said))
        self._under.set_class(bool(problem), "wrong")
        self._under.set_class(bool(said) and not problem, "said")

    def take_focus(self) -> None:
        self.editor.focus()

    @on(Input.Changed)
    @on(TextArea.Changed)
    @on(Choice.Changed)
    def _changed(self, event: Any) -> None:
        event.stop()
        standing = self._standing
        harmless = visible(standing, lines=self.column.long)
        if harmless != standing:  # pasted: what would act on the terminal is shown instead
            self.put(harmless)
            return
        self.post_message(self.Changed(self))


def _hint(column: Column) -> str:
    """What stands in an empty field: the unit and range of a number."""
    if column.low is not None and column.high is not None:
        return f"{column.low:g} to {column.high:g} {column.unit}".strip()
    return column.unit
