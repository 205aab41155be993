"""Edits of the board: what they do, that they can be done in any order, and that names follow."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import loop, make_rig, pedal, preset, section, song, switcher

from rigtui.model import EditError, Rig
from rigtui.model.edits import (
    add_loop,
    add_pedal,
    delete_loop,
    delete_pedal,
    into_loop,
    loop_to_other_side,
    move_along,
    put_at,
    put_at_end,
    renumber_loop,
    set_preset,
    set_switcher,
    take_outside,
    to_other_side,
    waive,
)
from rigtui.model.lookup import lookup


def board(**more: Any) -> Rig:
    """A board with a tuner, two drives in a loop, an echo behind the amp and an empty loop."""
    parts: dict[str, Any] = {
        "switcher": switcher(),
        "pedals": [pedal("tuner", "tuner"), pedal("low", "overdrive"), pedal("high", "distortion"),
                   pedal("wah", "wah"), pedal("echo", "delay", "fx")],
        "loops": [loop(1, "low", "high"), loop(2, "echo", side="fx"), loop(3)],
        "chain": {"front": ["tuner", "wah", 1, 3], "fx": [2]},
        "presets": [preset("clean", memory=1), preset("dirt", 1, 2, memory=2)],
        "songs": [song("fen", section("clean", plus=["wah"]), section("dirt", may=["wah"]))],
    }  # fmt: skip
    return make_rig(**{**parts, **more})


@pytest.mark.parametrize(
    ("kind", "front"),
    [
        ("fuzz", ("tuner", "new", "wah", 1, 3)), ("compressor", ("tuner", "wah", "new", 1, 3)),
        ("tuner", ("tuner", "new", "wah", 1, 3)), ("boost", ("tuner", "wah", 1, 3, "new")),
    ],
)  # fmt: skip
def test_a_new_pedal_stands_where_its_kind_usually_does(kind: Any, front: Any) -> None:
    """Source: the usual order of pedals, common practice."""
    assert add_pedal(board(), "New", kind, "front").chain.front == front


def test_a_pedal_at_home_is_wired_to_nothing() -> None:
    """It is listed, and stands nowhere."""
    rig = add_pedal(board(), "New", "fuzz", "front", use="home")
    assert rig.chain == board().chain
    assert rig.pedals[-1].use == "home"


def test_a_deleted_pedal_is_named_nowhere() -> None:
    """Loops, chain, sections and waivers let go of it; everything else stays."""
    rig = waive(board(), "late-change", "pedals.wah", "fine")
    assert rig.waivers
    rig = delete_pedal(delete_pedal(rig, "wah"), "low")
    assert rig.chain.front == ("tuner", 1, 3)
    assert rig.loops[0].pedals == ("high",)
    assert [row.plus + row.may for row in rig.songs[0].sections] == [(), ()]
    assert rig.waivers == ()
    assert rig.presets == board().presets


def test_a_loop_left_empty_is_switched_out() -> None:
    """Whether its pedal is deleted or goes elsewhere: what comes into it next is not switched on
    by presets that meant another pedal. A loop with pedals left in it stays in its presets."""
    rig = set_preset(board(), "clean", loops=(2,))
    for edited in (delete_pedal(rig, "echo"), take_outside(rig, "echo"), into_loop(rig, "echo", 3)):
        assert lookup(edited).loops[2].pedals == ()
        assert [row.loops for row in edited.presets if 2 in row.loops] == []
    assert [row.loops for row in delete_pedal(rig, "low").presets] == [(2,), (1, 2)]


def test_moving_along_stays_in_the_loop_and_stops_at_the_ends() -> None:
    """A pedal changes places in its loop, a loop and an outside pedal in the chain."""
    assert move_along(board(), "high", -1).loops[0].pedals == ("high", "low")
    assert move_along(board(), 3, -1).chain.front == ("tuner", "wah", 3, 1)
    assert move_along(board(), "wah", 1).chain.front == ("tuner", 1, "wah", 3)
    for item, by in (("low", -1), ("high", 1), (2, 1), ("tuner", -1)):
        with pytest.raises(EditError, match="already at that end"):
            move_along(board(), item, by)


def test_into_a_loop_and_out_of_it() -> None:
    """It takes the loop's side and gives up its place; out of it sections keep their sounds."""
    rig = into_loop(board(), "wah", 2)
    assert rig.loops[1].pedals == ("echo", "wah")
    assert rig.chain.front == ("tuner", 1, 3)
    assert lookup(rig).pedals["wah"].side == "fx"
    played = rig.songs[0].sections[1]
    assert set(lookup(rig).sound(played)) == {"low", "high", "echo", "wah"}
    out = take_outside(rig, "wah")
    assert set(lookup(out).sound(out.songs[0].sections[1])) == {"low", "high", "echo", "wah"}
    with pytest.raises(EditError, match="already"):
        into_loop(rig, "wah", 2)
    with pytest.raises(EditError, match="no loop 9"):
        into_loop(rig, "wah", 9)


