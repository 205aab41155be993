"""Presets where loops can be toggled, against every choice of presets there is."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence

import pytest

from rigtui.plan.presets.cubes import Cube, SongCubes
from rigtui.plan.presets.toggled import Toggled, with_toggles

OFTEN_PLAYED = 3


def drawn(seed: int, loops: int) -> list[SongCubes]:
    """Songs whose sections leave no loop open."""
    draw = random.Random(seed)
    everything = (1 << loops) - 1
    songs = []
    for _ in range(draw.randint(1, 3)):
        masks = [draw.randrange(1 << loops) for _ in range(draw.randint(2, 5))]
        cubes = tuple(Cube(on, everything ^ on, 0) for on in masks)
        songs.append(SongCubes(draw.randint(1, OFTEN_PLAYED), cubes, prices=(1,) * len(cubes)))
    return songs


def presses(song: SongCubes, presets: Sequence[int]) -> int:
    """Presses inside a song on given presets: a recall and what it gets wrong, or toggles alone."""
    layer = dict.fromkeys(presets, 0)
    for before, cube in itertools.pairwise(song.cubes):
        recalled = {at: 1 + (at ^ cube.on).bit_count() for at in presets}
        toggled = (before.on ^ cube.on).bit_count()
        least = min(layer.values())
        layer = {
            at: min(least + recalled[at], layer[at] + min(toggled, recalled[at])) for at in presets
        }
    return song.times * min(layer.values())


def fewest(songs: Sequence[SongCubes], loops: int, most: int) -> int:
    """Presses of all songs on the best choice of presets, by trying each."""
    choices = itertools.combinations(range(1 << loops), most)
    return min(sum(presses(song, presets) for song in songs) for presets in choices)


@pytest.mark.parametrize("seed", range(40))
def test_few_loops_are_solved_exactly(seed: int) -> None:
    """The presets are the best of all, heard or not, and each says what every loop does."""
    loops, most = 2 + seed % 3, 1 + seed % 2
    songs = drawn(seed, loops)
    made = with_toggles(songs, (), most, loops)
    assert isinstance(made, Toggled)
    least = fewest(songs, loops, most)
    heard = {cube for song in songs for cube in song.cubes}
    if len(heard) > most:
        assert (made.recalls, made.bound) == (least, least)
    assert made.bound <= least
    assert len(made.presets) <= most
    for preset in made.presets:
        assert preset.on ^ preset.off == (1 << loops) - 1


def test_no_bound_is_above_the_best_where_presets_are_left_out_one_by_one() -> None:
    """Of five loops not every choice is tried: what is not the best is not called so."""
    missed = 0
    for seed in range(60):
        songs = drawn(seed, 5)
        made = with_toggles(songs, (), 1, 5)
        assert isinstance(made, Toggled)
        least = fewest(songs, 5, 1)
        assert made.bound <= least <= made.recalls
        missed += least < made.recalls
    assert missed == 2


def test_what_the_songs_need_on_any_presets_is_the_bound() -> None:
    """By hand: three sounds in a row need two presses at least, and on one preset three.

    From none to the first two loops toggles two, and on to all five one recall and no less.
    """
    masks = (0, 0b00011, 0b11111)
    cubes = tuple(Cube(on, 0b11111 ^ on, 0) for on in masks)
    made = with_toggles([SongCubes(1, cubes, prices=(1, 1, 1))], (), 1, 5)
    assert isinstance(made, Toggled)
    assert (made.bound, made.recalls) == (2, 3)
