"""Moves of songs and setlists. Everything that prints a number of moves gets it here."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

from rigtui.model.hands import hands_in
from rigtui.model.lookup import lookup
from rigtui.model.remembered import Remembered
from rigtui.model.rig import Rig, Section, Setlist, Song
from rigtui.moves.board import Board
from rigtui.moves.boards import board_of
from rigtui.moves.carried import depends_on
from rigtui.moves.clock import song_seconds
from rigtui.moves.figures import (
    AskedOfFeet,
    Change,
    SetlistCount,
    SetUp,
    SongCount,
    SongWritten,
    State,
)
from rigtui.moves.least import least_moves
from rigtui.moves.machine import power_on, set_up_on, step
from rigtui.moves.press import Presses, on_the_beat


def guitar_volume_of(rig_presets: dict[str, Any], section: Section) -> float | None:
    """The guitar volume that a section names: its own, or its preset's."""
    preset = rig_presets.get(section.preset) if section.preset is not None else None
    return hands_in(section, preset).guitar_volume


def count_song(rig: Rig, song: Song) -> SongCount:
    """Count one song, played alone and starting set up on its first section."""
    return count_songs(rig, (song,))[0]


def count_songs(rig: Rig, songs: Iterable[Song]) -> list[SongCount]:
    """Count songs, each played alone and starting set up on its first section."""
    board, weight, counts = board_of(rig), rig.player.extra_press_weight, []
    for song in songs:
        known = board.counts.get(id(song))
        if known is None:
            known = board.counts[id(song)] = (song, _count_song(rig, board, song))
        elif known[1].weight != weight:
            known = board.counts[id(song)] = (song, replace(known[1], weight=weight))
        counts.append(known[1])
    return counts


def changes_as_written(rig: Rig, song: Song) -> tuple[Change, ...]:
    """The changes of `count_song` alone, for songs on trial whose least moves nobody asks for."""
    return _alone(board_of(rig), song).changes


def _count_song(rig: Rig, board: Board, song: Song) -> SongCount:
    targets = [board.target(section) for section in song.sections]
    written = _alone(board, song)
    changes = written.changes
    board.needs[id(song)] = (song, depends_on(song, targets))
    return SongCount(
        song_id=song.id,
        moves=written.moves,
        least_moves=least_moves(board, targets),
        on_the_beat_worst=max((change.on_the_beat for change in changes), default=0),
        hand_moves=_hand_moves(rig, song),
        seconds=song_seconds(song),
        changes=changes,
        crowded=sum(change.crowded for change in changes),
        extra_presses=written.extra_presses,
        unplayable=sum(section.preset in board.unplayable for section in song.sections),
        weight=rig.player.extra_press_weight,
    )


def _hand_moves(rig: Rig, song: Song) -> int:
    """One for each new hands text, and one for each change between two named guitar volumes."""
    moves = 0
    presets = lookup(rig).presets
    volumes = [guitar_volume_of(presets, section) for section in song.sections]
    for before, after in pairwise(song.sections):
        moves += bool(after.hands) and after.hands != before.hands
    for old, new in pairwise(volumes):
        moves += old is not None and new is not None and old != new
    return moves


_evenings: Remembered[SetlistCount] = Remembered(4)


def count_setlist(rig: Rig, setlist: Setlist) -> SetlistCount:
    """Count an evening: its songs' own figures added up, and the set-up moves between them."""
    parts = (board_of(rig), rig.songs, setlist, rig.player)
    return _evenings.get(parts, lambda: _count_setlist(rig, setlist))


def _count_setlist(rig: Rig, setlist: Setlist) -> SetlistCount:
    songs = {song.id: song for song in rig.songs}
    evening = [songs[song] for song in setlist.song_ids if song in songs]
    counts = count_songs(rig, evening)
    return SetlistCount(
        setlist_id=setlist.id,
        moves=sum(count.moves for count in counts),
        least_moves=sum(count.least_moves for count in counts),
        set_ups=tuple(set_ups_before(rig, evening)),
        song_ids=tuple(song.id for song in evening),
        guitar_changes=_guitar_changes(evening),
        crowded=sum(count.crowded for count in counts),
        extra_presses=sum(count.extra_presses for count in counts),
        unplayable=sum(count.unplayable for count in counts),
        weight=rig.player.extra_press_weight,
    )


