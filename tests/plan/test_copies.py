"""Copies of presets in spare memories: where they save bank steps, and never for the worse."""

from __future__ import annotations

import itertools
import math
from types import SimpleNamespace

import pytest
from plan import contents_oracle
from plan.evenings import evening
from plan.test_loops import drawn
from rigs_made import loop, make_rig, pedal, preset, setlist, song, switcher
from screens import DEMOS

from rigtui.model.edits import set_switcher
from rigtui.model.edits.tables import with_table
from rigtui.model.rig import Preset, Rig
from rigtui.moves import count_setlist
from rigtui.plan.answer import plan
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.question import Question
from rigtui.plan.loops.designs import Design
from rigtui.plan.memories.copies import stores_of
from rigtui.plan.presets.cubes import Cube
from rigtui.plan.presets.packing import Packing
from rigtui.plan.whole.polished import filled_as
from rigtui.store.load import load


def hub() -> Rig:
    """Two banks of two; clean is wanted beside lead and beside drive, and one memory is free.

    By hand: three songs of three changes. With clean beside lead alone, the song with drive takes a
    bank step at each of its changes: 12. With clean in both banks it takes one, as each song is
    counted from the clean that is nearest bank 1: 10.
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
def test_a_copy_where_it_saves_steps(kind: str) -> None:
    """The free memory holds clean as well, written as a copy; without copies there are 12 moves."""
    made = plan(hub(), Question(kind))
    alone = plan(hub(), Question(kind, copies=0))
    assert (made.moves_after, alone.moves_after) == (10, 12)
    assert made.rig is not None
    assert [row.id for row in made.rig.presets] == ["clean", "drive", "lead"]
    assert sorted(memory for row in made.rig.presets for memory in row.memories) == [1, 2, 3, 4]
    assert len(made.rig.presets[0].memories) == 2
    assert made.moves_after == count_setlist(made.rig, made.rig.setlists[0]).moves
    assert made.details["copies"] == 1
    assert made.details["without_copies"] == {
        "value": alone.value, "lower_bound": alone.lower_bound, "proved": True
    }  # fmt: skip
    assert any(
        "1 copy of presets in spare memories: effort 12 (proved) without, 10 with" in note
        for note in made.notes
    )


def test_where_no_copy_can_help_none_is_weighed() -> None:
    """Neither in one bank, nor where none may be made, is a plan said to be better for copies."""
    for rig, copies in ((set_switcher(hub(), bank_size=4), None), (hub(), 0)):
        made = plan(rig, Question("all", copies=copies))
        assert made.rig is not None
        assert "without_copies" not in made.details


def test_a_demo_has_fewer_bank_steps_with_copies() -> None:
    """On the function rig: fewer than without, and both figures are those of the report."""
    _, rig = load(DEMOS / "quay-street.toml")
    made = plan(rig, Question("all", seconds=5))
    alone = plan(rig, Question("all", seconds=60, copies=0))  # it ends once it is proved
    assert made.after is not None
    assert alone.after is not None
    assert alone.proved
    assert made.after.bank_steps < alone.after.bank_steps
    assert made.after.effort < alone.after.effort


@pytest.mark.parametrize("copies", [None, 1])
@pytest.mark.parametrize("seed", range(30))
def test_a_plan_with_copies_is_never_worse(seed: int, copies: int | None) -> None:
    """With copies a whole plan takes no more effort, and promises what is counted."""
    rig, _ = drawn(seed)
    alone = plan(rig, Question("all", copies=0))
    copied = plan(rig, Question("all", copies=copies))
    if alone.rig is None:
        assert copied.rig is None
        return
    assert copied.rig is not None
    assert alone.after is not None
    assert copied.after is not None
    counted = [count_setlist(copied.rig, setlist) for setlist in copied.rig.setlists]
    assert copied.after.effort == sum(count.effort for count in counted)
    assert copied.lower_bound <= copied.value <= alone.value
    assert copied.goal.key(copied.after)[:2] <= copied.goal.key(alone.after)[:2]
    memories = [memory for preset in copied.rig.presets for memory in preset.memories]
    assert len(set(memories)) == len(memories)
    if copies is not None and copied.rig != rig:
        assert sum(len(preset.copies) for preset in copied.rig.presets) <= copies


def test_what_no_memory_is_free_for_is_not_copied() -> None:
    """Where every memory is taken there are no copies, and the placement is proved."""
    rig = make_rig(
        switcher=switcher(3, 2),
        presets=[preset(name, memory=at + 1, channel=name) for at, name in enumerate("abc")],
        amp={"channels": list("abc")},
        songs=[song("x", "a", "b", "c")],
    )
    made = plan(rig, Question("switches"))
    assert made.proved
    assert made.details["copies"] == 0


@pytest.mark.parametrize("seed", range(60))
def test_against_all_contents(seed: int) -> None:
    """On small rigs the memories with copies are the best of all ways to fill the banks."""
    rig, _ = drawn(seed)
    evening = evening_of(rig)
    made = plan(rig, Question("switches"))
    if made.rig is None or made.after is None:
        return
    used = {part.preset for song in evening.songs for part in song.sections}
    if any(row.id in used and not row.memories for row in made.rig.presets):
        return  # its sound is in a memory of another, and it counts as in the bank shown
    problem = stores_of(made.rig, evening, {}).problem
    if math.prod((problem.presets + 1) ** room for room in problem.rooms) > 4000:
        return
    every = contents_oracle.every_contents(problem)
    least = min(contents_oracle.costs(problem, banks)[0] for banks in every)
    assert made.after.bank_steps <= least
    if made.rig != rig:
        assert made.after.bank_steps == least


def test_placing_without_copies_leaves_time_for_copies(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where 24 presets stand in 8 banks no placement is proved in the time, and copies help most.

    A second passes from each look at the clock to the next, however busy the machine is.
    """
    clock = itertools.count()
    monkeypatch.setattr(
        "rigtui.plan.ask.control.time", SimpleNamespace(monotonic=lambda: next(clock))
    )
    rig = evening(pedals=10, loops=8, memories=32, songs=20, sounds=7, seed=2)
    made = plan(rig, Question("all", sharing=False, seconds=6000))
    without = made.details["without_copies"]
    assert not without["proved"]
    assert made.value < 0.95 * without["value"]


