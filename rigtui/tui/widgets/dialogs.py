"""Questions over a screen: forms, and answers by a single key."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, cast

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.reactive import reactive
from textual.suggester import Suggester
from textual.widget import Widget
from textual.widgets import Input, Static

from rigtui.tui.text import Visible, plain
from rigtui.tui.widgets.overlay import Overlay
from rigtui.tui.widgets.ways import Ways

if TYPE_CHECKING:
    from rigtui.tui.widgets.lines import LinesInput


@dataclass(frozen=True, slots=True)
class Field:
    """One line of a form: text to type, or one of some choices."""

    key: str
    label: str
    value: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    """(value, what is shown) pairs; empty for text to type."""
    hint: str = ""
    help: str = ""
    """A sentence on what it is, with its unit and limits, shown while the field has the keys."""
    complete: Callable[[str], str | None] | None = None
    """What is typed with its last word completed; Tab or the right arrow takes it."""
    meant: Callable[[str], str | None] | None = None
    """The value of a choice that typed letters mean, where they begin none."""
    lines: int = 1
    """How many lines of text it shows; with more than one, text may have any number of lines."""
    explain: Callable[[dict[str, str]], str] | None = None
    """What the form says in words as it is typed, shown in place of the help."""


class Choice(Widget, can_focus=True):
    """One of some values; left and right step through them, typing goes to what it begins.

    The same letter again goes to the next value that it begins.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("left,minus", "step(-1)", "Previous", show=False),
        Binding("right,space,plus", "step(1)", "Next", show=False),
    ]
    place: reactive[int] = reactive(0)

    class Changed(Message):
        """Another value is chosen."""

    def watch_place(self) -> None:
        """Tell the form, whose words may hang on it."""
        if self.is_mounted:
            self.post_message(self.Changed())

    def __init__(
        self,
        choices: Sequence[tuple[str, str]],
        value: str,
        id: str,
        meant: Callable[[str], str | None] | None = None,
    ) -> None:
        super().__init__(id=id)
        self.choices = tuple(choices)
        self._meant = meant
        self._typed = ""
        """Letters typed since the field was entered or stepped through."""
        values = [value for value, _ in self.choices]
        self.set_reactive(Choice.place, values.index(value) if value in values else 0)

    @property
    def value(self) -> str:
        """The value chosen."""
        return self.choices[self.place][0]

    def render(self) -> Content:
        """Show the value between the arrows that change it."""
        typed = f"  {self._typed}" if len(self._typed) > 1 else ""
        return Content(f"‹ {plain(self.choices[self.place][1]).plain} ›{typed}")

    def action_step(self, by: int) -> None:
        """Step to another value, round at the ends."""
        self._typed = ""
        self.place = (self.place + by) % len(self.choices)

    def on_click(self) -> None:
        """A click steps on."""
        self.action_step(1)

    def on_blur(self) -> None:
        """What is typed the next time begins anew."""
        self._typed = ""
        self.refresh()

    def on_key(self, event: events.Key) -> None:
        """Letters go to the value that they begin, or that they mean."""
        letter = (event.character or "").casefold()
        if event.key == "backspace" and self._typed:
            event.stop()
            self._typed = self._typed[:-1]
            self.refresh()
        if not letter.isalnum():
            return
        for typed in dict.fromkeys((self._typed + letter, letter)):
            place = self._place_of(typed)
            if place is not None:
                event.stop()
                self._typed = typed
                self.place = place
                self.refresh()
                return

    def _place_of(self, typed: str) -> int | None:
        """The value that letters begin, after the one at hand for a single letter; or mean."""
        count = len(self.choices)
        first = 1 if len(set(typed)) == 1 else 0
        letter = typed[0] if first else typed
        for step in range(first, count + first):
            place = (self.place + step) % count
            if self.choices[place][1].casefold().startswith(letter):
                return place
        value = self._meant(typed) if self._meant is not None else None
        return next((at for at, row in enumerate(self.choices) if row[0] == value), None)


class Completing(Suggester):
    """Shows behind what is typed how it would go on."""

    def __init__(self, complete: Callable[[str], str | None]) -> None:
        super().__init__(use_cache=False, case_sensitive=True)
        self._complete = complete

    async def get_suggestion(self, value: str) -> str | None:
        """The text completed."""
        return self._complete(value)


