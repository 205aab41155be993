"""What a change of the board brings is what counting and rules say of the changed rig."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigtui.checks import check, difference
from rigtui.checks.consequences import burden_of, consequences
from rigtui.model.edits import move_along, take_outside
from rigtui.moves import count_setlist
from rigtui.store.demos import demo_paths
from rigtui.store.load import load


@pytest.mark.parametrize("path", demo_paths(), ids=lambda path: path.stem)
def test_figures_are_those_of_the_changed_rig(path: Path) -> None:
    """Each pedal taken out of its loop: counted anew, setlist by setlist, and checked anew."""
    _, rig = load(path)
    for pedal in [pedal for loop in rig.loops for pedal in loop.pedals]:
        after = take_outside(rig, pedal)
        brings = consequences(rig, lambda r, pedal=pedal: take_outside(r, pedal))
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
            assert (f"{noun}: {old} → {new}" in brings.lines()) == (old != new)


def test_what_changes_nothing_says_so() -> None:
    """Two loops that change places where no rule minds."""
    _, rig = load(next(path for path in demo_paths() if path.stem == "quay-street"))
    brings = consequences(rig, lambda r: move_along(move_along(r, 1, 1), 1, -1))
    assert not brings.any
    assert brings.lines() == ["moves, sounds and findings stay as they are"]
