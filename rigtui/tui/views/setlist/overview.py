"""The right pane while a set or the whole evening is chosen: its songs, and how each is set up."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from rigtui.model.place_words import set_title
from rigtui.model.text import clock_time, count, number_text
from rigtui.moves.words import burden_in_words, presses_within
from rigtui.tui.text import fit, plain
from rigtui.tui.views.setlist.pane_grid import LivePane, PaneGrid
from rigtui.tui.views.setlist.running_order import OrderPlace, RunningOrder
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow, LazyRows


class OverviewPane(LivePane):
    """The songs of a set or of an evening, with the presses that set each of them up."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "choose", "Go to the song", id="setlist.go-to-song"),
    ]
    DEFAULT_CSS = """
    OverviewPane { display: none; width: 1fr; height: 1fr; }
    OverviewPane > Static { height: 1; padding: 0 1; }
    OverviewPane > .pane--title { text-style: bold; }
    OverviewPane.-here > .pane--title { text-style: bold reverse; }
    OverviewPane > .pane--figures { color: $text-muted; }
    OverviewPane > .pane--words {
        height: auto; max-height: 5; background: $surface; border-top: solid $panel-lighten-1;
    }
    """

    class SongChosen(Message):
        """A song was chosen."""

        def __init__(self, place: OrderPlace) -> None:
            super().__init__()
            self.place = place

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._evening: RunningOrder | None = None
        self._place: OrderPlace | None = None
        self._songs: tuple[OrderPlace, ...] = ()

    def compose(self) -> ComposeResult:
        """Name and figures above, songs, and the setlist's note."""
        yield Static("", classes="pane--title", markup=False)
        yield Static("", classes="pane--figures", markup=False)
        yield PaneGrid(id="overview-rows")
        yield Static("", classes="pane--words", markup=False)

    @property
    def grid(self) -> PaneGrid:
        """The songs."""
        return self.query_one(PaneGrid)

    def show(self, evening: RunningOrder, place: OrderPlace | None) -> None:
        """Show the evening, or one set of it."""
        self._evening, self._place = evening, place
        self._songs = tuple(
            song
            for song in evening.places
            if song.kind == "song" and (place is None or place.set_at in (-1, song.set_at))
        )
        self._draw()

    def _draw(self) -> None:
        evening, place = self._evening, self._place
        if evening is None:
            return
        width = self.size.width or 54
        name = 19 if width < 72 else 28
        every = evening.figures([place_.song_id for place_ in self._songs])
        crowded = every is not None and every.extra_presses > 0
        room = max(1, width - name - 6 - 6 * crowded)
        columns = (
            GridColumn(("  Song",), name),
            GridColumn(("moves",), 6, pick=False, align="right"),
            *[GridColumn(("extra",), 6, pick=False, align="right")] * crowded,
            GridColumn(("  set-up before it",), room, pick=False, look="grid--dim"),
        )
        songs = self._songs
        rows = LazyRows(len(songs), lambda at: self._row(evening, songs[at], room, crowded))
        self.grid.empty_text = (
            "No songs here yet: in the list on the left, press a to add one, or v to paste a list."
        )
        if evening.setlist is None:
            self.grid.empty_text = (
                "No songs yet: in the list on the left, press a to add one, or v to paste a list."
            )
        self.grid.show_at(columns, rows, self.grid.cursor_row)
        _, figures, words = self.query(Static)
        part = evening.part(place)
        label = evening.label if part is None else set_title(part, (place or (0, 0))[1])
        self.set_heading(label, width - 2)
        figures.update(Content(fit(self._figures(evening), width - 2)), layout=False)
        note = evening.setlist.note if evening.setlist and part is None else ""
        words.display = bool(note)
        words.update(plain(note))

    def _row(self, evening: RunningOrder, place: OrderPlace, room: int, crowded: bool) -> GridRow:
        song = evening.song(place)
        extra: tuple[str, ...] = ("",) * crowded
        if song is None:
            return GridRow(
                (f'  "{place.song_id}"', "-", *extra, "  no such song in the file"),
                look="grid--error",
            )
        presses = evening.set_up(place) or ()
        words = "-"
        if presses and song.sections:
            head = f"{len(presses)}: "
            words = head + presses_within(
                evening.rig, song.sections[0], presses, room - 2 - len(head), timed=False
            )
        figures, moves = evening.figures([song.id]), ""
        if figures is not None:
            moves, extra = str(figures.moves), (str(figures.extra_presses or ""),) * crowded
            words = "; ".join((*burden_in_words(figures.unplayable, 0), words))
        return GridRow((f"  {song.label}", moves, *extra, f"  {words}"))

    def _figures(self, evening: RunningOrder) -> str:
        words = [count(len(self._songs), "song")]
        figures = evening.figures([place.song_id for place in self._songs])
        if figures is not None:
            words.append(f"{count(figures.moves, 'move')} (least {figures.least_moves})")
            words += burden_in_words(figures.unplayable, figures.extra_presses)
            words.append(f"plays {clock_time(figures.seconds)}")
        part = evening.part(self._place)
        if part is not None and part.slot_minutes is not None:
            words.append(f"slot {number_text(part.slot_minutes)} min")
        return ", ".join(words)

    def on_resize(self) -> None:
        """Use the room that there is."""
        self._draw()

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor goes to the song."""
        self.action_choose()

    def action_choose(self) -> None:
        """Go to the song under the cursor."""
        if self.grid.cursor_row < len(self._songs):
            self.post_message(self.SongChosen(self._songs[self.grid.cursor_row]))
