"""A list typed line by line, with a choice beside each entry to correct."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Input, Static

from rigtui.model.cells import cells
from rigtui.tui.text import Visible, plain
from rigtui.tui.widgets.grid import Grid, GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow
from rigtui.tui.widgets.overlay import Overlay
from rigtui.tui.widgets.ways import Ways

_ROOM = 68
"""Cells of a line until it is known how many there are."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the list."""

    text: str
    choice: str
    """The value chosen beside it."""
    key: str = ""
    """What it stands for in the rig; empty for a new one."""
    understood: str = ""
    """What the text was taken for, shown in its place."""


class Entries(Overlay[list[Entry]]):
    """Type a line and Enter; Enter on nothing goes on with what is there, Esc leaves it so."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "leave", "Leave; what is there stays", show=False, priority=True),
        Binding("shift+tab", "back", "Back to the step before", show=False, priority=True),
        Binding("up", "cursor(-1)", "Row before", show=False, priority=True),
        Binding("down", "cursor(1)", "Next row", show=False, priority=True),
        Binding("left", "step(-1)", "Choice before", show=False, priority=True),
        Binding("right", "step(1)", "Next choice", show=False, priority=True),
        Binding("ctrl+x,delete", "remove", "Take the row out", show=False, priority=True),
        Binding(
            "enter",
            "accept",
            "Add what is typed, or go on",
            show=False,
            priority=True,
        ),
    ]
    DEFAULT_CSS = """
    Entries { align: center middle; background: $background 60%; }
    Entries Grid { height: 12; max-height: 42vh; background: $surface; }
    """

    def __init__(
        self,
        title: str,
        entries: Sequence[Entry],
        choices: Sequence[tuple[str, str]],
        made: Callable[[str], Entry | str] | None,
        note: str = "",
        hint: str = "",
    ) -> None:
        """Ask.

        Args:
            title: What the list is of.
            entries: What is in it already.
            choices: (value, what is shown) pairs for the choice beside each entry.
            made: Makes an entry of a line that was typed, or says what is wrong with it; None
                where nothing can be added or taken out.
            note: How to type a line.
            hint: What stands in the line while nothing is typed.
        """
        super().__init__()
        self.left = False
        """Whether it was left before its end; what was typed until then is kept."""
        self.back = False
        """Whether the step before is asked for; what was typed until then is kept."""
        self.typed = ""
        """The line that is being typed."""
        self._title = title
        self.entries = list(entries)
        self._choices = tuple(choices)
        self._made = made
        self._note = note
        self._hint = hint

    def compose(self) -> ComposeResult:
        """Title, the line to type in, the list, the fault, the keys."""
        with Vertical(classes="dialog"):
            yield Static(plain(self._title), classes="dialog--title", markup=False)
            if self._note:
                yield Static(plain(self._note), classes="dialog--note", markup=False)
            if self._made is not None:
                yield Input(
                    self.typed,
                    id="line",
                    placeholder=self._hint,
                    highlighter=Visible(),
                    compact=True,
                )
            yield Grid(id="entries")
            yield Static("", id="fault", markup=False)
            adds = self._made is not None
            ways = (
                ("accept", "Enter adds, goes on  " if adds else "Enter goes on  "),
                ("leave", "Esc stops  "),
                ("back", "⇧tab back  "),
                ("keys", f"↑↓ row  ←→ choose  {'^x out' if adds else 'F1 keys'}"),
            )
            yield Ways(ways)

    def on_mount(self) -> None:
        """Show the list; what is typed goes into the line."""
        self._draw()
        (self.query_one("#line", Input) if self._made else self._grid).focus()

    @property
    def _grid(self) -> Grid:
        return self.query_one("#entries", Grid)

    def _draw(self) -> None:
        labels = dict(self._choices)
        rows = []
        for entry in self.entries:
            choice = f"‹ {labels.get(entry.choice, entry.choice)} ›"
            rows.append(GridRow((f" {entry.understood or entry.text}", "", choice)))
        self._grid.empty_text = "Nothing yet."
        room = (self._grid.size.width or _ROOM) - 1
        most = max((cells(label) for label in labels.values()), default=0) + len("‹  ›")
        names = max(room - most, room // 2)
        columns = (
            GridColumn((), names),
            GridColumn((), 1, pick=False),
            GridColumn((), room - names, pick=False),
        )
        self._grid.show(columns, rows)

    def on_resize(self) -> None:
        """Give the names what the choices leave."""
        self._draw()

    def action_cursor(self, by: int) -> None:
        """Go to another entry."""
        self._grid.move_to(self._grid.cursor_row + by)

    def action_step(self, by: int) -> None:
        """Choose something else for the entry; in a line that is being typed, move in it."""
        if self._made is not None and self.query_one("#line", Input).value:
            line = self.query_one("#line", Input)
            line.action_cursor_right() if by > 0 else line.action_cursor_left()
            return
        if not self.entries:
            return
        at = self._grid.cursor_row
        values = [value for value, _ in self._choices]
        entry = self.entries[at]
        place = values.index(entry.choice) if entry.choice in values else -by
        self.entries[at] = replace(entry, choice=values[(place + by) % len(values)])
        self._draw()

    def action_remove(self) -> None:
        """Take the entry out of the list."""
        if self._made is not None and self.entries:
            del self.entries[self._grid.cursor_row]
            self._draw()

    def action_accept(self) -> None:
        """Add the line that was typed; with nothing typed go on with the list."""
        text = self.query_one("#line", Input).value.strip() if self._made else ""
        if self._made is None or not text:
            self.dismiss(self.entries)
            return
        made = self._made(text)
        fault = self.query_one("#fault", Static)
        if isinstance(made, str):
            fault.update(plain(made))
            return
        fault.update("")
        self.entries.append(made)
        self._draw()
        self._grid.move_to(len(self.entries) - 1)
        self.query_one("#line", Input).value = ""

    @on(Grid.CellClicked)
    def _clicked(self) -> None:
        self.action_step(1)

    def action_back(self) -> None:
        """Go to the step before, with what is in the list and in the line by now."""
        self.back = True
        self.typed = self.query_one("#line", Input).value if self._made else ""
        self.dismiss(self.entries)

    def action_leave(self) -> None:
        """Leave the list, with what is in it by now."""
        self.left = True
        self.dismiss(self.entries)
