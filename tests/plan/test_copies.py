"""Copies of presets beside a whole plan, and what is said of memories that a plan leaves free."""

from __future__ import annotations

import re

import pytest
from plan.test_loops import drawn
from rigs_made import loop, make_rig, pedal, preset, setlist, song, switcher
from screens import DEMOS

from rigtui.model.rig import Rig
from rigtui.moves import count_setlist
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question
from rigtui.store.load import load

NOTE = re.compile(r"would save (\d+) moves? more \(--copies (\d+)")


def hub() -> Rig:
    """Two banks of two; clean is wanted beside lead and beside drive, and one memory is free.

    By hand: three songs of three changes. With clean beside lead alone, the song with drive takes a
    bank step at each of its changes: 12. With clean in both banks: 9.
    """
    return make_rig(
        switcher=switcher(4, 2),
        pedals=[pedal("od"), pedal("boost")],
        loops=[loop(1, "od"), loop(2, "boost")],
        chain={"front": [1, 2]},
        presets=[preset("clean", memory=1), preset("drive", 1, memory=2),
                 preset("lead", 1, 2, memory=3)],
        songs=[song("x", "clean", "drive", "clean", "drive"),
               song("y", "clean", "lead", "clean", "lead")],
        setlists=[setlist("night", "x", "y", "y")],
    )  # fmt: skip


@pytest.mark.parametrize("kind", ["switches", "all"])
def test_what_a_copy_would_save_is_told_and_true(kind: str) -> None:
    """The note names memory, preset and moves; a plan with the copy saves just that."""
    made = plan(hub(), Question(kind))
    (note,) = [one for one in made.notes if NOTE.search(one)]
    found = NOTE.search(note)
    assert found is not None
    saved, copies = int(found[1]), int(found[2])
    assert (saved, copies) == (3, 1)
    assert re.match(r"memory \d is free: a copy of Clean|memory \d is free: a copy of clean", note)
    more = plan(hub(), Question(kind, copies=copies))
    assert (made.moves_after, more.moves_after) == (12, 9)
    assert more.rig is not None
    assert len(more.rig.presets) == 4
    assert more.moves_after == count_setlist(more.rig, more.rig.setlists[0]).moves


def test_the_note_on_a_demo_is_true() -> None:
    """On the function rig: as many moves less as the note of the plan without copies says."""
    _, rig = load(DEMOS / "quay-street.toml")
    made = plan(rig, Question("all"))
    (found,) = [found for one in made.notes if (found := NOTE.search(one))]
    more = plan(rig, Question("all", copies=int(found[2])))
    assert made.after is not None
    assert more.after is not None
    assert made.after.moves - more.after.moves == int(found[1])


@pytest.mark.parametrize("seed", range(30))
def test_a_plan_with_copies_is_never_worse(seed: int) -> None:
    """With copies a whole plan needs no more moves, and promises what is counted."""
    rig, _ = drawn(seed)
    alone, copied = plan(rig, Question("all")), plan(rig, Question("all", copies=3))
    if alone.rig is None:
        assert copied.rig is None
        return
    assert copied.rig is not None
    assert alone.after is not None
    assert copied.after is not None
    counted = sum(count_setlist(copied.rig, one).moves for one in copied.rig.setlists)
    assert copied.after.moves == counted
    assert copied.lower_bound <= copied.value <= alone.value
    memories = [one.memory for one in copied.rig.presets if one.memory is not None]
    assert len(set(memories)) == len(memories)
