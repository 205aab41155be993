"""What still stands of a board's counting after a few presets were edited.

A song's figures depend on the presets that it names and, for its least moves, on those that could
stand in for them. So after an edit of one preset the songs that have nothing to do with it need
not be counted again; on a long list they are most of the songs.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from rigtui.moves.figures import DependsOn

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from rigtui.model.rig import Preset, Song
    from rigtui.moves.board import Board, Target

MOST_EDITED = 4
"""Presets edited at once above which everything is counted again."""
MOST_WALKS = 40_000
"""Walks above which they are made again: they may be of setlists that are no more."""


def depends_on(song: Song, targets: Sequence[Target | None]) -> DependsOn:
    """What a song's figures depend on, given what each of its sections asks for."""
    sounds = {(target.mask, target.fixed) for target in targets if target is not None}
    return DependsOn(frozenset(section.preset for section in song.sections), frozenset(sounds))


def carry_over(
    songs: Iterable[Song],
    board: Board,
    presets: tuple[Preset, ...],
    old: Board,
    old_presets: tuple[Preset, ...],
) -> None:
    """Take from another board what its counting worked out and an edit of presets left alone.

    Args:
        songs: The songs of the rig.
        board: The new board, nothing counted yet.
        presets: Its presets.
        old: A board that differs in its presets only.
        old_presets: That board's presets.
    """
    if len(presets) != len(old_presets):
        return
    edited = [at for at, preset in enumerate(presets) if preset is not old_presets[at]]
    if len(edited) > MOST_EDITED or any(presets[at].id != old_presets[at].id for at in edited):
        return
    ids = {presets[at].id for at in edited} | (board.unplayable ^ old.unplayable)
    masks = {either.stored[at].mask for either in (board, old) for at in edited}
    board.crowded = old.crowded
    kept: set[int] = set()
    for song in songs:
        key = id(song)
        known = old.needs.get(key)
        if known is None or not known[1].preset_ids.isdisjoint(ids):
            continue
        kept.add(key)
        board.needs[key] = known
        if key in old.written:
            board.written[key] = old.written[key]
        # With loop switches any preset can be made to sound like any other.
        stand_in = board.toggling or any(
            not (mask ^ sound) & fixed for sound, fixed in known[1].sounds for mask in masks
        )
        if key in old.counts and not stand_in:
            board.counts[key] = old.counts[key]
    # Walks from a preset that is another now would hold, but nobody will come from there.
    if len(old.walks) <= MOST_WALKS:
        for start, walk in old.walks.items():
            if start[0] in kept and start[1].preset not in edited:
                board.walks[start] = walk