def set_ups_before(rig: Rig, evening: Iterable[Song]) -> Iterator[SetUp]:
    """What `count_setlist` says of the gaps alone: the presses before each song of an evening."""
    board = board_of(rig)
    state = power_on(board)
    for place, song in enumerate(evening):
        state, presses = walk(board, state, song)
        yield SetUp(song.id, place, presses)


def walk(board: Board, state: State, song: Song) -> tuple[State, Presses]:
    """Play a song from a state on; return the state after it and the presses that set it up."""
    known = board.walks.get((id(song), state))
    if known is not None:
        return known[1:]
    before = state
    presses: Presses = ()
    if song.sections:
        first = board.target(song.sections[0])
        state, presses = step(board, state, first)
        if state == set_up_on(board, first):  # from here on it is as the song alone
            state = _alone(board, song).ends_on
        else:
            for section in song.sections[1:]:
                state = step(board, state, board.target(section)).state
    board.walks[id(song), before] = (song, state, presses)
    return state, presses


def moves_as_written(rig: Rig, song: Song) -> int:
    """The moves of `count_song` alone, for rigs on trial whose least moves nobody asks for."""
    return _alone(board_of(rig), song).moves


def _alone(board: Board, song: Song) -> SongWritten:
    """A song that starts set up on its first section, as written."""
    known = board.written.get(id(song))
    if known is None:
        first = board.target(song.sections[0]) if song.sections else None
        state, moves, extra_presses = set_up_on(board, first), 0, 0
        changes = []
        for at, (before, section) in enumerate(pairwise(song.sections)):
            waiting = board.waiting(before, section)
            state, presses = step(board, state, board.target(section), waiting)
            changes.append(Change(at, at + 1, presses))
            moves += len(presses)
            if len(presses) > 1:
                extra_presses += max(0, len(on_the_beat(presses)) - 1)
        known = SongWritten(song, moves, extra_presses, state, tuple(changes))
        board.written[id(song)] = known
    return known


def evening_as_written(rig: Rig, setlist: Setlist) -> tuple[int, int]:
    """The moves and set-up moves of `count_setlist` alone."""
    songs = {song.id: song for song in rig.songs}
    board, moves, set_up = board_of(rig), 0, 0
    state = power_on(board)
    for song_id in setlist.song_ids:
        if song_id in songs:
            moves += _alone(board, songs[song_id]).moves
            state, presses = walk(board, state, songs[song_id])
            set_up += len(presses)
    return moves, set_up


def asked_of_a_song(rig: Rig, song: Song) -> AskedOfFeet:
    """What a song asks as `count_song` counts it, set up already; least moves are left out."""
    written = _alone(board_of(rig), song)
    lost = board_of(rig).unplayable
    unplayable = sum(section.preset in lost for section in song.sections)
    return AskedOfFeet(unplayable, written.extra_presses, written.moves, 0)


def asked_as_written(rig: Rig, setlists: Sequence[Setlist]) -> AskedOfFeet:
    """Add up what evenings ask, as `count_setlist` counts; all songs alone, where none is given.

    Least moves are left out, so that rigs on trial are counted quickly.
    """
    songs = {song.id: song for song in rig.songs}
    played = (song for setlist in setlists for song in setlist.song_ids if song in songs)
    times = Counter(played if setlists else songs.keys())
    alone = [(often, asked_of_a_song(rig, songs[song])) for song, often in times.items()]
    return AskedOfFeet(
        sum(often * asked.unplayable for often, asked in alone),
        sum(often * asked.extra_presses for often, asked in alone),
        sum(often * asked.moves for often, asked in alone),
        sum(evening_as_written(rig, setlist)[1] for setlist in setlists),
    )


def _guitar_changes(evening: list[Song]) -> int:
    """Times that guitar or tuning differs from the song before; left out means as before."""
    changes, guitar, tuning = 0, None, None
    for place, song in enumerate(evening):
        before = (guitar, tuning)
        guitar = guitar if song.guitar is None else song.guitar
        tuning = tuning if song.tuning is None else song.tuning
        changes += place > 0 and (guitar, tuning) != before
    return changes
