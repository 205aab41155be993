"""The left pane: the evening with its sets and songs, or all songs of the file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from rigtui.model.cells import cells
from rigtui.model.place_words import set_title
from rigtui.model.places import place_at
from rigtui.model.text import clock_time, count, visible
from rigtui.moves.words import burden_in_words
from rigtui.tui.text import fit
from rigtui.tui.views.setlist.pane_grid import PaneGrid
from rigtui.tui.views.setlist.panes import EveningPane, Stand
from rigtui.tui.views.setlist.running_order import (
    ERROR,
    OrderPlace,
    OrderTotals,
    RunningOrder,
)
from rigtui.tui.views.setlist.ticks import TICK, ticks_line
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.headings import begun_before
from rigtui.tui.widgets.lazy_rows import GridRow, LazyRows

_WIDE = 36
"""From this many cells on, what is said above the list is said in full."""
_EDGE = 2
"""Cells of the line at the pane's edge and of the blank before it."""
_LONGEST = 30
"""Cells up to which titles have room before figures other than moves have a column."""
_FOR_TICKED = (
    (("setlist.up", "setlist.down"), "move"),
    (("setlist.duplicate",), "copy"),
    (("setlist.copy",), "copy to play elsewhere"),
    (("setlist.remove",), "remove"),
    (("setlist.untick",), "untick"),
)
"""Keys that act on ticked songs, by their ids, and what they do."""


