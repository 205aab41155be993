"""After an edit of presets, what is carried over is what counting afresh gives."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from moves.rigs_drawn import crowded_rigs, rigs
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.model import Rig, edits, rig_from_data
from rigtui.model.remembered import Remembered
from rigtui.moves import boards, count, count_setlist, count_song

EDITS: dict[str, Any] = {
    "loops": st.sampled_from(((), (1,), (2,), (1, 2), (1, 2, 3))),
    "memory": st.sampled_from((None, 1, 2, 3, 4, 5)),
    "channel": st.sampled_from((None, "clean", "drive")),
    "copies": st.sampled_from(((), (2,), (3, 5))),
    "guitar_volume": st.sampled_from((None, 4.0, 7.0)),
    "role": st.sampled_from(("lead", "clean")),
}


def all_counts(rig: Rig) -> list[object]:
    """Every figure there is, as counted now."""
    return [
        *(count_song(rig, song) for song in rig.songs),
        *(count_setlist(rig, setlist) for setlist in rig.setlists),
    ]


def counted_afresh(rig: Rig) -> list[object]:
    """The same by a counting that remembers nothing."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(boards, "_boards", Remembered())
        return all_counts(rig)


@given(st.data(), st.one_of(rigs(most_songs=4), crowded_rigs()))
def test_figures_after_edits_are_those_of_a_fresh_count(
    data: st.DataObject, drawn: dict[str, Any]
) -> None:
    """Whatever is edited in one preset or two, time after time, and taken back again."""
    rig = rig_from_data(drawn)
    assert all_counts(rig) == counted_afresh(rig)
    before = rig
    for _ in range(3):
        for _ in range(data.draw(st.sampled_from((1, 1, 2)))):
            key = data.draw(st.sampled_from(sorted(EDITS)))
            at = data.draw(st.integers(0, len(rig.presets) - 1))
            rows = list(rig.presets)
            rows[at] = rows[at].model_copy(update={key: data.draw(EDITS[key])})
            rig = rig.model_copy(update={"presets": tuple(rows)})
        if rig.songs and data.draw(st.booleans()):
            rig = rig.model_copy(update={"songs": rig.songs[1:]})
        assert all_counts(rig) == counted_afresh(rig)
    assert all_counts(before) == counted_afresh(before)


def rig_of_two_worlds(**more: Any) -> Rig:
    """Two songs that have no preset in common; in the second a section leaves a loop open."""
    return make_rig(
        switcher=switcher(8, 4, **more),
        pedals=[pedal("grit"), pedal("echo")],
        loops=[loop(1, "grit"), loop(2, "echo")],
        presets=[
            preset("a", memory=1),
            preset("b", 1, memory=2),
            preset("c", 2, memory=3),
            preset("d", 1, 2, memory=5),
        ],
        songs=[
            song("first", section("a"), section("b"), section("a")),
            song("second", section("c"), section("d", may=["echo"]), section("c")),
        ],
        setlists=[setlist("night", "first", "second", "first")],
    )


def songs_counted(rig: Rig, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Count all; return the songs that had to be counted for it."""
    seen: list[str] = []
    really = count._count_song
    with monkeypatch.context() as patch:
        patch.setattr(
            count,
            "_count_song",
            lambda rig, on, song: seen.append(song.id) or really(rig, on, song),
        )
        all_counts(rig)
    return seen


def test_songs_that_have_nothing_to_do_with_the_preset_are_not_counted_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Only what names it, or could use it instead of what it names."""
    rig = rig_of_two_worlds()
    assert songs_counted(rig, monkeypatch) == ["first", "second"]
    louder = edits.set_preset(rig, "a", guitar_volume=7)
    assert songs_counted(louder, monkeypatch) == ["first"]
    assert songs_counted(edits.set_preset(louder, "c", memory=6), monkeypatch) == ["second"]
    stand_in = edits.set_preset(louder, "b", memory=4)  # b fits the section with the echo open
    assert songs_counted(stand_in, monkeypatch) == ["first", "second"]
    no_more = edits.toggle_loop(stand_in, "b", 1)
    assert songs_counted(no_more, monkeypatch) == ["first", "second"]
    assert songs_counted(edits.set_preset(no_more, "b", role="lead"), monkeypatch) == ["first"]
    again = edits.set_preset(no_more, "b", loops=(1,))
    assert songs_counted(again, monkeypatch) == ["first", "second"]


def test_where_loops_have_switches_all_least_moves_are_counted_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Any preset can be toggled into any other there."""
    rig = rig_of_two_worlds(loop_switches=True)
    all_counts(rig)
    louder = edits.set_preset(rig, "a", memory=4)
    assert songs_counted(louder, monkeypatch) == ["first", "second"]
    assert all_counts(louder) == counted_afresh(louder)