def test_sides() -> None:
    """A loop takes its pedals along; a pedal in a loop does not go alone."""
    rig = loop_to_other_side(board(), 1)
    assert (rig.chain.front, rig.chain.fx) == (("tuner", "wah", 3), (2, 1))
    assert {row.side for row in rig.pedals if row.id in ("low", "high")} == {"fx"}
    assert to_other_side(board(), "wah").chain.fx in (("wah", 2), (2, "wah"))
    with pytest.raises(EditError, match="in loop 1"):
        to_other_side(board(), "low")


def test_numbers_of_loops() -> None:
    """The first that is free; swapped where taken; presets, chain and waivers follow."""
    rig = add_loop(delete_loop(board(), 2), "fx")
    assert [row.number for row in rig.loops] == [1, 2, 3]
    rig = waive(board(), "empty-loop", "loops.3", "spare")
    rig = renumber_loop(rig, 3, 1)
    assert [row.pedals for row in rig.loops] == [(), ("echo",), ("low", "high")]
    assert rig.chain.front == ("tuner", "wah", 3, 1)
    assert rig.presets[1].loops == (2, 3)
    assert rig.waivers[0].where == "loops.1"
    with pytest.raises(EditError, match="number"):
        renumber_loop(rig, 1, 100)


def test_what_is_dragged_takes_the_place_of_what_it_is_put_on() -> None:
    """From whichever side it comes; on a loop it goes in, and inside one it changes places."""
    rig = board()
    assert put_at(rig, "tuner", "wah").chain.front == ("wah", "tuner", 1, 3)
    assert put_at(rig, 3, 1).chain.front == ("tuner", "wah", 3, 1)
    assert put_at(rig, 1, "tuner").chain.front == (1, "tuner", "wah", 3)
    assert put_at(rig, "wah", "low").loops[0].pedals == ("low", "high", "wah")
    assert put_at(rig, "high", 1).loops[0].pedals == ("high", "low")
    assert put_at(rig, "low", "high").loops[0].pedals == ("high", "low")
    assert put_at(rig, "low", "tuner").chain.front == ("low", "tuner", "wah", 1, 3)
    assert put_at_end(rig, "wah", last=True).chain.front == ("tuner", 1, 3, "wah")
    across = put_at(rig, 2, 1)
    assert (across.chain.front, across.chain.fx) == (("tuner", "wah", 2, 1, 3), ())
    assert {row.side for row in across.pedals} == {"front"}
    assert put_at(rig, "low", 1) == rig
    with pytest.raises(EditError, match="already"):
        put_at(rig, 1, "low")


def test_a_deleted_loop_leaves_its_pedals_and_their_sounds() -> None:
    """They go outside, and sections step them on."""
    before = board()
    rig = delete_loop(before, 1)
    assert [row.number for row in rig.loops] == [2, 3]
    for old, new in zip(before.songs[0].sections, rig.songs[0].sections):
        assert set(lookup(rig).sound(new)) == set(lookup(before).sound(old))


def test_a_rig_without_a_switcher_gets_one() -> None:
    """What it needs is asked for."""
    bare = board(switcher=None)
    assert set_switcher(bare, memories=8, bank_size=4).switcher is not None
    with pytest.raises(EditError, match="bank_size"):
        set_switcher(bare, memories=8)


STEPS = st.lists(
    st.tuples(
        st.sampled_from(
            ("along", "into", "out", "side", "loop-side", "number", "delete", "add", "at", "end")
        ),
        st.sampled_from(("tuner", "low", "high", "wah", "echo")),
        st.integers(1, 5),
        st.sampled_from((-1, 1)),
    ),
    max_size=12,
)


@given(STEPS)
def test_any_edits_in_any_order_leave_a_rig(steps: list[tuple[str, str, int, int]]) -> None:
    """Each either says why not or gives a rig in which every pedal and loop stands just once."""
    rig = board()
    edits: dict[str, Any] = {
        "along": lambda r, p, n, by: move_along(r, p, by),
        "into": lambda r, p, n, by: into_loop(r, p, n),
        "out": lambda r, p, n, by: take_outside(r, p),
        "side": lambda r, p, n, by: to_other_side(r, p),
        "loop-side": lambda r, p, n, by: loop_to_other_side(r, n),
        "number": lambda r, p, n, by: renumber_loop(r, n, n + by),
        "delete": lambda r, p, n, by: delete_loop(r, n),
        "add": lambda r, p, n, by: add_loop(r, "front"),
        "at": lambda r, p, n, by: put_at(r, p if by > 0 else 3, n),
        "end": lambda r, p, n, by: put_at_end(r, n if n == 2 else p, by > 0),
    }
    for what, name, number, by in steps:
        try:
            rig = edits[what](rig, name, number, by)
        except EditError:
            continue
        places = [*rig.chain.front, *rig.chain.fx, *(p for row in rig.loops for p in row.pedals)]
        assert sorted(map(str, places)) == sorted(
            [*(row.id for row in rig.pedals), *(str(row.number) for row in rig.loops)]
        )
        assert make_rig(**{k: v for k, v in rig.model_dump(exclude_unset=True).items()
                           if k not in ("format", "name")}) == rig  # fmt: skip
