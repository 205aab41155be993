"""The setlist at hand as the rows of a list: the evening, its sets, its songs, and their figures.

Where no setlist is at hand, all songs of the file stand in for it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable
from functools import cached_property
from typing import TYPE_CHECKING, Literal, NamedTuple

from rigtui.model.lookup import lookup
from rigtui.model.places import place_at, set_place, taken_apart
from rigtui.moves import count_setlist, count_songs
from rigtui.moves.in_pieces import soon_counted

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig, Set, Setlist, Song
    from rigtui.moves import Presses, SetlistCount


class OrderPlace(NamedTuple):
    """What a row of the list stands for; places are counted from 0."""

    kind: Literal["setlist", "set", "song"]
    set_at: int = -1
    at: int = -1
    """The song's place in its set, or in the file where no setlist is at hand."""
    song_id: str = ""


class OrderTotals(NamedTuple):
    """What some songs add up to, each alone."""

    moves: int = 0
    least_moves: int = 0
    seconds: float = 0.0
    extra_presses: int = 0
    unplayable: int = 0


class RunningOrder:
    """One setlist of one rig, or all its songs."""

    def __init__(self, rig: Rig, setlist_id: str | None) -> None:
        self.rig = rig
        self.rows_by_id = lookup(rig)
        self.setlist: Setlist | None = self.rows_by_id.setlists.get(setlist_id or "")
        self.places = self._places()

    def where(self, place: OrderPlace) -> str:
        """The dotted path of a place."""
        if self.setlist is None or place.set_at < 0:
            return place_at("songs", place.song_id) if place.song_id else self._path()
        of_set = set_place(self.setlist.id, place.set_at)
        return of_set if place.kind == "set" else place_at(of_set, "songs", place.at)

    def _path(self) -> str:
        return place_at("setlists", self.setlist.id) if self.setlist is not None else ""

    def _places(self) -> tuple[OrderPlace, ...]:
        if self.setlist is None:
            return tuple(
                OrderPlace("song", -1, at, song.id) for at, song in enumerate(self.rig.songs)
            )
        places = [OrderPlace("setlist")]
        for set_at, part in enumerate(self.setlist.sets):
            places.append(OrderPlace("set", set_at))
            places += [OrderPlace("song", set_at, at, song) for at, song in enumerate(part.songs)]
        return tuple(places)

    @property
    def setlist_id(self) -> str | None:
        """Id of the setlist; None for all songs."""
        return self.setlist.id if self.setlist else None

    @property
    def label(self) -> str:
        """Its name."""
        return self.setlist.label if self.setlist else "All songs"

    @cached_property
    def counted(self) -> bool:
        """Whether its songs are counted, or so few are not that it takes no time."""
        return soon_counted(self.rig, (place.song_id for place in self.places))

    @cached_property
    def count(self) -> SetlistCount | None:
        """The setlist's count, set-up moves included; None for all songs, or while it is made."""
        return count_setlist(self.rig, self.setlist) if self.setlist and self.counted else None

    @cached_property
    def plays(self) -> Counter[str]:
        """How often each song is played, over all setlists."""
        return Counter(song for setlist in self.rig.setlists for song in setlist.song_ids)

    def song(self, place: OrderPlace | None) -> Song | None:
        """The song at a place, if it is one and exists."""
        return self.rows_by_id.songs.get(place.song_id) if place else None

    def songs_beside(self, place: OrderPlace) -> tuple[str, ...]:
        """Ids of the songs of a song's set; of all songs where there are no sets."""
        part = self.part(place)
        return part.songs if part is not None else tuple(song.id for song in self.rig.songs)

    def part(self, place: OrderPlace | None) -> Set | None:
        """The set at a place, or the one that its song stands in."""
        if place is None or self.setlist is None or place.set_at < 0:
            return None
        return self.setlist.sets[place.set_at]

    @cached_property
    def totals(self) -> OrderTotals:
        """What all songs here add up to, each alone; nothing while they are being counted."""
        songs = [place.song_id for place in self.places if place.kind == "song"]
        return self.figures(songs) or OrderTotals()

    def figures(self, song_ids: Collection[str]) -> OrderTotals | None:
        """What the songs that exist add up to; None while they are being counted."""
        if not soon_counted(self.rig, song_ids):
            return None
        songs = [self.rows_by_id.songs[song] for song in song_ids if song in self.rows_by_id.songs]
        counts = count_songs(self.rig, songs)
        return OrderTotals(
            sum(song.moves for song in counts),
            sum(song.least_moves for song in counts),
            sum(song.seconds for song in counts),
            sum(song.extra_presses for song in counts),
            sum(song.unplayable for song in counts),
        )

    def set_up(self, place: OrderPlace) -> Presses | None:
        """Presses before the song at a place; None where no evening leads up to it."""
        if self.count is None or place not in self._order:
            return None
        return self.count.set_ups[self._order[place]].presses

    @cached_property
    def _order(self) -> dict[OrderPlace, int]:
        """Songs in the order in which they are played, those passed over that do not exist."""
        songs = (place for place in self.places if self.song(place) is not None)
        return {place: at for at, place in enumerate(songs)}

    def row_of(self, place: OrderPlace, near: int) -> int:
        """The row of a place; of its song if that has moved; else the one nearest to `near`."""
        if place in self.places:
            return self.places.index(place)
        same = [
            row
            for row, other in enumerate(self.places)
            if place.song_id and other.song_id == place.song_id
        ]
        if same:
            return min(same, key=lambda row: abs(row - near))
        return max(0, min(near, len(self.places) - 1))


ERROR, WARNING = "X", "!"


def findings_by_song(findings: Iterable[Finding]) -> dict[str, list[Finding]]:
    """The findings of each song and its sections, by the song's id."""
    of_songs: dict[str, list[Finding]] = {}
    for finding in findings:
        place = taken_apart(finding.where)
        if place.table == "songs":
            of_songs.setdefault(place.row, []).append(finding)
    return of_songs


def marks_of(findings: Iterable[Finding]) -> dict[str, str]:
    """Marks by place, for songs and for sections: X for an error, ! for a warning."""
    marks: dict[str, str] = {}
    for finding in findings:
        if finding.waived is not None or finding.severity == "advice":
            continue
        place = taken_apart(finding.where)
        if place.table != "songs":
            continue
        mark = ERROR if finding.severity == "error" else WARNING
        song = place_at("songs", place.row)
        for where in {song, place_at(song, *place.steps[:2])}:
            if marks.get(where) != ERROR:
                marks[where] = mark
    return marks