class ListPane(EveningPane):
    """Sets and songs in order, with their moves and a mark where something is the matter."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "enter", "To its sections", show=False, id="setlist.enter"),
        Binding("a", "add", "Add", id="setlist.add"),
        Binding("e", "edit", "Edit", id="setlist.edit"),
        Binding("w", "write_line", "Write", id="setlist.write"),
        Binding("d", "duplicate", "Copy", id="setlist.duplicate"),
        Binding("c", "copy", "Copy to play elsewhere", show=False, id="setlist.copy"),
        Binding("v", "paste", "Paste songs", show=False, id="setlist.paste"),
        Binding("t", "tick", "Tick, for keys that act on several", show=False, id="setlist.tick"),
        Binding("escape", "untick", "Untick all", show=False, id="setlist.untick"),
        Binding("b", "split", "Split the set: a new set from here", show=False, id="setlist.split"),
        Binding("B", "join", "Join the set with the one before", show=False, id="setlist.join"),
        Binding("x,delete", "remove", "Remove", id="setlist.remove"),
        Binding("shift+up,K", "shift(-1)", "Move up", show=False, id="setlist.up"),
        Binding("shift+down,J", "shift(1)", "Move down", show=False, id="setlist.down"),
    ]
    DEFAULT_CSS = """
    ListPane { width: 26; height: 1fr; border-right: solid $panel-lighten-1; }
    ListPane > Static { height: 1; }
    ListPane > .pane--figures { height: auto; max-height: 3; color: $text-muted; }
    ListPane > .pane--title { text-style: bold; }
    ListPane.-here > .pane--title { text-style: bold reverse; }
    """

    class Stood(Message):
        """The cursor moved to another row."""

    class Entered(Message):
        """The keys are to go on to the song's sections."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._marks: Mapping[str, str] = {}
        self._longest = 0
        """Cells of the longest row; measured once for each evening that is shown."""

    def compose(self) -> ComposeResult:
        """Name and figures of the setlist above, its rows below."""
        yield Static("", classes="pane--title", markup=False)
        yield Static("", classes="pane--figures", markup=False)
        yield PaneGrid(id="evening-rows")

    @property
    def grid(self) -> PaneGrid:
        """The rows."""
        return self.query_one(PaneGrid)

    # Showing

    def show(
        self, evening: RunningOrder, marks: Mapping[str, str], place: OrderPlace | None = None
    ) -> None:
        """Show an evening, the cursor on a place or, without one, where it stood."""
        self._take_place()
        self.evening, self._marks = evening, marks
        self._longest = self._longest_of(evening)
        self.ticks.show(evening.setlist_id, evening.places)
        wanted = place or self.place
        row = evening.row_of(wanted, self.grid.cursor_row) if wanted else self._first_song()
        self._draw(row)
        self._take_place()

    def stand(self, spot: Stand) -> None:
        """Put the cursor on a place."""
        if self.evening is not None:
            self.grid.move_to(self.evening.row_of(spot.place, self.grid.cursor_row))

    def _first_song(self) -> int:
        assert self.evening is not None
        rows = (at for at, place in enumerate(self.evening.places) if place.kind == "song")
        return next(rows, 0)

    def _take_place(self) -> None:
        places = self.evening.places if self.evening else ()
        had = self.place is not None
        self.place = places[min(self.grid.cursor_row, len(places) - 1)] if places else None
        if had != (self.place is not None):
            self.refresh_bindings()

    def mark(self, marks: Mapping[str, str]) -> None:
        """Show other marks."""
        if marks != self._marks:
            self._marks = marks
            self._draw(self.grid.cursor_row)

    def _draw(self, row: int) -> None:
        evening = self.evening
        if evening is None:
            return
        width = (self.size.width or 26) - 1
        figures = self._figures(evening, width)
        setlists = [setlist.id for setlist in evening.rig.setlists]
        head = "in file order"
        if evening.setlist is not None:
            head = f"setlist {setlists.index(evening.setlist.id) + 1} of {len(setlists)}"
        names = width - sum(figures.values())
        (first, own), *others = figures.items()
        head, first_head = begun_before(head, names, first, own)
        columns = [
            GridColumn((head,), names),
            GridColumn((first_head,), own, pick=False, align="right"),
            *(GridColumn((name,), each, pick=False, align="right") for name, each in others),
        ]
        places, numbers = evening.places, tuple(figures)
        rows = LazyRows(len(places), lambda at: self._row(evening, places[at], numbers))
        self.grid.empty_text = "No songs: press a, or v to paste a list."
        self.grid.set_foot(ticks_line(self, len(self.ticked), _FOR_TICKED, width))
        self.grid.show_at(columns, rows, row)
        self._draw_head(evening, width)

    def _figures(self, evening: RunningOrder, width: int) -> dict[str, int]:
        """Columns of figures and their cells: moves, and those that leave the names their room."""
        total = evening.totals
        figures = {"moves": 1 + max(2, len(str(total.moves)))}
        offered = {} if evening.setlist is not None else {"sets": 5}
        if total.extra_presses:
            offered["extra"] = 6
        if total.unplayable:
            offered["can't"] = 6
        offered["time"] = 1 + len(clock_time(total.seconds))
        left = width - min(_LONGEST, self._longest) - figures["moves"]
        for name, cells_ in offered.items():
            if cells_ <= left:
                figures[name] = cells_
                left -= cells_
        return figures

    def _row(self, evening: RunningOrder, place: OrderPlace, numbers: tuple[str, ...]) -> GridRow:
        look = ""
        if place.kind == "setlist":
            assert evening.setlist is not None
            day = evening.setlist.date
            text, songs, look = (f"Evening {day or ''}", evening.setlist.song_ids, "grid--strong")
        elif place.kind == "set":
            part = evening.part(place)
            assert part is not None
            text, songs, look = set_title(part, place.set_at), part.songs, "grid--strong"
        else:
            songs = (place.song_id,)
            text, look = self._song_text(evening, place)
        figures = evening.figures(songs)
        if place.kind == "song" and figures is not None and figures.unplayable:
            text, look = f"{ERROR}{text[1:]}", "grid--error"
        figures_told = (_cell(evening, place, figures, number) for number in numbers)
        return GridRow((text, *figures_told), (look,), look=look)

    @property
    def wanted_width(self) -> tuple[int, int]:
        """Cells in which no name is cut; those in which every figure has its column too."""
        evening = self.evening
        if evening is None:
            return _WIDE + 2, _WIDE + 2
        names = self._longest + sum(self._figures(evening, 0).values()) + _EDGE
        every = self._longest + sum(self._figures(evening, 1000).values()) + _EDGE
        return names, max(_WIDE + 2, cells(visible(evening.label)) + 3, every)

    def _longest_of(self, evening: RunningOrder) -> int:
        """Cells of the longest title or set's name, with what stands before it."""
        titles = {
            cells(visible(_title(evening, place))) for place in evening.places if place.song_id
        }
        sets = evening.setlist.sets if evening.setlist else ()
        parts = {cells(visible(set_title(part, at))) for at, part in enumerate(sets)}
        number = self._number_cells(evening)
        return max({2 + number + bool(number) + max(titles, default=0), *parts})

    @staticmethod
    def _number_cells(evening: RunningOrder) -> int:
        """Cells of the songs' numbers; all songs of the file have none."""
        sets = evening.setlist.sets if evening.setlist else ()
        return len(str(max(len(part.songs) for part in sets))) if sets else 0

    def _song_text(self, evening: RunningOrder, place: OrderPlace) -> tuple[str, str]:
        song = evening.song(place)
        size = self._number_cells(evening)
        number = f"{place.at + 1:>{size}} " if size else ""
        before = (TICK if place in self.ticked else " ") + number
        title = _title(evening, place)
        if song is None:
            return f"{ERROR}{before}{title}", "grid--error"
        mark = self._marks.get(place_at("songs", song.id), "")
        look = "" if not mark else "grid--error" if mark == ERROR else "grid--warn"
        return f"{mark or ' '}{before}{title}", look

    def _draw_head(self, evening: RunningOrder, width: int) -> None:
        lines = self.query_one(".pane--figures", Static)
        self.set_heading(evening.label, width)
        if not evening.counted:
            lines.update(Content("counting moves ..."), layout=False)
            return
        if evening.count is not None:
            total = evening.count
            moves, least = total.moves, total.least_moves
            burden = total.unplayable, total.extra_presses
            changes = count(total.guitar_changes, "guitar change")
            second = count(total.set_up_moves, "set-up move")
            second += f", {changes}" if width >= _WIDE else ""
        else:
            figures = evening.figures([song.id for song in evening.rig.songs])
            moves, least = (figures.moves, figures.least_moves) if figures else (0, 0)
            burden = (figures.unplayable, figures.extra_presses) if figures else (0, 0)
            spare = sum(not evening.plays[song.id] for song in evening.rig.songs)
            second = f"{count(len(evening.rig.songs), 'song')}, {spare} in no set"
        said = ", ".join(burden_in_words(*burden, brief=width < _WIDE))
        heads = (f"{count(moves, 'move')} (least {least})", said, second)
        text = "\n".join(fit(head, width) for head in heads if head)
        lines.update(Content(text), layout=False)

    def on_resize(self) -> None:
        """Use the room that there is."""
        self._draw(self.grid.cursor_row)

    def on_grid_cursor_moved(self) -> None:
        """Tell of the row under the cursor."""
        self._take_place()
        self.post_message(self.Stood())

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor goes in."""
        self.action_enter()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Grey out what needs a row while there is none."""
        if action == "write_line":
            return True if self.song is not None else None
        if action == "untick":
            return bool(self.ticked)
        needs = {"tick", "copy", "enter", "edit", "duplicate", "remove", "shift"}
        return None if action in needs and self.place is None else True

    # Edits

    def action_enter(self) -> None:
        """Go on to the sections of a song; open the form of a set or setlist."""
        if self.song is not None:
            self.post_message(self.Entered())
        else:
            self.action_edit()

    def action_add(self) -> None:
        """Ask what to add, and add it."""
        from rigtui.tui.views.setlist.edits import add

        add(self)

    def action_edit(self) -> None:
        """Edit what the row stands for."""
        from rigtui.tui.views.setlist.edits import edit

        edit(self)

    def action_write_line(self) -> None:
        """Write the song's sections in one line."""
        from rigtui.tui.views.setlist.edits import write_line

        write_line(self)

    def on_paste(self, event: events.Paste) -> None:
        """Take songs out of what the terminal pastes."""
        event.stop()
        self.action_paste(event.text)

    def action_paste(self, text: str = "") -> None:
        """Play the songs that were copied; without any, put songs in from a plain list."""
        from rigtui.tui.views.setlist.many import paste_copied_songs
        from rigtui.tui.views.setlist.paste import paste_songs

        if text or not paste_copied_songs(self):
            paste_songs(self, text)

    def action_copy(self) -> None:
        """Copy the ticked songs, those of the set, or the one under the cursor."""
        from rigtui.tui.views.setlist.many import copy_songs

        copy_songs(self)

    def action_tick(self) -> None:
        """Tick the song or untick it, and go to the next row."""
        if self.place is not None and self.place.kind == "song":
            self.ticks.turn(self.grid.cursor_row)
            self._draw(self.grid.cursor_row)
        self.grid.action_move(1, 0)

    def action_untick(self) -> None:
        """Untick all songs."""
        self.ticks.clear()
        self._draw(self.grid.cursor_row)

    def action_split(self) -> None:
        """Make a new set of the song at the cursor and those after it."""
        from rigtui.tui.views.setlist.edits import split

        split(self)

    def action_join(self) -> None:
        """Join the set at the cursor with the one before it."""
        from rigtui.tui.views.setlist.edits import join

        join(self)

    def action_duplicate(self) -> None:
        """Put a copy behind the row; copies of ticked songs behind the last of them."""
        from rigtui.tui.views.setlist.edits import duplicate

        duplicate(self)

    def action_remove(self) -> None:
        """Take away what the row stands for, or the ticked songs, asking first."""
        from rigtui.tui.views.setlist.edits import remove

        remove(self)

    def action_shift(self, by: int) -> None:
        """Move the row, or the ticked songs, up or down, over the ends of their sets."""
        from rigtui.tui.views.setlist.edits import shift

        shift(self, by)


def _title(evening: RunningOrder, place: OrderPlace) -> str:
    """A song's title, or what the set calls a song that is not there."""
    song = evening.song(place)
    return song.label if song is not None else f'"{place.song_id}" (no such song)'


def _cell(
    evening: RunningOrder, place: OrderPlace, figures: OrderTotals | None, number: str
) -> str:
    """One figure of a row; nothing while it is being counted."""
    if number == "sets":
        return str(evening.plays[place.song_id] or "-")
    if figures is None:
        return ""
    if number == "time":
        return clock_time(figures.seconds)
    if number == "extra":
        return str(figures.extra_presses or "")
    return str(figures.unplayable or "") if number == "can't" else str(figures.moves)
