"""What must hold of the counting on any rig, whatever the figures are.

Source: docs/rig-file.md, "Counting moves".
"""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any

from examples import examples
from hypothesis import assume, given
from hypothesis import strategies as st
from moves.rigs_drawn import Data, rigs

from rigtui.model import rig_from_data
from rigtui.moves import SongCount, count_setlist, count_song

small = rigs(most_loops=3, most_presets=4, most_sections=5, most_songs=2)


def counts(data: Data) -> list[SongCount]:
    """The figures of every song."""
    rig = rig_from_data(data)
    return [count_song(rig, song) for song in rig.songs]


def changed(data: Data) -> Data:
    """A copy to change."""
    return copy.deepcopy(data)


def sections_of(data: Data) -> Iterator[Data]:
    """All sections of all songs."""
    for song in data["songs"]:
        yield from song["sections"]


def outside_of(data: Data) -> list[Data]:
    """Pedals in no loop."""
    return [row for row in data["pedals"] if row["id"].startswith("o")]


@examples(50)
@given(rigs())
def test_figures_agree_with_each_other(data: Data) -> None:
    """Sums are sums; least is never more than written; what waits is a bank step or a pedal."""
    rig = rig_from_data(data)
    for counted in counts(data):
        beats = [change.on_the_beat for change in counted.changes]
        assert counted.moves == sum(change.moves for change in counted.changes)
        assert counted.least_moves <= counted.moves
        assert counted.crowded == sum(beat > 1 for beat in beats)
        assert counted.extra_presses == sum(max(0, beat - 1) for beat in beats)
        assert counted.effort >= counted.moves
        for change in counted.changes:
            assert {press.kind for press in change.presses if press.can_wait} <= {"bank", "pedal"}
            assert change.on_the_beat + change.bank_steps <= change.moves
    evening = count_setlist(rig, rig.setlists[0])
    by_id = {counted.song_id: counted for counted in counts(data)}
    for key in ("moves", "least_moves", "crowded", "extra_presses", "unplayable"):
        assert getattr(evening, key) == sum(
            getattr(by_id[song_id], key) for song_id in evening.song_ids
        )


@examples(50)
@given(small, st.data())
def test_early_moves_nothing_but_the_beat(data: Data, draw: st.DataObject) -> None:
    """A pedal more in `early` leaves every press as it is, and never puts one on the beat."""
    rows = list(sections_of(data))
    outside = outside_of(data)
    assume(rows and outside)
    new = changed(data)
    row = draw.draw(st.sampled_from(list(sections_of(new))))
    row["early"] = [*row.get("early", []), draw.draw(st.sampled_from(outside))["id"]]
    for before, after in zip(counts(data), counts(new), strict=True):
        assert (before.moves, before.least_moves) == (after.moves, after.least_moves)
        for was, now in zip(before.changes, after.changes, strict=True):
            assert list(map(str, was.presses)) == list(map(str, now.presses))
            assert now.on_the_beat <= was.on_the_beat


@examples(50)
@given(small, st.data())
def test_a_rocked_pedal_and_one_at_home_count_nothing(data: Data, draw: st.DataObject) -> None:
    """Which sections ask for it changes no figure at all."""
    outside = outside_of(data)
    assume(outside)
    pedal = draw.draw(st.sampled_from(outside))
    pedal["use"] = draw.draw(st.sampled_from(("treadle", "home")))
    new = changed(data)
    for row in sections_of(new):
        for key in ("plus", "may", "early"):
            row[key] = [pedal_id for pedal_id in row.get(key, []) if pedal_id != pedal["id"]]
            if draw.draw(st.booleans()):
                row[key].append(pedal["id"])
    assert counts(data) == counts(new)


@examples(50)
@given(small, st.data())
def test_another_copy_is_no_burden(data: Data, draw: st.DataObject) -> None:
    """Least moves do not grow by a copy, and nothing that could be played is lost.

    Moves as written may grow: they go to the nearest copy, from where the way on may be longer.
    """
    assume(data["presets"])
    rig = rig_from_data(data)
    place = draw.draw(st.integers(0, len(data["presets"]) - 1))
    # A preset that is recalled in the bank shown, as no memory holds it yet, has to be gone to
    # once one does; and the bank that a song starts in may be another by a copy.
    stored = [
        memory for memory in rig.presets[place].memories if memory <= data["switcher"]["memories"]
    ]
    assume(stored)
    new = changed(data)
    row = new["presets"][place]
    spare = draw.draw(st.integers(1, data["switcher"]["memories"]))
    row["copies"] = [*row.get("copies", []), spare]
    starts = {song["sections"][0].get("preset") for song in data["songs"] if song["sections"]}
    assume(row["id"] not in starts)
    for before, after in zip(counts(data), counts(new), strict=True):
        assert after.least_moves <= before.least_moves
        assert after.unplayable == before.unplayable


@examples(50)
@given(small)
def test_ends_of_the_banks_save_no_step(data: Data) -> None:
    """Least moves with banks that wrap are never more; with two banks it is all the same."""
    assume(data["switcher"]["bank_buttons"] == "up-down")
    data["switcher"]["bank_wrap"] = True
    new = changed(data)
    new["switcher"]["bank_wrap"] = False
    banks = -(-data["switcher"]["memories"] // data["switcher"]["bank_size"])
    for ring, line in zip(counts(data), counts(new), strict=True):
        if banks <= 2:
            assert ring.moves == line.moves
            assert ring.least_moves == line.least_moves
        starts_alike = not any(row.get("copies") for row in data["presets"])
        if starts_alike:
            assert ring.least_moves <= line.least_moves
            assert ring.moves <= line.moves


@examples(40)
@given(small, st.sampled_from((0, 1, 2.5, 7)))
def test_effort_is_moves_and_weighed_presses(data: Data, weight: float) -> None:
    """The weight changes effort alone."""
    new: dict[str, Any] = changed(data)
    new["player"] = {"extra_press_weight": weight}
    for before, after in zip(counts(data), counts(new), strict=True):
        assert after.effort == after.moves + weight * after.extra_presses
        assert (before.moves, before.extra_presses) == (after.moves, after.extra_presses)
