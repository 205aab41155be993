"""The lists of moves in the report as rows of a grid: songs with bars, busiest changes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from heapq import nlargest
from typing import TYPE_CHECKING, Any, NamedTuple

from rigtui.model.cells import cells
from rigtui.model.lookup import lookup
from rigtui.model.place_words import set_title
from rigtui.model.text import count, visible
from rigtui.moves import Change, Presses, SongCount, count_setlist, count_songs
from rigtui.moves.words import presses_within
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow, LazyRows

if TYPE_CHECKING:
    from rigtui.model.rig import Rig, Setlist, Song

_FIGURES, _LEAST_BAR = 7 + 4 * 6 + 2, 6
"""Cells of the columns of figures with the gap after them, and of the shortest column of bars."""
NEEDED, SPARE = "█", "░"
MOST_CHANGES = 40
"""How many of the busiest changes are listed."""


class KeyedRows(NamedTuple):
    """Rows of a grid, and what each of them stands for; None for a line of its own."""

    columns: tuple[GridColumn, ...]
    rows: tuple[GridRow, ...] | LazyRows
    keys: tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class SongKey:
    """A song as it is played: the same song may come twice in an evening."""

    song_id: str
    place: int
    set_up: Presses | None
    """Presses before it; None outside a setlist."""


@dataclass(frozen=True, slots=True)
class ChangeKey:
    """A change, by the section entered."""

    song_id: str
    to_section: int


def setlist_of(rig: Rig, setlist_id: str | None) -> Setlist | None:
    """The setlist at hand."""
    return next((setlist for setlist in rig.setlists if setlist.id == setlist_id), None)


def songs_at_hand(rig: Rig, setlist_id: str | None) -> tuple[Song, ...]:
    """Songs of the setlist at hand, each once; all songs where there is no setlist."""
    setlist = setlist_of(rig, setlist_id)
    if setlist is None:
        return rig.songs
    songs = lookup(rig).songs
    return tuple(songs[song] for song in dict.fromkeys(setlist.song_ids) if song in songs)


# Songs


def song_listing(rig: Rig, setlist_id: str | None, width: int) -> KeyedRows:
    """A row for each song of the setlist at hand, under the set that it belongs to."""
    labels = (song.label for song in songs_at_hand(rig, setlist_id))
    title = min(_longest(labels) + 5, max(20, width - _FIGURES - _LEAST_BAR))
    bar = max(_LEAST_BAR, width - title - _FIGURES)
    columns = (
        GridColumn(("Song",), title, look="grid--strong"),
        GridColumn(("set-up",), 7, align="right", look="grid--dim", pick=False),
        GridColumn(("moves",), 6, align="right", pick=False),
        GridColumn(("least",), 6, align="right", look="grid--dim", pick=False),
        GridColumn(("worst",), 6, align="right", look="grid--dim", pick=False),
        GridColumn(("hands",), 6, align="right", look="grid--dim", pick=False),
        GridColumn(("",), 2, pick=False),
        GridColumn((f"{NEEDED} needed {SPARE} to save",), bar, pick=False),
    )
    setlist = setlist_of(rig, setlist_id)
    songs = lookup(rig).songs
    parts: list[tuple[str, list[SongKey]]] = []
    if setlist is None:
        parts.append(("", [SongKey(song.id, at, None) for at, song in enumerate(rig.songs)]))
    else:
        set_ups = iter(count_setlist(rig, setlist).set_ups)
        for at, part in enumerate(setlist.sets):
            played = [next(set_ups) for song in part.songs if song in songs]
            keys = [SongKey(song.song_id, song.place, song.presses) for song in played]
            parts.append((set_title(part, at), keys))
    song_ids = dict.fromkeys(key.song_id for _, keys in parts for key in keys)
    counts = dict(zip(song_ids, count_songs(rig, (songs[song] for song in song_ids))))
    most = max((counted.moves for counted in counts.values()), default=1)
    stands: list[SongKey | None] = []
    heads: dict[int, str] = {}
    for name, keys in parts:
        if setlist is not None:
            heads[len(stands)] = f"{name}: {_set_total(keys, counts)}"
            stands.append(None)
        stands += keys

    def row(at: int) -> GridRow:
        key = stands[at]
        if key is None:
            return GridRow(note=heads[at])
        return _song_row(rig, key, counts[key.song_id], most, bar)

    return KeyedRows(columns, LazyRows(len(stands), row, heads.keys()), tuple(stands))


def _song_row(rig: Rig, key: SongKey, counted: SongCount, most: int, bar: int) -> GridRow:
    worst = counted.on_the_beat_worst
    crowded = worst > rig.player.moves_allowed
    return GridRow(
        (
            f"{key.place + 1:>3} {lookup(rig).songs[key.song_id].label}",
            "-" if key.set_up is None else str(len(key.set_up)),
            str(counted.moves),
            str(counted.least_moves),
            f"{worst}{'!' if crowded else ' '}",
            str(counted.hand_moves),
            "",
            bar_of(counted.least_moves, counted.moves, most, bar - 1),
        ),
        ("", "", "", "", "grid--warn" if crowded else "", "", "", ""),
    )


def bar_of(least: int, moves: int, most: int, width: int) -> str:
    """A bar as long as the moves, the least of them solid and those that could be saved shaded.

    Args:
        least: Least moves.
        moves: Moves as written, at least as many.
        most: Moves of the longest bar.
        width: Cells of the longest bar; a single move takes at most four.
    """
    scale = min(4.0, width / max(1, most))
    # What is there is seen: a cell for a single move, and one for a single move to save.
    solid = max(round(least * scale), min(least, 1))
    whole = max(round(moves * scale), solid + (moves > least))
    if whole > width:
        solid, whole = solid - (whole - width), width
    return NEEDED * solid + SPARE * (whole - solid)


def _set_total(keys: Sequence[SongKey], counts: dict[str, SongCount]) -> str:
    moves = sum(counts[key.song_id].moves for key in keys)
    least = sum(counts[key.song_id].least_moves for key in keys)
    set_up = sum(len(key.set_up or ()) for key in keys)
    return f"{count(len(keys), 'song')}, {count(moves, 'move')} (least {least}), +{set_up} set-up"


# Changes


def busiest_changes(rig: Rig, songs: Iterable[Song]) -> list[tuple[Song, Change]]:
    """Changes that take a foot at all, those with the most moves first."""
    songs = list(songs)
    changes = [
        (song, change)
        for song, counted in zip(songs, count_songs(rig, songs))
        for change in counted.changes
        if change.presses
    ]
    # Only what can come among the busiest is put in order: on a long list that is very little.
    sizes = nlargest(MOST_CHANGES, (change.moves for _, change in changes))
    least = sizes[-1] if sizes else 0
    busiest = [row for row in changes if row[1].moves >= least]
    busiest.sort(key=lambda row: (-row[1].moves, -row[1].on_the_beat))
    return busiest[:MOST_CHANGES]


def change_listing(rig: Rig, setlist_id: str | None, width: int) -> KeyedRows:
    """A row for each of the busiest changes, with its presses in words."""
    busiest = busiest_changes(rig, songs_at_hand(rig, setlist_id))
    title = min(_longest(song.label for song, _ in busiest) + 1, width // 4)
    names = min(_longest(_steps(*row) for row in busiest) + 1, width * 3 // 10)
    room = max(8, width - 16 - title - names)
    columns = (
        GridColumn(("moves",), 6, align="right", pick=False),
        GridColumn(("on beat",), 8, align="right", look="grid--dim", pick=False),
        GridColumn(("",), 2, pick=False),
        GridColumn(("Song",), title, look="grid--strong"),
        GridColumn(("from > to",), names, pick=False),
        GridColumn(("presses",), room, look="grid--dim", pick=False),
    )
    rows, stands = [], []
    for song, change in busiest:
        crowded = change.on_the_beat > rig.player.moves_allowed
        after = song.sections[change.to_section]
        rows.append(
            GridRow(
                (
                    str(change.moves),
                    f"{change.on_the_beat}{'!' if crowded else ' '}",
                    "",
                    song.label,
                    _steps(song, change),
                    presses_within(rig, after, change.presses, room),
                ),
                ("", "grid--warn" if crowded else ""),
            )
        )
        stands.append(ChangeKey(song.id, change.to_section))
    return KeyedRows(columns, tuple(rows), tuple(stands))


def _steps(song: Song, change: Change) -> str:
    at, to = change.from_section, change.to_section
    return f"{at + 1} {song.sections[at].name} > {to + 1} {song.sections[to].name}"


def _longest(texts: Iterable[str]) -> int:
    """Cells of the longest of some texts, and of the word Song above them."""
    return max((cells(visible(text)) for text in texts), default=4)
