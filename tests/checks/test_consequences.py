"""What a change of the board brings is what counting and rules say of the changed rig."""

from __future__ import annotations

from pathlib import Path

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, song

from rigtui.checks import check, difference
from rigtui.checks.consequences import burden_of, consequences
from rigtui.model.edits import delete_pedal, into_loop, move_along, take_outside
from rigtui.model.rig import Rig
from rigtui.moves import count_setlist
from rigtui.store.demos import demo_paths
from rigtui.store.load import load


@pytest.mark.parametrize("path", demo_paths(), ids=lambda path: path.stem)
def test_figures_are_those_of_the_changed_rig(path: Path) -> None:
    """Each pedal taken out of its loop: counted anew, setlist by setlist, and checked anew."""
    _, rig = load(path)
    for name in [name for row in rig.loops for name in row.pedals]:
        after = take_outside(rig, name)
        brings = consequences(rig, lambda r, name=name: take_outside(r, name))
        assert brings.before == burden_of(rig)
        counts = [count_setlist(after, setlist) for setlist in after.setlists]
        assert brings.after[:3] == (
            sum(count.unplayable for count in counts),
            sum(count.extra_presses for count in counts),
            sum(count.moves for count in counts),
        )
        assert brings.findings == difference(check(rig), check(after))
        assert brings.any
        for noun, old, new in zip(("extra presses", "moves"), brings.before[1:], brings.after[1:]):
            told = new > old or (new < old and not brings.findings.more_errors)
            assert (f"{noun}: {old} → {new}" in brings.lines()) == told


def test_what_changes_nothing_says_so() -> None:
    """Two loops that change places where no rule minds."""
    _, rig = load(next(path for path in demo_paths() if path.stem == "quay-street"))
    brings = consequences(rig, lambda r: move_along(move_along(r, 1, 1), 1, -1))
    assert not brings.any
    assert brings.lines() == ["moves, sounds and findings stay as they are"]


def chorus_and_gate() -> Rig:
    """A chorus in a loop of its own, heard by preset, and a gate on the floor to step on."""
    return make_rig(
        pedals=[pedal("chorus", name="Wide chorus"), pedal("gate", name="Noise gate")],
        loops=[loop(1, "chorus"), loop(2)],
        chain={"front": ["gate", 1, 2]},
        presets=[preset("clean", name="Clean", memory=1), preset("wide", 1, name="Wide", memory=2)],
        songs=[
            song("fen", section("clean", plus=["gate"]), section("wide")),
            song("tarn", section("wide", plus=["gate"]), section("wide"), section("clean")),
        ],
    )


def test_what_sections_lose_comes_first() -> None:
    """Heard today by preset, in 3 sections: a pedal that goes is missed by each of them, and the
    presets that switched its loop on do so no more."""
    brings = consequences(chorus_and_gate(), lambda rig: delete_pedal(rig, "chorus"))
    assert brings.lines()[:2] == [
        "3 sections of 2 songs lose Wide chorus",
        "loop 1 will be empty, and Wide switches it off",
    ]
    brings = consequences(chorus_and_gate(), lambda rig: delete_pedal(rig, "gate"))
    assert brings.lines()[0] == "2 sections of 2 songs lose Noise gate"


def test_no_saving_is_told_where_sections_go_without() -> None:
    """A pedal in a loop can't be stepped on by itself: the presses that go are no saving."""
    brings = consequences(chorus_and_gate(), lambda rig: into_loop(rig, "gate", 2))
    assert brings.findings.more_errors
    assert brings.after.moves < brings.before.moves
    lines = brings.lines()
    assert lines[0] == "2 sections of 2 songs can't switch Noise gate on any more"
    assert not any(line.startswith(("moves:", "extra presses:")) for line in lines)


def test_a_pedal_that_comes_on_with_presets_is_told() -> None:
    """The gate goes into the loop of the chorus, which one preset switches on."""
    brings = consequences(chorus_and_gate(), lambda rig: into_loop(rig, "gate", 1))
    assert "2 sections of 2 songs get Noise gate, which is not on there today" in brings.lines()
