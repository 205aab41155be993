"""A question with a list of answers; typing narrows the list down."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from rigtui.model.short_names import fits
from rigtui.tui.text import Visible, plain
from rigtui.tui.widgets.overlay import Overlay
from rigtui.tui.widgets.ways import Ways

WAYS = (("accept", "Enter choose   "), ("leave", "Esc cancel   "), ("keys", "↑↓ move   F1 keys"))
"""What can be clicked, and the keys that do the same."""


class Options(OptionList, can_focus=False):
    """The list; a click on a row that is gone by the time it is dealt with picks nothing."""

    def on_click(self, event: events.Click) -> None:
        """Keep such a click from the screen library, which would fail on it."""
        at = event.style.meta.get("option")
        if at is not None and at >= self.option_count:
            event.prevent_default()


class Pick(Overlay[str | None]):
    """One of a list of things; typing narrows it down."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Cancel", show=False),
        Binding("up", "cursor(-1)", "Up", show=False, priority=True),
        Binding("down", "cursor(1)", "Down", show=False, priority=True),
        Binding("pageup", "cursor(-10)", "Page up", show=False, priority=True),
        Binding("pagedown", "cursor(10)", "Page down", show=False, priority=True),
        Binding("enter", "accept", "Accept", show=False, priority=True),
    ]

    def __init__(
        self,
        title: str,
        choices: Sequence[tuple[str, str]],
        chosen: str | None = None,
        hint: str = "type to narrow the list",
    ) -> None:
        """Ask.

        Args:
            title: What is asked.
            choices: (value, what is shown) pairs; a value is the answer.
            chosen: The value on which the cursor stands first.
            hint: What stands in the line to type in.
        """
        super().__init__()
        self._title = title
        self._choices = tuple(choices)
        self._chosen = chosen
        self._hint = hint

    def narrowed(self, words: str) -> Sequence[tuple[str, str]]:
        """Return the choices that fit what was typed: what begins with it, short forms, the rest.

        A short form is made of the beginnings of words that follow one another.
        """
        wanted = words.casefold().split()
        if not wanted:
            return self._choices
        typed = " ".join(wanted)
        may_be_short = "".join(wanted).isalnum()
        ranked = []
        for choice in self._choices:
            label = choice[1].casefold()
            is_short = may_be_short and fits(typed, label)
            if is_short or all(word in label for word in wanted):
                ranked.append((not label.startswith(typed), not is_short, choice))
        return [choice for *_, choice in sorted(ranked, key=lambda row: row[:2])]

    def compose(self) -> ComposeResult:
        """Title, filter, list, keys."""
        with Vertical(classes="dialog"):
            yield Static(plain(self._title), classes="dialog--title", markup=False)
            yield Input(
                placeholder=self._hint,
                id="filter",
                highlighter=Visible(),
                compact=True,
            )
            yield Options(id="choices", markup=False)
            yield Static("", id="nothing", classes="dialog--note", markup=False)
            yield Ways(WAYS)

    def on_mount(self) -> None:
        """Fill the list and start in the filter."""
        self._fill("")
        self.query_one("#filter", Input).focus()

    @on(Input.Changed, "#filter")
    def _narrow(self, event: Input.Changed) -> None:
        self._fill(event.value)

    def _fill(self, words: str) -> None:
        options = self.query_one("#choices", OptionList)
        options.clear_options()
        shown = self.narrowed(words)
        # Ids are places: what stands in a file need not be fit for an id of the screen library.
        places = {value: at for at, (value, _) in enumerate(self._choices)}
        options.add_options(Option(plain(label), id=str(places[value])) for value, label in shown)
        values = [value for value, _ in shown]
        nothing = self.query_one("#nothing", Static)
        nothing.update(plain("" if shown else f'Nothing matches "{words}".'))
        nothing.display = not shown
        options.display = bool(shown)
        if shown:
            options.highlighted = values.index(self._chosen) if self._chosen in values else 0

    def action_cursor(self, by: int) -> None:
        """Move along the list while the filter keeps the focus: row by row round, or by a page."""
        options = self.query_one("#choices", OptionList)
        last = options.option_count - 1
        if last < 0:
            return
        at = (options.highlighted or 0) + by
        options.highlighted = at % (last + 1) if abs(by) == 1 else max(0, min(at, last))

    def action_accept(self) -> None:
        """Choose what is highlighted."""
        option = self.query_one("#choices", OptionList).highlighted_option
        if option is not None and option.id is not None:
            self.dismiss(self._choices[int(option.id)][0])

    @on(OptionList.OptionSelected)
    def _selected(self, event: OptionList.OptionSelected) -> None:
        if event.option_id is not None:
            self.dismiss(self._choices[int(event.option_id)][0])

    def action_leave(self) -> None:
        """Choose nothing."""
        self.dismiss(None)
