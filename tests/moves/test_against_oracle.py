"""The program's counts equal those of an independent search, on rigs drawn at random.

Source: tests/moves/oracle.py, a search over states and single presses that shares no code with
the program and was written from the rules alone.
"""

from __future__ import annotations

import pytest
from examples import examples
from hypothesis import HealthCheck, given, settings
from moves import oracle
from moves.rigs_drawn import Data, crowded_rigs, rigs

from rigtui.model import rig_from_data
from rigtui.moves import count_setlist, count_song, least

long = settings(max_examples=6000, suppress_health_check=list(HealthCheck))


def check_as_written(data: Data) -> None:
    rig, machine = rig_from_data(data), oracle.Machine(data)
    for song, row in zip(rig.songs, data["songs"], strict=True):
        got, wanted = count_song(rig, song), oracle.count_song(data, row)
        assert [(c.moves, c.on_the_beat) for c in got.changes] == [
            (c["moves"], c["on_the_beat"]) for c in wanted["changes"]
        ]
        for key in wanted.keys() - {"changes"}:
            assert getattr(got, key) == pytest.approx(wanted[key]), key
        state = machine.start(row)
        for change, end in zip(got.changes, wanted["changes"], strict=True):
            assert end["state"] in oracle.replay(machine, state, change.presses)
            state = end["state"]


def check_least(data: Data) -> None:
    rig = rig_from_data(data)
    for song, row in zip(rig.songs, data["songs"], strict=True):
        got = count_song(rig, song)
        assert got.least_moves == oracle.least_moves(data, row)
        assert got.least_moves <= got.moves


def check_setlist(data: Data) -> None:
    rig = rig_from_data(data)
    got, wanted = (
        count_setlist(rig, rig.setlists[0]),
        oracle.count_setlist(data, data["setlists"][0]),
    )
    assert {key: getattr(got, key) for key in wanted} == pytest.approx(wanted)


@examples(80)
@given(rigs())
def test_as_written(data: Data) -> None:
    """Every figure of a song as written is that of the search, change by change too."""
    check_as_written(data)


@examples(80)
@given(rigs(most_loops=3, most_presets=4, most_songs=1))
def test_least_moves(data: Data) -> None:
    """Least moves are those of the search over whole songs, and never more than as written."""
    check_least(data)


@examples(50)
@given(rigs(most_loops=3, most_presets=4, most_sections=3))
def test_setlists(data: Data) -> None:
    """A setlist's sums and set-up moves are those of the search."""
    check_setlist(data)


@examples(20)
@given(rigs(most_loops=2, most_presets=3, most_sections=24, most_songs=1))
def test_long_songs_as_written(data: Data) -> None:
    """A song of many sections is counted change by change like a short one."""
    check_as_written(data)


@examples(120)
@given(crowded_rigs())
def test_least_moves_when_crowded(data: Data) -> None:
    """Leaving out states that cannot win changes no result, however early it begins."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(least, "_CROWD", 0)
        check_least(data)


def check_least_by_stretches(data: Data) -> None:
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(least, "PATIENCE", (-1, 0))
        check_least(data)


@examples(120)
@given(crowded_rigs())
def test_least_moves_by_stretches(data: Data) -> None:
    """Boards that leave very many ways open are counted another way, to the same result."""
    check_least_by_stretches(data)


@examples(60)
@given(rigs(most_loops=3, most_presets=4, most_songs=1))
def test_least_moves_by_stretches_of_odd_rigs(data: Data) -> None:
    """The same on rigs with gaps and names that nothing carries."""
    check_least_by_stretches(data)


@pytest.mark.long
@long
@given(crowded_rigs(most_loops=6, most_sections=9))
def test_least_moves_by_stretches_thoroughly(data: Data) -> None:
    """The same as test_least_moves_by_stretches, on thousands of rigs."""
    check_least_by_stretches(data)


@pytest.mark.long
@long
@given(rigs())
def test_as_written_thoroughly(data: Data) -> None:
    """The same as test_as_written, on thousands of rigs."""
    check_as_written(data)


@pytest.mark.long
@long
@given(rigs(most_songs=1))
def test_least_moves_thoroughly(data: Data) -> None:
    """The same as test_least_moves, on thousands of larger rigs."""
    check_least(data)


@pytest.mark.long
@long
@given(rigs(most_sections=4))
def test_setlists_thoroughly(data: Data) -> None:
    """The same as test_setlists, on thousands of rigs."""
    check_setlist(data)


@pytest.mark.long
@long
@given(crowded_rigs(most_loops=6, most_sections=9))
def test_least_moves_when_crowded_thoroughly(data: Data) -> None:
    """The same as test_least_moves_when_crowded, on thousands of rigs."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(least, "_CROWD", 0)
        check_least(data)