class Form(Overlay[bool]):
    """Some fields to fill in; `submit` takes them and returns what is wrong, or None.

    The form stays open, with the fault shown, until the values are good or it is left.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Cancel", show=False),
        Binding("enter", "accept", "Accept", show=False, priority=True),
        Binding("up,shift+tab", "step(-1)", "Field before", show=False, priority=True),
        Binding("tab", "complete", "Complete, or next field", show=False, priority=True),
        Binding("down", "step(1)", "Next field", show=False, priority=True),
        Binding("pagedown", "page(1)", "Read on in the help", show=False, priority=True),
        Binding("pageup", "page(-1)", "Read back in the help", show=False, priority=True),
    ]
    MOST_OF_LABEL: ClassVar[int] = 76
    """Cells of a label's line; a longer one takes several."""

    def __init__(
        self,
        title: str,
        fields: Sequence[Field],
        submit: Callable[[dict[str, str]], str | None],
        note: str = "",
    ) -> None:
        super().__init__()
        self._title = title
        self._fields = tuple(fields)
        self._submit = submit
        self._note = note
        self._faulty: dict[str, str] | None = None
        """The values that the fault on the screen is about."""

    def compose(self) -> ComposeResult:
        """Title, a line a field, what the field at hand is, the keys."""
        with Vertical(classes="dialog -helped"):
            yield Static(plain(self._title), classes="dialog--title", markup=False)
            if self._note:
                yield Static(plain(self._note), classes="dialog--note", markup=False)
            with VerticalScroll(classes="dialog--fields", can_focus=False):
                labels = [plain(field.label) for field in self._fields]
                longest = max(label.cell_length for label in labels)
                width = max(18, min(longest, self.MOST_OF_LABEL) + 2)
                for field, label in zip(self._fields, labels):
                    with Horizontal(classes="dialog--field", id=f"row-{field.key}") as row:
                        row.styles.height = field.lines if label.cell_length < width - 1 else "auto"
                        said = Static(label, classes="dialog--label", markup=False)
                        said.styles.width = width
                        yield said
                        yield self._line(field)
                yield Static("", id="fault", markup=False)
            with VerticalScroll(classes="dialog--help", can_focus=False):
                yield Static("", id="help", markup=False)
            yield Ways(self._ways())

    def _line(self, field: Field) -> Choice | Input | LinesInput:
        if field.choices:
            return Choice(field.choices, field.value, f"field-{field.key}", field.meant)
        if field.lines > 1:
            from rigtui.tui.widgets.lines import LinesInput

            return LinesInput(field.value, field.lines, id=f"field-{field.key}")
        return Input(
            field.value,
            placeholder=plain(field.hint).plain,
            id=f"field-{field.key}",
            highlighter=Visible(),
            suggester=Completing(field.complete) if field.complete else None,
            compact=True,
        )

    def _ways(self) -> list[tuple[str, str]]:
        """What can be clicked, and the keys that do the same."""
        ways = [("accept", "Enter accept   "), ("leave", "Esc cancel   ")]
        if len(self._fields) > 1:
            ways.append(("fields", "↑↓ field   "))
        if any(field.choices for field in self._fields):
            ways.append(("choices", "←→ choose   "))
        if any(field.complete for field in self._fields):
            ways.append(("completes", "Tab completes   "))
        if any(field.lines > 1 for field in self._fields):
            ways.append(("lines", "Ctrl+J new line   "))
        ways.append(("keys", "F1 keys"))
        return ways

    def on_mount(self) -> None:
        """Start in the first field. Entering a field selects all of it; an arrow edits it."""
        self._inputs()[0].focus()

    @on(events.DescendantFocus)
    def _entered(self, event: events.DescendantFocus) -> None:
        self._explain()

    @on(Input.Changed)
    @on(Choice.Changed)
    def _typed(self) -> None:
        if self._faulty is not None and self._given() != self._faulty:
            self._faulty = None
            self.query_one("#fault", Static).update("")
        self._explain()

    def on_text_area_changed(self) -> None:
        """Say what a text of several lines means."""
        self._typed()

    def _given(self) -> dict[str, str]:
        return {field.key: line.value for field, line in zip(self._fields, self._inputs())}

    def _explain(self) -> None:
        """Say what the field is that has the keys, or what its text means.

        What is wrong is not said twice: while that stands, nothing is said of what is meant.
        """
        for field, line in zip(self._fields, self._inputs()):
            if line.has_focus:
                said = field.help or field.hint
                if field.explain is not None and self._faulty is None:
                    said = field.explain(self._given()) or said
                self.query_one("#help", Static).update(plain(said))

    def _inputs(self) -> list[Input | Choice | LinesInput]:
        inputs: list[Input | Choice | LinesInput] = []
        for field in self._fields:
            where = f"#field-{field.key}"
            if field.choices:
                inputs.append(self.query_one(where, Choice))
            elif field.lines > 1:
                inputs.append(cast("LinesInput", self.query_one(where)))
            else:
                inputs.append(self.query_one(where, Input))
        return inputs

    def action_step(self, by: int) -> None:
        """Go to another field."""
        inputs = self._inputs()
        here = next((at for at, field in enumerate(inputs) if field.has_focus), 0)
        text = inputs[here]
        if self._fields[here].lines > 1 and cast("LinesInput", text).walked(by):
            return
        inputs[(here + by) % len(inputs)].focus()

    def action_page(self, by: int) -> None:
        """Read on where the help is longer than its room."""
        said = self.query_one(".dialog--help", VerticalScroll)
        said.scroll_relative(y=by * max(1, said.size.height - 1), animate=False)

    def action_complete(self) -> None:
        """Take what completes the text, where something does; else go to the next field."""
        for field, line in zip(self._fields, self._inputs()):
            if isinstance(line, Input) and line.has_focus and field.complete:
                whole = field.complete(line.value) if line.cursor_at_end else None
                if whole is not None:
                    line.value, line.cursor_position = whole, len(whole)
                    return
        self.action_step(1)

    def action_accept(self) -> None:
        """Hand the values over; stay if something is wrong with them."""
        inputs = self._inputs()
        fault = self._submit(self._given())
        if fault is None:
            self.dismiss(True)
            return
        self._faulty = self._given()
        said = self.query_one("#fault", Static)
        said.update(plain(fault))
        at = field_at_fault(self._fields, fault)
        if at is not None:
            row = self.query_one(f"#row-{self._fields[at].key}")
            self.query_one(".dialog--fields").move_child(said, after=row)
            inputs[at].focus()
            self.call_after_refresh(_stand_at, inputs[at], fault)
        self._explain()
        said.scroll_visible(animate=False)

    def action_leave(self) -> None:
        """Leave everything as it is."""
        self.dismiss(False)


