"""Presets for a given set of loops: the fewest recalls with no more presets than there is room.

A section is a cube: loops that it wants on, loops that it wants off, the rest free. Sections can
share a preset if their cubes meet, and cubes that meet in pairs all meet in one point, so presets
are the colours of a graph of conflicts. Without a limit, staying on a preset as long as the
sections allow needs the fewest recalls.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigtui.plan.ask.control import Control
from rigtui.plan.presets.cubes import Blocks, Cube, SongCubes, coloured, greedy_clique
from rigtui.plan.presets.search import PresetSearch


@dataclass(frozen=True, slots=True)
class Packing:
    """Presets, and which of them each section uses."""

    recalls: int
    """What the recalls weigh."""
    bound: int
    """With no packing for these loops do they weigh less."""
    presets: tuple[Cube, ...]
    used: tuple[tuple[int, ...], ...]
    """For each song, the preset of each of its sections."""

    def presses(self, song: int, nth: int) -> int:
        """Presses on the way to a section, outside pedals aside; from power-on for the first."""
        row = self.used[song]
        return int(nth == 0 or row[nth] != row[nth - 1])


@dataclass(frozen=True, slots=True)
class TooMany:
    """Proof that more presets are needed: cubes of which no two can share one."""

    clique: tuple[Cube, ...]


def pack(
    songs: Sequence[SongCubes],
    kept: Sequence[Cube],
    most: int,
    *,
    nodes: int = 0,
    control: Control | None = None,
) -> Packing | TooMany | None:
    """Choose presets.

    Args:
        songs: The songs of the evening.
        kept: Presets that there must be.
        most: How many presets can be stored.
        nodes: How far to search for the best where the quick ways do not prove it.
        control: Stops the search.

    Returns:
        A packing; proof that there is none; or None where neither was found.
    """
    check = (control or Control()).stop_if_over
    check()
    stays = [song.blocks() for song in songs]
    bound = sum(song.weight(blocks) for song, blocks in zip(songs, stays))
    blocks = [cube for song in stays for cube, _ in song]
    every = list(dict.fromkeys([*kept, *(cube for song in songs for cube in song.cubes)]))
    clique = greedy_clique(every, most, check)
    if len(clique) > most:
        return TooMany(tuple(clique))
    check()
    classes = coloured(kept, blocks, most, check)
    if classes is not None:
        return _assembled(songs, stays, classes, bound)
    check()
    search = PresetSearch(songs, kept, most, nodes, bound, control)
    classes = coloured(kept, [cube for song in songs for cube in song.cubes], most, check)
    check()
    if classes is not None:
        search.try_presets(classes)
    finished = search.run() if nodes else False
    if search.best is None:
        return TooMany(()) if finished else None
    cost, presets, used = search.best
    return Packing(cost, cost if finished else bound, tuple(presets), used)


def _assembled(
    songs: Sequence[SongCubes],
    stays: Sequence[Blocks],
    classes: Sequence[Cube],
    recalls: int,
) -> Packing:
    used = []
    home: dict[Cube, int] = {}
    for blocks in stays:
        row: list[int] = []
        for cube, length in blocks:
            if cube not in home:
                home[cube] = _home(classes, cube)
            row += [home[cube]] * length
        used.append(tuple(row))
    return Packing(recalls, recalls, tuple(classes), tuple(used))


def _home(classes: Sequence[Cube], cube: Cube) -> int:
    """The class that a cube was gathered into: one that is within it."""
    for at, gathered in enumerate(classes):
        if gathered.within(cube):
            return at
    raise AssertionError("every block is in a class")
