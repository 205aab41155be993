"""A grid with a cursor, drawn line by line: a key repaints two lines, however large the rig is.

The screen library's own table repaints itself whole for every cell that changes, which costs some
eighty milliseconds at twenty by forty; this one takes two or three.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from itertools import accumulate
from textwrap import wrap
from typing import ClassVar, NamedTuple

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from rigtui.tui.text import fit
from rigtui.tui.widgets.lazy_rows import GridRow, LazyRows
from rigtui.tui.widgets.row_filter import RowFilter
from rigtui.tui.widgets.spill import side_by_side

_LEFT, _RIGHT = 1, 3
"""Buttons of the mouse, as the terminal numbers them."""


class GridColumn(NamedTuple):
    """One column: a heading of one or more lines, and its width in cells."""

    heads: tuple[str, ...]
    width: int
    frozen: bool = False
    """Stays in sight when the columns after it scroll."""
    pick: bool = True
    """Whether the cursor can stand in it."""
    align: str = "left"
    look: str = ""
    """Component class of its cells, e.g. "grid--dim"."""


class Grid(Widget, can_focus=True):
    """Rows by columns with a cursor and frozen headings."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1,0)", "Up", show=False),
        Binding("down,j", "move(1,0)", "Down", show=False),
        Binding("left,h", "move(0,-1)", "Left", show=False),
        Binding("right,l", "move(0,1)", "Right", show=False),
        Binding("pageup", "page(-1)", "Page up", show=False),
        Binding("pagedown", "page(1)", "Page down", show=False),
        Binding("home", "edge_column(-1)", "First column", show=False),
        Binding("end", "edge_column(1)", "Last column", show=False),
        Binding("ctrl+home,g", "edge(-1)", "First row", show=False),
        Binding("ctrl+end,G", "edge(1)", "Last row", show=False),
        Binding("slash", "search", "Search this list", show=False, id="list.search"),
        Binding("escape", "search_end", "Show all rows again", show=False, id="list.all"),
    ]
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "grid--head",
        "grid--cursor",
        "grid--cursor-row",
        "grid--dim",
        "grid--on",
        "grid--warn",
        "grid--error",
        "grid--strong",
        "grid--note",
        "grid--edge",
    }
    DEFAULT_CSS = """
    Grid {
        height: 1fr;
        background: $background;
        color: $foreground;
        & > .grid--head { color: $text-muted; text-style: bold; }
        & > .grid--cursor { background: $primary-muted; color: $foreground; text-style: bold; }
        &:focus > .grid--cursor { background: $primary; color: $text; text-style: bold; }
        & > .grid--cursor-row { background: $surface; }
        & > .grid--dim { color: $text-muted; }
        & > .grid--on { color: $text-success; text-style: bold; }
        & > .grid--warn { color: $text-warning; }
        & > .grid--error { color: $text-error; text-style: bold; }
        & > .grid--strong { text-style: bold; }
        & > .grid--note { color: $text-muted; text-style: italic; }
        & > .grid--edge { color: $text-accent; }
        &:nocolor > .grid--cursor { text-style: underline; }
        &:nocolor:focus > .grid--cursor { text-style: reverse; }
    }
    """

    class CursorMoved(Message):
        """The cursor moved to another cell."""

        def __init__(self, grid: Grid, row: int, column: int) -> None:
            super().__init__()
            self.grid = grid
            self.row = row
            self.column = column

        @property
        def control(self) -> Grid:
            """The grid."""
            return self.grid

    class CellClicked(CursorMoved):
        """The cell under the cursor was clicked once more."""

    class MenuWanted(CursorMoved):
        """A cell was clicked with the right button; the cursor stands there now."""

    class Dragged(Message):
        """A row is dragged over another with the mouse, or let go there."""

        def __init__(self, row: int, onto: int, done: bool) -> None:
            super().__init__()
            self.row = row
            self.onto = onto
            self.done = done

    def __init__(self, *, id: str | None = None, classes: str | None = None) -> None:
        super().__init__(id=id, classes=classes)
        self.columns: tuple[GridColumn, ...] = ()
        self.rows: tuple[GridRow, ...] | LazyRows = ()
        self.empty_text = ""
        self.cursor_row = 0
        self.cursor_column = 0
        self.search = RowFilter()
        self.foot: tuple[str, ...] = ()
        """Lines below the rows, which say something of them all; changed by `set_foot`."""
        self._shown: Sequence[int] = ()
        """Places of the rows that no search has put out of sight, in order."""
        self._top = 0
        """The first of them on the screen."""
        self._left = 0
        self._held: int | None = None
        """The row that the mouse button went down on."""
        self._over: int | None = None
        """The row that it is dragged over."""
        self._base: Style | None = None
        """Its own style with all that stands behind it, added up anew each time."""

    # Content

    def show(self, columns: Sequence[GridColumn], rows: Sequence[GridRow] | LazyRows) -> None:
        """Show other content; lines that did not change are not drawn again."""
        old_columns, old_rows, top, left = self.columns, self.rows, self._top, self._left
        shown = self._shown
        self.columns = tuple(columns)
        self.rows = rows if isinstance(rows, LazyRows) else tuple(rows)
        if len(old_rows) != len(self.rows):
            self._let_go()
        self._shown = self.search.kept(self.rows)
        self._clamp()
        self._keep_in_sight()
        same_frame = old_columns == self.columns and len(old_rows) == len(self.rows)
        same_frame = same_frame and shown == self._shown
        if not self.rows or not same_frame or (top, left) != (self._top, self._left):
            self.refresh()
            return
        for at in self.in_sight:
            if old_rows[at] != self.rows[at]:
                self._refresh_row(at)

    def set_foot(self, lines: Sequence[str]) -> None:
        """Say something below the rows; nothing where there are no lines."""
        if self.foot != tuple(lines):
            self.foot = tuple(lines)
            self._keep_in_sight()
            self.refresh()

    def move_to(self, row: int, column: int | None = None) -> None:
        """Put the cursor in a cell (from 0), the nearest one that can hold it."""
        before = (self.cursor_row, self.cursor_column)
        self.cursor_row = row
        if column is not None:
            self.cursor_column = column
        self._clamp()
        if before != (self.cursor_row, self.cursor_column):
            top, left = self._top, self._left
            self._keep_in_sight()
            if (top, left) == (self._top, self._left):
                self._refresh_row(before[0])
                self._refresh_row(self.cursor_row)
                self.refresh(Region(0, 0, self.size.width, self._head_lines))
            else:
                self.refresh()
            self.post_message(self.CursorMoved(self, self.cursor_row, self.cursor_column))

    def _stops(self) -> list[int]:
        return [at for at in self._shown if not self._is_note(at)]

    def _picks(self) -> list[int]:
        return [at for at, column in enumerate(self.columns) if column.pick]

    def _clamp(self) -> None:
        stops, picks = self._stops(), self._picks()
        if stops:
            self.cursor_row = min(stops, key=lambda at: (abs(at - self.cursor_row), -at))
        elif not self.search.active:
            self.cursor_row = 0
        if picks:
            self.cursor_column = min(picks, key=lambda at: (abs(at - self.cursor_column), at))
        else:
            self.cursor_column = 0

    # Scrolling

    @property
    def in_sight(self) -> Sequence[int]:
        """The rows that are on the screen."""
        return self._shown[self._top : self._top + self._body_lines]

    @property
    def _head_lines(self) -> int:
        return max((len(column.heads) for column in self.columns), default=0)

    @property
    def _body_lines(self) -> int:
        return max(1, self.size.height - self._head_lines - len(self._foot))

    @property
    def _foot(self) -> list[str]:
        """What stands below the rows, and the words that they are searched for."""
        if not self.search.active:
            return [*self.foot]
        every = sum(not self._is_note(at) for at in range(len(self.rows)))
        return [*self.foot, self.search.line(len(self._stops()), every)]

    def _line_of(self, at: int) -> int:
        """The line on which a row stands among those shown, or would stand."""
        return bisect_left(self._shown, at)

    def _keep_in_sight(self) -> None:
        body = self._body_lines
        last_top = max(0, len(self._shown) - body)
        line = above = self._line_of(self.cursor_row)
        while above and line - above < body - 1 and self._is_note(self._shown[above - 1]):
            above -= 1
        if line <= 1:
            above = 0
        self._top = min(max(self._top, line - body + 1), above, last_top)
        self._top = max(0, self._top)
        column = self.cursor_column
        if len(self._picks()) < 2:  # a list: its first columns say what the row is
            self._left = 0
            return
        if column < len(self.columns) and not self.columns[column].frozen:
            self._left = min(self._left, max(0, column - self._frozen_count))
            while self._left < column and not self._fits(column):
                self._left += 1
        while self._left > 0 and self._fits(len(self.columns) - 1, self._left - 1):
            self._left -= 1

    def _is_note(self, at: int) -> bool:
        if isinstance(self.rows, LazyRows):
            return at in self.rows.notes
        return self.rows[at].note is not None

    @property
    def _frozen_count(self) -> int:
        return sum(column.frozen for column in self.columns)

    def _fits(self, column: int, left: int | None = None) -> bool:
        shown = [c.width for c in self.columns if c.frozen]
        moving = [c.width for c in self.columns if not c.frozen]
        place = column - self._frozen_count
        start = self._left if left is None else left
        return sum(shown) + sum(moving[start : place + 1]) <= max(1, self.size.width)

    def on_resize(self) -> None:
        """Keep the cursor in sight when the size changes."""
        self._keep_in_sight()
        self.refresh()

    # Drawing

    def _refresh_row(self, at: int) -> None:
        y = self._line_of(at) - self._top + self._head_lines
        if 0 <= y < self.size.height:
            self.refresh(Region(0, y, self.size.width, 1))

    def _shown_columns(self) -> list[int]:
        """The columns that are drawn, from the left; one to stand in is drawn whole or not."""
        shown, room = [], self.size.width
        for at in self._columns_from_left():
            column = self.columns[at]
            if room < column.width and column.pick and not column.frozen and room < self.size.width:
                break
            shown.append(at)
            room -= column.width
        return shown

    def _columns_from_left(self) -> list[int]:
        """The frozen columns, and the others but for those that are scrolled away to the left."""
        frozen = [at for at, column in enumerate(self.columns) if column.frozen]
        moving = [at for at, column in enumerate(self.columns) if not column.frozen]
        return frozen + moving[self._left :]

    def render_line(self, y: int) -> Strip:
        """Draw one line of the screen."""
        width = self.size.width
        base = self._base = self._base or self.rich_style
        if y < self._head_lines:
            return self._head_line(y, width, base)
        foot = self._foot
        if y >= self.size.height - len(foot):
            text = foot[y - self.size.height + len(foot)]
            return Strip([Segment(fit(text, width), base + self._look("grid--edge"))])
        line = y - self._head_lines + self._top
        if not self.rows and self.empty_text:
            said = wrap(self.empty_text, max(1, width))[y - self._head_lines :][:1]
            if said:
                return Strip([Segment(fit(said[0], width), base + self._look("grid--note"))])
        if line >= len(self._shown):
            return Strip([Segment(" " * width, base)], width)
        at = self._shown[line]
        row = self.rows[at]
        if row.note is not None:
            look = row.look or "grid--note"
            return Strip([Segment(fit(row.note, width), base + self._look(look))], width)
        return self._row_line(at, row, width, base)

    def notify_style_update(self) -> None:
        """Add up the style again after another theme, or when the keys come or go."""
        self._base = None
        super().notify_style_update()

    def _look(self, name: str) -> Style:
        return self.get_component_rich_style(name, partial=True)

    def _head_line(self, y: int, width: int, base: Style) -> Strip:
        head, here = base + self._look("grid--head"), base + self._look("grid--edge")
        segments = []
        for at in self._shown_columns():
            column = self.columns[at]
            first = self._head_lines - len(column.heads)
            text = column.heads[y - first] if y >= first else ""
            look = here + Style(bold=True) if at == self.cursor_column and column.pick else head
            segments.append(Segment(fit(text, column.width, column.align), look))
        line = Strip(segments).adjust_cell_length(width, base)
        if y == 0 and (off := self._off_screen()):
            edges = accumulate(self.columns[at].width for at in self._shown_columns())
            whole = max((edge for edge in edges if edge <= width - len(off)), default=0)
            blank = Segment(" " * (width - len(off) - whole), base)
            line = Strip([*line.crop(0, whole), blank, Segment(off, here)], width)
        return line.simplify()

    def _off_screen(self) -> str:
        """How many columns to stand in are out of sight on either side; "" where none is."""
        if len(self._picks()) < 2:
            return ""
        room = self.size.width
        right = 0
        for at in self._columns_from_left():
            room -= self.columns[at].width
            right += room < 0 and self.columns[at].pick
        left = f"‹{self._left}" if self._left else ""
        return f" {left}{' ' * bool(left and right)}{f'{right}›' if right else ''}" * bool(
            left or right
        )

    def _row_line(self, at: int, row: GridRow, width: int, base: Style) -> Strip:
        here = at == self.cursor_row
        ground = base + self._look("grid--cursor-row") if here else base
        if row.pieces:
            return self._pieces_line(row, here, width, base, ground)
        segments = []
        shown = self._shown_columns()
        columns = [self.columns[index] for index in shown]
        texts = side_by_side(
            [row.cells[index] if index < len(row.cells) else "" for index in shown],
            [column.width for column in columns],
            [column.align for column in columns],
            width,
            shown.index(self.cursor_column) if here and self.cursor_column in shown else None,
        )
        for index, column, text in zip(shown, columns, texts):
            look = (row.looks[index] if index < len(row.looks) else "") or column.look or row.look
            style = ground + self._look(look) if look else ground
            if here:
                style += Style(bgcolor=ground.bgcolor)
            if here and index == self.cursor_column and column.pick:
                style = base + self._look("grid--cursor")
            segments.append(Segment(text, style))
        return Strip(segments).adjust_cell_length(width, ground)

    def _pieces_line(
        self, row: GridRow, here: bool, width: int, base: Style, ground: Style
    ) -> Strip:
        segments = []
        for at, (text, look) in enumerate(row.pieces):
            style = ground + self._look(look) if look else ground
            if here:
                style += Style(bgcolor=ground.bgcolor)
            if here and at == 0:
                style = base + self._look("grid--cursor")
            segments.append(Segment(text, style))
        return Strip(segments).adjust_cell_length(width, ground)

    def get_content_width(self, container: Size, viewport: Size) -> int:
        """As wide as its columns."""
        return sum(column.width for column in self.columns)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As high as its rows with their headings."""
        return len(self.rows) + self._head_lines

    # Moving

    def action_move(self, rows: int, columns: int) -> None:
        """Move the cursor to the next cell that can hold it."""
        if rows:
            stops = self._stops()
            beyond = [at for at in stops if (at - self.cursor_row) * rows > 0]
            if beyond:
                self.move_to(beyond[0] if rows > 0 else beyond[-1])
        if columns:
            beyond = [at for at in self._picks() if (at - self.cursor_column) * columns > 0]
            if beyond:
                self.move_to(self.cursor_row, beyond[0] if columns > 0 else beyond[-1])

    def action_page(self, direction: int) -> None:
        """Move the cursor by a page."""
        line = self._line_of(self.cursor_row) + direction * max(1, self._body_lines - 1)
        if self._shown:
            self.move_to(self._shown[max(0, min(line, len(self._shown) - 1))])

    def action_edge(self, direction: int) -> None:
        """Move the cursor to the first or last row."""
        self.move_to(0 if direction < 0 else len(self.rows))

    def action_edge_column(self, direction: int) -> None:
        """Move the cursor to the first or last column."""
        self.move_to(self.cursor_row, 0 if direction < 0 else len(self.columns))

    # Searching

    def action_search(self) -> None:
        """Type words; only the rows that hold them stay in sight."""
        self.search.begin()
        self._searched()

    def action_search_end(self) -> None:
        """Show all rows again, the cursor where it is."""
        self.search.end()
        self._searched()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Leave Esc to others while nothing is searched for."""
        return action != "search_end" or self.search.active

    def check_consume_key(self, key: str, character: str | None) -> bool:
        """While words are typed, letters are no commands."""
        return self.search.typing and character is not None and character.isprintable()

    async def _on_key(self, event: events.Key) -> None:
        if self.search.typing and self.search.take(event):
            event.stop()
            event.prevent_default()
            self._searched()

    def _on_paste(self, event: events.Paste) -> None:
        if self.search.typing:
            event.stop()
            self.search.paste(event.text)
            self._searched()

    def _searched(self) -> None:
        """Show what the search leaves, the cursor on the nearest row of it."""
        before = (self.cursor_row, self.cursor_column)
        self._shown = self.search.kept(self.rows)
        self._clamp()
        self._keep_in_sight()
        self.refresh()
        self.refresh_bindings()
        if before != (self.cursor_row, self.cursor_column):
            self.post_message(self.CursorMoved(self, self.cursor_row, self.cursor_column))

    def cell_at(self, x: int, y: int) -> tuple[int, int] | None:
        """Return the cell (row, column) under a point, or None outside the cells."""
        line = y - self._head_lines + self._top
        if y < self._head_lines or not 0 <= line < len(self._shown):
            return None
        at = self._shown[line]
        if self._is_note(at):
            return None
        for index in self._shown_columns():
            if x < self.columns[index].width:
                return at, index
            x -= self.columns[index].width
        return at, self.cursor_column

    def on_click(self, event: events.Click) -> None:
        """Put the cursor where the mouse clicked; a click on the cursor picks its cell."""
        cell = self.cell_at(event.x, event.y)
        if cell is None or self._over is not None:  # the end of a drag is no click
            self._over = None
            return
        if event.button == _RIGHT:
            self.move_to(*cell)
            self.post_message(self.MenuWanted(self, *cell))
        elif cell == (self.cursor_row, self.cursor_column):
            self.post_message(self.CellClicked(self, *cell))
        else:
            self.move_to(*cell)

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Take hold of a row."""
        cell = self.cell_at(event.x, event.y)
        self._held = cell[0] if cell is not None and event.button == _LEFT else None
        self._over = None

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Say what the row in hand is dragged over."""
        if self._held is None:
            return
        cell = self.cell_at(event.x, event.y)
        if cell is None or cell[0] == (self._held if self._over is None else self._over):
            return
        self._over = cell[0]
        self.post_message(self.Dragged(self._held, self._over, False))

    def on_leave(self) -> None:
        """Let go of the row: nobody says when the button comes up elsewhere."""
        self._let_go()

    def _let_go(self) -> None:
        """Drag no more; the row may be another one by now, or gone."""
        if self._held is not None and self._over is not None:
            self.post_message(self.Dragged(self._held, self._held, False))
        self._held = None

    def on_mouse_up(self, event: events.MouseUp) -> None:
        """Let the row go where it was dragged."""
        cell = self.cell_at(event.x, event.y)
        if self._held is not None and cell is not None and cell[0] != self._held:
            self._over = cell[0]
            self.post_message(self.Dragged(self._held, self._over, True))
        self._held = None

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        """Scroll with the wheel."""
        event.stop()
        self.action_move(1, 0)

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        """Scroll with the wheel."""
        event.stop()
        self.action_move(-1, 0)
