"""The two panes as the edits of their keys see them: where the cursor is, and how to ask."""

from __future__ import annotations

import builtins
from collections.abc import Callable
from typing import TYPE_CHECKING, Generic, NamedTuple, TypeVar

from rigtui.tui.views.base import EditRequested, Said
from rigtui.tui.views.setlist.clip import Clip
from rigtui.tui.views.setlist.pane_grid import LivePane
from rigtui.tui.views.setlist.running_order import OrderPlace, RunningOrder
from rigtui.tui.views.setlist.ticks import Ticks

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Section, Song

Spot = TypeVar("Spot")


class Stand(NamedTuple):
    """Where to put the cursor after an edit."""

    place: OrderPlace
    setlist_id: str | None
    enter: bool = False
    """Whether the keys go on to the song's sections."""
    fresh: bool = False
    """Whether the song is shown from its first section on, wherever the cursor once was in it."""


class EditingPane(LivePane, Generic[Spot]):
    """A pane that asks for edits and knows where the cursor is to stand after each."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._wanted: tuple[Rig, Spot] | None = None

    def ask(
        self,
        label: str,
        edit: Callable[[Rig], Rig],
        stand: Callable[[Rig], Spot] | None = None,
        done: str = "",
    ) -> None:
        """Ask for an edit, for where the cursor stands after it, and for what is said then."""

        def edit_and_stand(old: Rig) -> Rig:
            new = edit(old)
            if stand is not None:
                self._wanted = (new, stand(new))
            return new

        self.post_message(EditRequested(label, edit_and_stand, done))

    def say(self, text: str) -> None:
        """Say something below the views."""
        self.post_message(Said(text))

    def stand_for(self, rig: Rig) -> Spot | None:
        """Where the edit that led to this rig wants the cursor; asked once."""
        wanted, self._wanted = self._wanted, None
        return wanted[1] if wanted is not None and wanted[0] is rig else None

    def stand(self, spot: Spot) -> None:
        """Put the cursor somewhere."""
        raise NotImplementedError


class EveningPane(EditingPane[Stand]):
    """The pane of an evening's songs, or of all songs."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self.evening: RunningOrder | None = None
        self.place: OrderPlace | None = None
        self.ticks = Ticks(lambda place: place.song_id or place)
        self.clip = Clip()

    @property
    def ticked(self) -> frozenset[OrderPlace]:
        """Songs that a key acts on together."""
        places = self.evening.places if self.evening else ()
        return frozenset(places[at] for at in self.ticks.places)

    @property
    def song(self) -> Song | None:
        """The song under the cursor."""
        return self.evening.song(self.place) if self.evening else None


class SectionsPane(EditingPane[int]):
    """The pane of one song's sections; the cursor stands on one of them, from 0."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self.rig: Rig | None = None
        self.song: Song | None = None
        self.section_at = 0
        self.ticks = Ticks(builtins.id)
        self.set_songs: tuple[str, ...] = ()
        """Ids of the songs of the set that the song stands in; all of the list's without sets."""
        self.clip = Clip()
        self.last_pedal: str | None = None

    @property
    def ticked(self) -> frozenset[int]:
        """Sections that a key acts on together, from 0."""
        return self.ticks.places

    @property
    def section(self) -> Section | None:
        """The section under the cursor."""
        sections = self.song.sections if self.song else ()
        return sections[self.section_at] if self.section_at < len(sections) else None

    @property
    def places(self) -> list[int]:
        """The sections that a key acts on: those ticked, or the one under the cursor."""
        return sorted(self.ticked) or ([self.section_at] if self.section is not None else [])
