"""A pedal under the foot and a pedal in a loop change places."""

from __future__ import annotations

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.advice.first import do_first
from rigtui.advice.proposals.swaps import exchanged
from rigtui.model import Rig
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup

EASY = [section("dry"), section("crunch", plus=["boost"])] * 4
"""Eight sections in which the boost comes and goes with the crunch."""


def _rig(*, memories: int = 4) -> Rig:
    """The boost is stepped on at every change; the gate, alone in a loop, is on from end to end."""
    return make_rig(
        switcher=switcher(memories, memories),
        pedals=[
            pedal("drive", "overdrive", name="Low drive"),
            pedal("gate", "gate", name="Noise gate"),
            pedal("boost", "boost", name="Lift"),
            pedal("wide", "modulation", name="Wide chorus"),
        ],
        loops=[loop(1, "drive"), loop(2, "gate"), loop(3, "wide")],
        chain={"front": [1, 2, 3, "boost"]},
        presets=[
            preset("dry", 2, memory=1, name="Dry"),
            preset("crunch", 1, 2, memory=2, name="Crunch"),
            preset("wet", 2, 3, memory=3, name="Wet"),
        ],
        songs=[song("a", *EASY, section("wet"), section("dry"), section("wet"))],
        setlists=[setlist("night", "a")],
    )


def test_they_change_places_where_that_saves_presses() -> None:
    """The gate is on all night and needs no loop: with the boost in it no extra press is left."""
    rig = _rig()
    remedy = do_first(rig).remedies[0]
    assert remedy.proposal.what == (
        "Take Noise gate out of loop 2 and put Lift in, then step on Noise gate"
    )
    assert not remedy.proposal.as_if
    assert (remedy.before.extra_presses, remedy.after.extra_presses) == (8, 0)
    assert remedy.rig.loops[1].pedals == ("boost",)
    assert [set(lookup(remedy.rig).sound(x)) for x in remedy.rig.songs[0].sections] == [
        set(lookup(rig).sound(x)) for x in rig.songs[0].sections
    ]
    assert remedy.proposal.detail == (
        "Lift then comes before Wide chorus and Noise gate in the signal",
        "Noise gate then comes after Wide chorus in the signal",
    )


def test_new_presets_must_find_a_memory() -> None:
    """Crunch is wanted with and without the boost: that is one more preset, and no memory is left.

    Without a memory the sections on it could not be played, and that is no remedy.
    """
    rig = _rig(memories=3)
    sections = (*rig.songs[0].sections, rig.songs[0].sections[1].model_copy(update={"plus": ()}))
    rig = rig.model_copy(
        update={"songs": (rig.songs[0].model_copy(update={"sections": sections}),)}
    )
    with pytest.raises(EditError, match="don't fit the memories"):
        exchanged(rig, "boost", 2)
    assert not any(remedy.after.unplayable for remedy in do_first(rig).remedies)
    assert exchanged(_rig(), "boost", 2).loops[1].pedals == ("boost",)


def test_a_loop_that_is_shared_is_left_alone() -> None:
    """Which of two pedals should come out, nobody can say."""
    rig = _rig()
    shared = rig.loops[1].model_copy(update={"pedals": ("gate", "wide")})
    rig = rig.model_copy(update={"loops": (rig.loops[0], shared, rig.loops[2])})
    with pytest.raises(EditError, match="one pedal"):
        exchanged(rig, "boost", 2)


def test_what_has_to_be_bought_comes_last() -> None:
    """One more loop would save as much, but the player has no such switcher."""
    kinds = [remedy.proposal.kind for remedy in do_first(_rig()).remedies]
    assert kinds.index("exchange") < kinds.index("more loops") == len(kinds) - 1
