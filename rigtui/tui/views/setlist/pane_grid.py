"""A grid that has a neighbour: walking over its edge goes there."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from rigtui.tui.text import fit
from rigtui.tui.widgets.grid import Grid, GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow, LazyRows


class LivePane(Vertical):
    """One of several panes; its title says in text, not by colour alone, if it has the keys."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self.live = False
        self._heading = ("", 0)

    def set_live(self, live: bool) -> None:
        """Have the keys, or have them no more."""
        self.set_class(live, "-here")
        if live != self.live:
            self.live = live
            self.set_heading(*self._heading)

    def set_heading(self, text: str, room: int) -> None:
        """Show a title in as many cells as there are."""
        self._heading = (text, room)
        marked = f"{'>' if self.live else ' '} {text}"
        self.query_one(".pane--title", Static).update(Content(fit(marked, room)), layout=False)


class PaneGrid(Grid):
    """A grid in one of several panes side by side."""

    class EdgeCrossed(Message):
        """The cursor was to go beyond the first or the last column."""

        def __init__(self, direction: int) -> None:
            super().__init__()
            self.direction = direction

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._sized = False

    def on_resize(self) -> None:
        """Forget how far it was scrolled while it had no room at all."""
        if not self._sized:
            self._sized, self._top = self.size.height > 0, 0

    def show_at(
        self,
        columns: Sequence[GridColumn],
        rows: Sequence[GridRow] | LazyRows,
        row: int,
        column: int | None = None,
    ) -> None:
        """Show other content with the cursor in a cell of it."""
        before = (self.cursor_row, self.cursor_column)
        self.cursor_row = row
        if column is not None:
            self.cursor_column = column
        self.show(columns, rows)
        if before != (self.cursor_row, self.cursor_column):
            self.refresh()

    def on_click(self, event: events.Click) -> None:
        """Put the cursor in the row that was clicked; keep its column outside those to pick."""
        cell = self.cell_at(event.x, event.y)
        if cell is not None and not self.columns[cell[1]].pick:
            event.prevent_default()
            self.move_to(cell[0])

    def action_move(self, rows: int, columns: int) -> None:
        """Move the cursor; over the edge, leave it to whoever knows the neighbour."""
        picks = [at for at, column in enumerate(self.columns) if column.pick]
        if columns and not any((at - self.cursor_column) * columns > 0 for at in picks):
            self.post_message(self.EdgeCrossed(columns))
        else:
            super().action_move(rows, columns)
