"""Which old item a new one is taken for."""

from __future__ import annotations

import itertools
import random
from collections import Counter
from typing import Any

import pytest

from rigtui.store.align import align, likeness, staying


def _song(id: str, **more: Any) -> dict[str, Any]:
    return {"id": id, "title": id.upper(), "tempo": 100, **more}


A, B, C = _song("a"), _song("b"), _song("c")
VERSE, SOLO = {"name": "Verse", "bars": 8}, {"name": "Solo", "bars": 16, "preset": "lead"}


@pytest.mark.parametrize(
    ("old", "new", "matches"),
    [
        ([], [], []),
        ([], [A], [None]),
        ([A, B], [B, A], [1, 0]),
        ([A, B, C], [A, C], [0, 2]),
        ([A, B], [A, {**A, "id": "x"}, B], [0, None, 1]),
        # A changed id with the rest as it was is a new name; with all else new, a new song.
        ([A, B, C], [A, {**B, "id": "x"}, C], [0, 1, 2]),
        ([A, B, C], [A, {"id": "x", "title": "X", "tempo": 3}, C], [0, None, 2]),
        ([A, B, C], [C, {**A, "id": "x"}, B], [2, 0, 1]),
        # Renamed and changed elsewhere at once: mostly as it was.
        ([A, B], [A, {**B, "id": "x", "tempo": 3}], [0, 1]),
        # The same twice: what stands at either end stays there.
        ([A, A, B], [A, B, A], [0, 2, 1]),
        ([VERSE, VERSE], [{**VERSE, "bars": 4}, VERSE], [0, 1]),
        ([VERSE, VERSE], [VERSE, {**VERSE, "bars": 4}], [0, 1]),
        ([{"number": 1, "side": "fx"}, {"number": 2}], [{"number": 2}], [1]),
        ([{"rule": "r", "where": "a"}, {"rule": "r", "where": "b"}],
         [{"rule": "r", "where": "b"}, {"rule": "r", "where": "c"}], [1, None]),
        ([VERSE, SOLO, VERSE], [SOLO, VERSE, VERSE], [1, 0, 2]),
        ([VERSE, SOLO], [VERSE, {**SOLO, "bars": 2}], [0, 1]),
        ([VERSE, SOLO], [{**SOLO, "bars": 2}, VERSE], [1, 0]),
        ([VERSE, SOLO], [VERSE, {"name": "Tag", "bars": 1}], [0, 1]),
        ([VERSE], [VERSE, VERSE], [0, None]),
        ([1, 2, 3], [1, 9, 3], [0, 1, 2]),
        ([1, 2, 3], [3, 1, 2], [2, 0, 1]),
        ([1], [True], [0]),
        ([VERSE, "text"], ["text", {"id": "x"}], [1, None]),
    ],
)  # fmt: skip
def test_an_item_is_followed(old: list[Any], new: list[Any], matches: list[int | None]) -> None:
    """By its identity, else by its content, else by likeness and place."""
    assert align(old, new) == matches


def test_long_lists_of_strangers_are_not_compared_pair_by_pair() -> None:
    """Hundreds of rows that all changed their id are told apart in no time, as new ones."""
    count = 400
    old = [_song(f"a{n}", note=n) for n in range(count)]
    assert align(old, [{**row, "id": "x" + row["id"]} for row in old]) == [None] * count


def test_likeness_leaves_identity_aside() -> None:
    """Two songs that share all but the id are fully alike; other things are alike or not."""
    assert likeness({"id": "a", "x": 1}, {"id": "b", "x": 1}) == 1
    assert likeness({"x": 1, "y": 2}, {"x": 1}) == 0.5
    assert likeness({"id": "a"}, {"id": "a"}) == 0
    assert likeness(1, 1.0) == 1
    assert likeness(1, True) == 0


def test_as_many_as_possible_stay() -> None:
    """The items that need not move are the most that keep their order; tried out for all orders."""
    for size in range(6):
        for order in itertools.permutations(range(size)):
            kept = sorted(staying(order))
            assert [order[at] for at in kept] == sorted(order[at] for at in kept)
            longest = max(
                (run for run in itertools.chain.from_iterable(
                    itertools.combinations(range(size), length) for length in range(size + 1))
                 if all(order[a] < order[b] for a, b in itertools.pairwise(run))),
                key=len,
            )  # fmt: skip
            assert len(kept) == len(longest)
    assert staying([None, 0, None, 1]) == {1, 3}


def test_long_lists_of_few_kinds_are_followed_too() -> None:
    """Thousands of rows that repeat each other (a hostile file) do not take for ever."""
    chance = random.Random(1)
    old = [{"name": chance.choice("abc"), "bars": 4} for _ in range(3000)]
    new = [{"name": chance.choice("abc"), "bars": 4} for _ in range(3000)]
    matches = align(old, new)
    taken = [was for was in matches if was is not None]
    assert len(set(taken)) == len(taken)
    alike = sum((Counter(map(str, old)) & Counter(map(str, new))).values())
    assert sum(was is not None and old[was] == row for was, row in zip(matches, new)) == alike
