"""The evening on the left, the song under the cursor on the right: order, sections, presets, moves.

This file holds the two panes together; what they show and what their keys do is in the files
beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal

from rigtui.model.places import Where, place_at, section_place, taken_apart
from rigtui.tui.views.base import SetlistChosen, View
from rigtui.tui.views.setlist.overview import OverviewPane
from rigtui.tui.views.setlist.pane_grid import PaneGrid
from rigtui.tui.views.setlist.running_order import OrderPlace, RunningOrder, marks_of
from rigtui.tui.views.setlist.set_list import ListPane
from rigtui.tui.views.setlist.song_pane import SongPane
from rigtui.tui.widgets.reading import Reading

if TYPE_CHECKING:
    from textual.widget import Widget

    from rigtui.checks import Finding
    from rigtui.model.rig import Rig


_ROOMY = 100
"""From this many cells on, the list may take more than a third of them."""


class SetlistView(View):
    """Setlists, their songs, and the sections of one song."""

    title = "Setlist"
    PARTS = (ListPane, SongPane)
    BINDINGS: ClassVar[list[BindingType]] = [
        # With priority, so that the next key goes to the other side however fast it follows.
        Binding("tab,shift+tab", "to_song", "Song", priority=True, id="setlist.to-song"),
        Binding("tab,shift+tab", "to_list", "Songs", priority=True, id="setlist.to-list"),
        Binding(
            "n",
            "setlist(1)",
            "Next setlist (after the last: all songs)",
            show=False,
            id="setlist.next",
        ),
        Binding("i", "read", "Read the section in full", show=False, id="setlist.read"),
        Binding("N", "setlist(-1)", "Setlist before", show=False, id="setlist.previous"),
    ]

    @classmethod
    def called(cls, part: type[Widget]) -> str:
        """The song has keys of the same names as the list: they are those of its sections."""
        return "Sections" if part is SongPane else cls.title

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._marks: Mapping[str, str] = {}
        self._in_song = False
        self._list_width = 0

    def compose(self) -> ComposeResult:
        """The list, and beside it either a song or an overview."""
        with Horizontal():
            songs, song = ListPane(id="evening"), SongPane(id="song")
            song.clip = songs.clip
            yield songs
            yield song
            yield OverviewPane(id="overview")

    @property
    def songs(self) -> ListPane:
        """The left pane."""
        return self.query_one(ListPane)

    @property
    def song(self) -> SongPane:
        """The right pane, for a song."""
        return self.query_one(SongPane)

    @property
    def overview(self) -> OverviewPane:
        """The right pane, for a set or an evening."""
        return self.query_one(OverviewPane)

    # Showing

    def on_resize(self) -> None:
        """Give the list the room that its names need, up to a share of what there is.

        On a narrow screen figures besides the moves have less of a share than names have.
        """
        width = self.size.width
        names, every = self.songs.wanted_width
        share = width // 3 if width < _ROOMY else width * 9 // 20
        wanted = max(20, min(every, share), min(names, width * 2 // 5))
        if self._list_width != wanted:
            self._list_width = self.songs.styles.width = wanted

    def show_rig(self, rig: Rig) -> None:
        """Show the setlist at hand of a rig, the cursor where it was or where an edit wants it."""
        super().show_rig(rig)
        stand = self.songs.stand_for(rig)
        if stand is not None and stand.setlist_id != self.setlist_id:
            self._choose(stand.setlist_id)
        if stand is not None and stand.fresh:
            self.song.forget(stand.place.song_id)
        self.songs.show(
            RunningOrder(rig, self.setlist_id), self._marks, stand.place if stand else None
        )
        self.on_resize()
        self._show_place()
        if stand is not None and stand.enter:
            self._enter()

    def _show_place(self) -> None:
        """Show on the right what the list's cursor stands on."""
        evening, place, song = self.songs.evening, self.songs.place, self.songs.song
        if evening is None:
            return
        if song is not None and place is not None:
            self.song.set_songs = evening.songs_beside(place)
            self.song.show(evening.rig, song, evening.set_up(place))
        else:
            self.song.song = None
            self.overview.show(evening, place)
        if self.song.display != (song is not None):
            leaving = self._in_song
            self.song.display, self.overview.display = song is not None, song is None
            if leaving:
                self._focus(False)

    def songs_in_sight(self) -> Iterable[str]:
        """Ids of the songs in the list that are on the screen."""
        places = self.songs.evening.places if self.songs.evening else ()
        return [places[at].song_id for at in self.songs.grid.in_sight if at < len(places)]

    def show_counts(self) -> None:
        """Fill in what was left blank while songs were being counted."""
        evening = self.songs.evening
        if evening is not None and not evening.counted and self.rig is not None:
            self.songs.show(RunningOrder(self.rig, self.setlist_id), self._marks)
            self._show_place()

    def show_findings(self, findings: tuple[Any, ...]) -> None:
        """Mark songs and sections that need attention."""
        super().show_findings(findings)
        self._marks = marks_of(findings)
        self.songs.mark(self._marks)
        self.song.take_findings(findings, self._marks)

    def _choose(self, setlist_id: str | None) -> None:
        self.setlist_id = setlist_id
        self.post_message(SetlistChosen(setlist_id))

    @on(ListPane.Stood)
    def _stood(self) -> None:
        self._show_place()

    # Focus

    def take_focus(self) -> None:
        """The keys go to the side where they went last."""
        self._focus(self._in_song)

    def _focus(self, right: bool) -> None:
        self._mark_side(right)
        if not right:
            self.songs.grid.focus()
        elif self.song.display:
            self.song.grid.focus()
        else:
            self.overview.grid.focus()

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Remember which side has the keys, but not where the focus flees when the view is left."""
        if self.display:
            self._mark_side(event.widget is not self.songs.grid)

    def _mark_side(self, right: bool) -> None:
        self._in_song = right
        for pane in (self.songs, self.song, self.overview):
            pane.set_live((pane is not self.songs) == right)

    @property
    def _in_list(self) -> bool:
        return self.screen.focused is self.songs.grid

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Offer the way to the other side only."""
        if action in ("to_song", "to_list"):
            return self._in_list == (action == "to_song")
        return True

    def action_to_song(self) -> None:
        """Go to the right side."""
        self._focus(True)

    def action_to_list(self) -> None:
        """Go to the list."""
        self._focus(False)

    @on(ListPane.Entered)
    def _enter(self) -> None:
        self._show_place()
        self._focus(True)

    @on(PaneGrid.EdgeCrossed)
    def _cross(self, event: PaneGrid.EdgeCrossed) -> None:
        if (event.direction > 0) == self._in_list:
            self._focus(event.direction > 0)

    def action_read(self) -> None:
        """Read in full what is said of the section."""
        lines = self.song.lines() if self.song.display else []
        if lines:
            self.app.push_screen(Reading(lines))

    # Going somewhere

    @on(OverviewPane.SongChosen)
    def _chosen(self, event: OverviewPane.SongChosen) -> None:
        self._stand_on(event.place)
        self._focus(False)

    def action_setlist(self, by: int) -> None:
        """Take another setlist to hand; all songs come after the last one."""
        if self.rig is None:
            return
        ids: list[str | None] = [*(setlist.id for setlist in self.rig.setlists), None]
        at = ids.index(self.setlist_id) if self.setlist_id in ids else 0
        self._take_setlist(ids[(at + by) % len(ids)])

    def _take_setlist(self, setlist_id: str | None, place: OrderPlace | None = None) -> None:
        assert self.rig is not None
        if setlist_id != self.setlist_id:
            self._choose(setlist_id)
        self.songs.show(RunningOrder(self.rig, setlist_id), self._marks, place)
        self._show_place()

    def _stand_on(self, place: OrderPlace) -> None:
        self._take_setlist(self.setlist_id, place)

    def go_to(self, where: str) -> bool:
        """Put the cursor on a song, a section, a setlist, a set or a song of a set."""
        there = taken_apart(where)
        if self.rig is None or not there.row or there.table not in ("songs", "setlists"):
            return False
        return self._go_to_song(there) if there.table == "songs" else self._go_to_setlist(there)

    @property
    def here(self) -> str:
        """The section, song, set or setlist under the cursor."""
        evening, place, song = self.songs.evening, self.songs.place, self.song.song
        if evening is None or place is None:
            return ""
        if self._in_song and song is not None:
            return section_place(song.id, self.song.section_at)
        return evening.where(place)

    def point_at(self, finding: Finding) -> None:
        """Put the cursor on the section's preset, or on the song of a setlist that is not there."""
        there = taken_apart(finding.where)
        if there.section is not None:
            self.song.stand_on_preset()
        elif there.table == "setlists" and there.set_at is None and self.songs.evening:
            evening = self.songs.evening
            for place in evening.places:
                unknown = place.kind == "song" and evening.song(place) is None
                if unknown and place_at("songs", place.song_id) in finding.about:
                    self._stand_on(place)
                    break

    def _go_to_song(self, there: Where) -> bool:
        assert self.rig is not None
        others = (setlist.id for setlist in self.rig.setlists)
        for setlist_id in (self.setlist_id, *others, None):
            evening = RunningOrder(self.rig, setlist_id)
            places = [place for place in evening.places if place.song_id == there.row]
            if places and evening.song(places[0]) is not None:
                place = self.songs.place
                here = setlist_id == self.setlist_id and place in places
                self._take_setlist(setlist_id, place if here else places[0])
                break
        else:
            return False
        if there.section is not None:
            self.song.stand(there.section)
        self._focus(there.section is not None)
        return True

    def _go_to_setlist(self, there: Where) -> bool:
        assert self.rig is not None
        if all(setlist.id != there.row for setlist in self.rig.setlists):
            return False
        place = OrderPlace("setlist")
        set_at, at = there.set_at, there.song_at
        if set_at is not None:
            wanted = [("set", set_at, -1)] + ([("song", set_at, at)] if at is not None else [])
            evening = RunningOrder(self.rig, there.row)
            place = next(
                (earlier for earlier in reversed(evening.places) if earlier[:3] in wanted), place
            )
        self._take_setlist(there.row, place)
        self._focus(False)
        return True