def _stand_at(field: Input | Choice | LinesInput, fault: str) -> None:
    """Put the cursor where a fault says that it is, nothing selected."""
    column = re.search(r"column (\d+)", fault)
    place = int(column[1]) - 1 if column is not None else 0
    if isinstance(field, Input):
        if column is not None:
            field.cursor_position = place
    elif not isinstance(field, Choice) and (line := re.search(r"line (\d+)", fault)) is not None:
        field.stand_at(int(line[1]) - 1, place)


def field_at_fault(fields: Sequence[Field], fault: str) -> int | None:
    """The place of the field that a fault names before any other; None if it names none."""
    words = re.findall(r"[^\W_]+", fault.casefold())
    named: list[tuple[int, int, int]] = []
    for at, field in enumerate(fields):
        for name in (field.label, field.key):
            wanted = re.findall(r"[^\W_]+", name.casefold())
            for start in range(len(words)):
                here = words[start : start + len(wanted)]
                if len(here) == len(wanted) > 0 and all(map(_alike, here, wanted)):
                    named.append((start, -len(wanted), at))
    return min(named)[2] if named else None


def _alike(word: str, wanted: str) -> bool:
    """Whether two words are the same but for the s of a plural."""
    return word == wanted or word == wanted.removesuffix("s")


class Confirm(Overlay[str | None]):
    """A question with some answers, each a single key; Esc gives none."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "leave", "Cancel", show=False)]

    def __init__(
        self,
        question: str,
        answers: Sequence[tuple[str, str]],
        details: Sequence[str] = (),
        leave: str = "go back",
    ) -> None:
        """Ask.

        Args:
            question: What is asked, in a sentence or two.
            answers: (key, what it does) pairs; the key pressed is the result.
            details: Lines to look through before answering, e.g. what differs.
            leave: What Esc does.
        """
        super().__init__()
        self._question = question
        self._answers = tuple(answers)
        self._details = tuple(details)
        self._leave = leave

    def compose(self) -> ComposeResult:
        """The question and a line an answer."""
        with Vertical(classes="dialog"):
            yield Static(plain(self._question), classes="dialog--title", markup=False)
            if self._details:
                with VerticalScroll(classes="dialog--details"):
                    yield Static(
                        Content("\n").join(plain(line) for line in self._details), markup=False
                    )
            for key, label in (*self._answers, ("Esc", self._leave)):
                yield Static(
                    Content(f" {key:>4}  ") + plain(label),
                    classes="dialog--answer",
                    name=key,
                    markup=False,
                )

    def on_key(self, event: events.Key) -> None:
        """Answer with the key."""
        if event.character is not None and any(event.character == key for key, _ in self._answers):
            event.stop()
            self.dismiss(event.character)

    @on(events.Click)
    def _clicked(self, event: events.Click) -> None:
        name = event.widget.name if event.widget is not None else None
        if name is not None:
            self.dismiss(None if name == "Esc" else name)

    def action_leave(self) -> None:
        """Give no answer."""
        self.dismiss(None)