def test_of_what_the_evening_leaves_idle_other_songs_keep_theirs_first() -> None:
    """Where two share a memory, the one that no song uses is left out."""
    rig = make_rig(
        switcher=switcher(2, 1),
        presets=[preset("a", memory=1), preset("idle", memory=2), preset("other", memory=2)],
        songs=[song("x", "a"), song("y", "other")],
        setlists=[setlist("night", "x")],
    )
    assert stores_of(rig, evening_of(rig), {}).ids == ("a", "other")


@pytest.mark.parametrize(
    ("memories", "kept"),
    [
        ([1, 2], {"clean": (1, 2), "drive": (3,), "lead": (4,)}),
        ([1, 2, 3], {"clean": (1, 2), "drive": (4,), "lead": (3,)}),
        ([4, 2], {"clean": (2, 4), "drive": (1,), "lead": (3,)}),
    ],
)
def test_presets_that_the_songs_leave_idle_keep_a_memory(
    memories: list[int], kept: dict[str, tuple[int, ...]]
) -> None:
    """By hand: each gets the lowest that is free, or else a copy's; one that had none gets none."""
    rig = hub()
    idle = preset("idle", 2)
    rig = with_table(rig, "presets", [*rig.presets, Preset.model_validate(idle)])
    sound = Cube(0, 3, 0)
    design = Design((1, 2), 0, 0, 0, Packing(0, 0, (sound,), ()))
    made = filled_as(rig, ["clean"], design, {sound: memories})
    assert {row.id: tuple(sorted(row.memories)) for row in made.presets} == {**kept, "idle": ()}
