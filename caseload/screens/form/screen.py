"""A form: the fields of one fact or record, read at every keystroke, saved as one act.

Nothing typed is lost: each change is kept as a draft until it is saved, and Esc leaves the draft. While an
act is being carried out the screen may be left; the app tells how it went.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping, Sequence
from typing import Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Input, Static, TextArea

from caseload.errors import CaseloadError, Changed, Refused
from caseload.plain import plain
from caseload.records.columns import Kind
from caseload.screens import keys
from caseload.screens.dialogs.say import Sure
from caseload.screens.page import Page, Told, bindings
from caseload.screens.widgets.choice import Choice
from caseload.screens.widgets.field import Field
from caseload.screens.widgets.foot import Foot
from caseload.screens.widgets.head import Head
from caseload.screens.widgets.tone import Piece, lines
from caseload.words import changed
from caseload.words.form import Form, Understood, first_to_fill, read

Save = Callable[[Mapping[str, Any]], Awaitable[Any]]
Beside = Callable[[Mapping[str, str], Understood], Sequence[Sequence[Piece]]]
"""What is shown under the fields while typing: a grade, a caution."""
Offers = Callable[[Mapping[str, str]], Mapping[str, tuple[str, ...]]]
"""The words to complete a field to, from the texts of the form."""


class FormScreen(Page):
    """Dismissed with what `save` returned, or None when it was left."""

    NAME = keys.FORM
    CSS_PATH = "form.tcss"
    BINDINGS: ClassVar[list[Any]] = bindings(keys.FORM)

    def __init__(
        self,
        form: Form,
        whom: str,
        save: Save,
        *,
        draft: str,
        offered: Mapping[str, tuple[str, ...]] | None = None,
        offers: Offers | None = None,
        beside: Beside | None = None,
        above: Sequence[Sequence[Piece]] = (),
    ) -> None:
        """`draft` names what is typed here until it is saved; `offered` are words to complete a field to.

        `offers` gives those that hang on what stands in another field.
        """
        super().__init__()
        self.form, self._whom, self._save, self._draft = form, whom, save, draft
        self._offered, self._beside, self._above = offered or {}, beside, above
        self._offers = offers
        self._saving = self._tried = False
        self._refusals: dict[str, tuple[str, str]] = {}
        """By field the text that was refused, and why."""

    def compose(self) -> ComposeResult:
        kept = self.caseload.drafts.of(self._draft)
        self._from_draft = bool(kept)
        texts = {**self.form.texts, **kept}
        yield Head(self.form.title, plain(self._whom))
        with VerticalScroll(id="fields", can_focus=False):
            if self._above:
                yield Static(lines(self._above), id="above", markup=False)
            for column in self.form.columns:
                known = self._offered.get(column.offered or column.name)
                yield Field(
                    column,
                    texts.get(column.name, ""),
                    choices=self.form.choices.get(column.name),
                    offered=known if known is not None else column.words,
                    known=known is not None,
                    several=column.name in self.form.several,
                )
        yield Static("", id="beside", markup=False)
        yield Told()
        yield Foot(keys.FORM)

    def on_mount(self) -> None:
        self.query_one("#beside", Static).display = False
        self._understand()
        first = first_to_fill(self.form, self.texts) or self.form.columns[0].name
        self.field(first).take_focus()
        if self._from_draft:
            self.tell([("This is a draft from before. ", "strong"), ("ctrl+n starts afresh.", "quiet")])

    @property
    def texts(self) -> dict[str, str]:
        """What stands in the fields now."""
        return {field.column.name: field.text for field in self.query(Field)}

    def field(self, name: str) -> Field:
        """The field of a column."""
        return self.query_one(f"#field-{name}", Field)

    @on(Field.Changed)
    def _typed(self, event: Field.Changed) -> None:
        if self.form.columns and event.field.is_mounted:
            self._understand()
            self._keep()

    def _keep(self) -> None:
        texts = self.texts
        begun = {name: text for name, text in texts.items() if text.strip()}
        if begun == {name: text for name, text in self.form.texts.items() if text.strip()}:
            self.caseload.drafts.drop(self._draft)
        else:
            self.caseload.drafts.keep(self._draft, {**texts, **self._fixed_days(texts)})

    def _fixed_days(self, texts: Mapping[str, str]) -> dict[str, str]:
        """The days typed as they were understood: the `today` of a draft is the day it was typed on."""
        values = read(self.form, texts, self.caseload.today).values
        return {
            column.name: f"{day:%Y-%m-%d}"
            for column in self.form.columns
            if column.kind is Kind.DAY and (day := values.get(column.name)) is not None
        }

    def _understand(self) -> Understood:
        """Read the form and tell each field how it was understood.

        A blank field is told that it is needed only once saving was tried; what an act refused stays told until
        the field is changed.
        """
        texts = self.texts
        for name, offered in (self._offers(texts) if self._offers else {}).items():
            self.field(name).offer(offered)
        fields = list(self.query(Field))
        found = read(
            self.form, texts, self.caseload.today, {field.column.name: field.offered for field in fields}
        )
        for field in fields:
            name = field.column.name
            problem = found.problems.get(name, "")
            typing = self.focused is field.editor and field.column.kind in (Kind.DAY, Kind.TIME)
            if not self._tried and (typing or not texts[name].strip()):
                problem = ""
            text, refusal = self._refusals.get(name, ("", ""))
            said = found.said.get(name, "") or (
                field.offers() if self.focused is field.editor else field.remark()
            )
            field.tell(said, problem or (refusal if text == texts[name] else ""))
        if self._beside is not None:
            beside = self._beside(texts, found)
            self.query_one("#beside", Static).update(lines(beside))
            self.query_one("#beside", Static).display = bool(beside)
        return found

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        self._understand()

    def on_descendant_blur(self, event: events.DescendantBlur) -> None:
        self._understand()

    @on(Input.Submitted)
    def _enter(self, event: Input.Submitted) -> None:
        event.stop()
        for field in self.query(Field):
            if field.editor is event.input:
                field.take_only()
        self.action_go_on()

    def on_key(self, event: events.Key) -> None:
        if event.key == "enter" and isinstance(self.focused, Choice):
            event.stop()
            self.action_go_on()
        elif event.key in ("down", "up") and not isinstance(self.focused, TextArea):
            event.stop()
            self.focus_next() if event.key == "down" else self.focus_previous()

    def action_go_on(self) -> None:
        """To the next field that must be filled; when none is empty, save."""
        empty = first_to_fill(self.form, self.texts)
        if empty:
            self.field(empty).take_focus()
        else:
            self.action_save()

    def action_afresh(self) -> None:
        """Throw the draft away."""
        self.caseload.drafts.drop(self._draft)
        self.dismiss(Afresh)

    def action_save(self) -> None:
        if self._saving:
            return
        self._tried = True
        self._refusals = {}
        for field in self.query(Field):
            if field.editor is self.focused:
                # The rest of the one word that fits stands there in grey: what is seen is what is saved.
                field.take_only()
        found = self._understand()
        if found.problems:
            first = next(column.name for column in self.form.columns if column.name in found.problems)
            self.field(first).take_focus()
            count = len(found.problems)
            self.tell([("Not saved: ", "urgent"), (f"{count} field{'s' if count > 1 else ''} to look at.", "")])
            return
        self._saving = True
        self.tell([("Saving …", "quiet")])
        self.caseload.run_worker(self._carry_out(found.values), group="acts", exit_on_error=True)

    async def _carry_out(self, values: Mapping[str, Any]) -> None:
        try:
            outcome = await self._save(values)
        except Refused as error:
            self._saving = False
            self._refused(error)
        except Changed as error:
            self._saving = False
            await self._changed(error)
        except CaseloadError as error:
            self._saving = False
            self.caseload.tell_now(error, "What you typed is kept as a draft.")
        else:
            if outcome is None:  # asked for a reason, and left without one
                self._saving = False
                self.tell()
                return
            self.caseload.drafts.drop(self._draft)
            if self.is_current:
                self.dismiss(outcome)
            else:
                self.caseload.saved_elsewhere(outcome)

    def _refused(self, error: Refused) -> None:
        at = [problem for problem in error.at if problem.field and self.query(f"#field-{problem.field}")]
        self._refusals = {problem.field: (self.texts[problem.field], problem.says) for problem in at}
        self._understand()
        if at:
            self.field(at[0].field).take_focus()
        rest = [problem.says for problem in error.at if problem not in at]
        self.tell([("Not saved. ", "urgent"), (" ".join(rest), "")])

    async def _changed(self, error: Changed) -> None:
        """Somebody else saved meanwhile: both versions, and the person decides."""
        mine = self._understand().values
        theirs, yours = changed.both(error.theirs, mine, self.form.columns, self.caseload.today)
        by = f" by {plain(error.by)}" if error.by else ""
        question: list[Sequence[Piece]] = [
            [(f"Another version was saved{by} meanwhile.", "strong")],
            [("On record now: ", "quiet"), (plain(theirs, longest=400), "")],
            [("Yours:         ", "quiet"), (plain(yours, longest=400), "")],
        ]
        answers = (("look", "back to the form, yours is kept"), ("leave", "leave it as it is on record"))
        answer = await self.caseload.push_screen_wait(Sure(question, answers))
        if answer == "leave":
            self.caseload.drafts.drop(self._draft)
            self.dismiss(None)
        else:
            self.tell(
                [
                    ("Not saved: the entry was changed meanwhile. ", "urgent"),
                    ("Open it again to save over it; your text is kept.", ""),
                ]
            )


class Afresh:
    """The form is to be opened again, empty."""
