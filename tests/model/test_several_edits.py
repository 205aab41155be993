"""Rows that move together, sets that are split and joined: against moving one row at a time."""

from __future__ import annotations

import itertools

import pytest
from rigs_made import make_rig, section, song

from rigtui.model import EditError, edits
from rigtui.model.edits.several import moved_together


@pytest.mark.parametrize("by", [-1, 1])
def test_rows_move_past_the_next_that_stays(by: int) -> None:
    """Each row keeps the order of those that move and of those that stay, and none moves twice."""
    size = 5
    for places in itertools.chain.from_iterable(
        itertools.combinations(range(size), n) for n in range(size + 1)
    ):
        order = moved_together(size, places, by)
        assert [row for row in order if row in places] == sorted(places)
        assert [row for row in order if row not in places] == [
            row for row in range(size) if row not in places
        ]
        for at in places:
            # Only rows that run from the end without a gap cannot move.
            ends = range(at, -1, -1) if by < 0 else range(at, size)
            stuck = all(row in places for row in ends)
            assert order.index(at) == (at if stuck else at + by)


def _rig(*sets: str):
    ids = sorted(set("".join(sets)))
    rows = [{"songs": list(part), "name": f"S{at}"} for at, part in enumerate(sets)]
    return make_rig(
        songs=[song(name, section("a")) for name in ids],
        setlists=[{"id": "gig", "sets": rows}] if sets else [],
    )


def _sets(rig) -> list[str]:
    return ["".join(part.songs) for part in rig.setlists[0].sets]


@pytest.mark.parametrize(
    ("sets", "places", "by", "after"),
    [
        (("abc", "d"), {(0, 1), (0, 2)}, 1, ["a", "bcd"]),
        (("abc", "d"), {(0, 0), (0, 1)}, 1, ["cab", "d"]),
        (("abc", "d"), {(0, 0), (0, 2)}, 1, ["ba", "cd"]),
        (("ab", "cd"), {(1, 0), (1, 1)}, -1, ["abcd", ""]),
        (("ab", "cd"), {(0, 0), (0, 1)}, -1, ["ab", "cd"]),
        (("ab", "cd"), {(1, 0), (1, 1)}, 1, ["ab", "cd"]),
        (("aba", "a"), {(0, 2)}, -1, ["aab", "a"]),
        (("ab",), set(), 1, ["ab"]),
    ],
)
def test_songs_move_together_over_the_ends_of_sets(sets, places, by, after) -> None:
    """As the rows of the list, headings among them, would when each passes the next that stays."""
    assert _sets(edits.move_several_in_sets(_rig(*sets), "gig", places, by)) == after


def test_songs_of_the_file_move_together() -> None:
    """Without a setlist the order is the file's."""
    rig = edits.move_songs(_rig("abcd"), {"b", "c"}, -1)
    assert [row.id for row in rig.songs] == ["b", "c", "a", "d"]


def test_a_set_is_split_and_joined_again() -> None:
    """The song and those behind it are the next set; joining gives the set as it was."""
    before = _rig("abcd", "e")
    split = edits.split_set(before, "gig", 0, 1, "Late")
    assert _sets(split) == ["a", "bcd", "e"]
    assert [part.name for part in split.setlists[0].sets] == ["S0", "Late", "S1"]
    assert edits.join_set(split, "gig", 0) == before


def test_minutes_of_sets_that_are_joined() -> None:
    """They add up, as far as they are known."""
    rig = edits.set_set(_rig("a", "b", "c"), "gig", 0, slot_minutes=40)
    rig = edits.set_set(rig, "gig", 1, slot_minutes=35)
    joined = edits.join_set(rig, "gig", 0)
    assert joined.setlists[0].sets[0].slot_minutes == 75
    assert edits.join_set(joined, "gig", 0).setlists[0].sets[0].slot_minutes == 75


def test_what_cannot_be_split_or_joined() -> None:
    """The first song begins its set already; the last set has none after it."""
    with pytest.raises(EditError, match="nothing to split"):
        edits.split_set(_rig("ab"), "gig", 0, 0, "Late")
    with pytest.raises(EditError, match="there is no song 3"):
        edits.split_set(_rig("ab"), "gig", 0, 2, "Late")
    with pytest.raises(EditError, match="no set comes after"):
        edits.join_set(_rig("ab"), "gig", 0)
