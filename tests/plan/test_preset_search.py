"""The search for presets alone, with nothing to begin from, against all choices of presets."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterable, Iterator, Sequence

import pytest

from rigtui.plan.ask.channels import ANY_CHANNEL
from rigtui.plan.ask.control import Control
from rigtui.plan.presets.colours import _Graph
from rigtui.plan.presets.cubes import Cube, SongCubes, greedy_clique
from rigtui.plan.presets.search import PresetSearch, Rows

LOOPS = 3
POINTS = [
    Cube(on, (1 << LOOPS) - 1 ^ on, channel) for on in range(1 << LOOPS) for channel in (0, 1)
]


def drawn(seed: int) -> tuple[list[SongCubes], list[Cube], int]:
    """A few short songs, what is kept, and how many presets there may be."""
    draw = random.Random(seed)
    songs = []
    for _ in range(draw.randint(1, 3)):
        cubes = []
        for _ in range(draw.randint(1, 5)):
            on = draw.randrange(1 << LOOPS)
            off = draw.randrange(1 << LOOPS) & ~on
            cubes.append(Cube(on & draw.randrange(1 << LOOPS), off, draw.choice((-1, -1, 0, 1))))
        prices = tuple(draw.choice((1, 1, 4)) for _ in cubes)
        songs.append(SongCubes(draw.randint(1, 3), tuple(cubes), prices=prices))
    kept = [draw.choice(POINTS)] if draw.random() < 0.3 else []
    return songs, kept, draw.randint(1, 3)


def least_on(song: SongCubes, points: Sequence[Cube]) -> int | None:
    """What the recalls of a song weigh at least on given presets; None if it cannot be played."""
    layer: dict[int, int] = {}
    for nth, cube in enumerate(song.cubes):
        fits = [at for at, point in enumerate(points) if point.within(cube)]
        if not fits or (nth and not layer):
            return None
        again = min(layer.values(), default=0) + song.times * song.prices[nth]
        layer = {at: min(layer.get(at, again), again) if nth else 0 for at in fits}
    return min(layer.values())


def weight(songs: Iterable[SongCubes], points: Sequence[Cube]) -> int | None:
    """What all songs weigh on given presets."""
    each = [least_on(song, points) for song in songs]
    return None if None in each else sum(filter(None, each))


def everything(songs: Sequence[SongCubes], kept: list[Cube], most: int) -> Iterator[int]:
    """What each choice of presets weighs with which all can be played."""
    for others in itertools.combinations(POINTS, max(0, most - len(kept))):
        known = weight(songs, [*kept, *others])
        if known is not None:
            yield known


def check(songs: Sequence[SongCubes], presets: Sequence[Cube], used: Rows, cost: int) -> None:
    """Each section is on a preset that sounds right, and the recalls weigh what is said."""
    weighed = 0
    for song, row in zip(songs, used, strict=True):
        assert all(presets[at].within(cube) for at, cube in zip(row, song.cubes, strict=True))
        weighed += song.times * sum(
            price for before, at, price in zip(row, row[1:], song.prices[1:]) if before != at
        )
    assert weighed == cost


@pytest.mark.parametrize("seed", range(60))
def test_against_all_choices_of_presets(seed: int) -> None:
    """The search ends with the least there is, or with none where nothing can be played."""
    songs, kept, most = drawn(seed)
    search = PresetSearch(songs, kept, most, 10**6, 0, None)
    assert search.run()
    least = min(everything(songs, kept, most), default=None)
    assert (search.best and search.best[0]) == least
    if search.best is not None:
        cost, presets, used = search.best
        check(songs, presets, used, cost)
        assert len(presets) <= most
        assert all(point.within(row) for point, row in zip(presets, kept))


@pytest.mark.parametrize("seed", range(60))
def test_songs_on_given_presets(seed: int) -> None:
    """Played on presets that are given, each song recalls as little as it can."""
    songs, _, _ = drawn(seed)
    classes = random.Random(seed).sample(POINTS, 5)
    search = PresetSearch(songs, [], len(classes), 0, 0, None)
    search.try_presets(classes)
    assert (search.best and search.best[0]) == weight(songs, classes)
    if search.best is not None:
        cost, presets, used = search.best
        assert list(presets) == classes
        check(songs, presets, used, cost)


def test_what_a_given_preset_leaves_open_is_as_most_sections_would_have_it() -> None:
    """Loop and channel are settled by how often each is heard, played twice counted twice."""
    one_loop = (
        SongCubes(1, (Cube(1, 0, 0), Cube(1, 0, 0)), prices=(1, 1)),
        SongCubes(3, (Cube(0, 1, 1),), prices=(1,)),
    )
    search = PresetSearch(one_loop, [], 2, 0, 0, None)
    open_, full = Cube(0, 0, ANY_CHANNEL), Cube(1, 0, 0)
    search.try_presets([open_, full])
    assert search.best is not None
    assert search.best[1] == [Cube(0, 1, 1), full]


@pytest.mark.parametrize(("often", "on"), [(2, 0), (3, 0), (4, 1)])
def test_a_loop_is_on_where_more_sections_want_it_than_not(often: int, on: int) -> None:
    """Of as many for it as against it, it is off."""
    for_it, against = Cube(1, 0, 0), Cube(0, 1, 0)
    songs = (SongCubes(often, (for_it,), prices=(1,)), SongCubes(3, (against,), prices=(1,)))
    search = PresetSearch(songs, [], 2, 0, 0, None)
    search.try_presets([Cube(0, 0, 0), against if on else for_it])
    assert search.best is not None
    assert search.best[1][0].on == on


def test_a_clique_larger_than_enough_is_looked_for() -> None:
    """As many that clash as there is room for prove nothing: one more does."""
    everybody = [0b1111 & ~(1 << at) for at in range(4)]
    graph = _Graph(everybody, Control())
    assert len(graph.clique([], 3)) == 4
    assert len(graph.clique([], 1)) == 2


def test_cubes_that_do_not_meet_are_gathered_until_there_are_more_than_enough() -> None:
    """As many as enough are not: the search goes on from another start, and often finds more."""
    later = 0
    for seed in range(60):
        draw = random.Random(seed)
        cubes = []
        for _ in range(20):
            sides = [draw.choice((0, 0, 1, 2)) for _ in range(6)]
            on, off = (sum(1 << at for at, its in enumerate(sides) if its == n) for n in (1, 2))
            cubes.append(Cube(on, off, 0))
        most = greedy_clique(cubes)
        assert not any(one.meets(other) for one, other in itertools.combinations(most, 2))
        assert len(greedy_clique(cubes, len(most) - 1)) == len(most)
        later += len(greedy_clique(cubes, 0)) < len(most)
    assert later > 2


@pytest.mark.parametrize("seed", range(40))
def test_colours_are_found_exactly_where_there_are_so_few(seed: int) -> None:
    """Presets for sounds that clash, by trying every way to give them colours."""
    draw = random.Random(seed)
    size = draw.randint(2, 6)
    clash = [pair for pair in itertools.combinations(range(size), 2) if draw.random() < 0.6]
    near = [
        sum(1 << other for pair in clash if at in pair for other in pair if other != at)
        for at in range(size)
    ]
    for most in range(1, size + 1):
        possible = any(
            all(ways[one] != ways[other] for one, other in clash)
            for ways in itertools.product(range(most), repeat=size)
        )
        found = _Graph(near, Control()).colour(most, [])
        assert (found is not None) == possible
        if found is not None:
            assert set(found) <= set(range(most))
            assert all(found[one] != found[other] for one, other in clash)
