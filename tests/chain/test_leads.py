"""Which leads a rig needs, and the way of the signal."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from rigtui.chain import graph_of
from rigtui.chain.graph import Edge
from rigtui.model import Rig, rig_from_data

DEMOS = sorted((Path(__file__).parents[2] / "rigs").glob("*.toml"))
HEAD = 'format = 1\nname = "x"\n'


def rig(text: str) -> Rig:
    return rig_from_data(tomllib.loads(HEAD + text))


def pedals(*ids: str, side: str = "front") -> str:
    return "".join(f'[[pedals]]\nid = "{p}"\nkind = "other"\nside = "{side}"\n' for p in ids)


def leads(rig: Rig) -> tuple[Edge, ...]:
    return graph_of(rig).leads


def spelled(wired: tuple[Edge, ...]) -> list[str]:
    return [
        f"{lead.start.box} {lead.start.name} > {lead.end.box} {lead.end.name}".lower()
        for lead in wired
    ]


def test_outside_pedals_stand_before_and_after_the_loops() -> None:
    """Guitar, outside pedals, the loops' sends and returns, outside pedals, amp."""
    wired = leads(
        rig(
            pedals("tuner", "drive", "boost", "eq")
            + '[[loops]]\nnumber = 1\nside = "front"\npedals = ["drive", "boost"]\n'
            + '[chain]\nfront = ["tuner", 1, "eq"]\n'
        )
    )
    assert spelled(wired) == [
        "guitar output > tuner in",
        "tuner out > switcher front input",
        "switcher send 1 > drive in",
        "drive out > boost in",
        "boost out > switcher return 1",
        "switcher front output > eq in",
        "eq out > amp input",
    ]
    assert [lead.long for lead in wired] == [True] + [False] * 5 + [True]


def test_a_pedal_may_be_called_amp() -> None:
    """Pedals whose ids are "amp" and "guitar" are not taken for the amp and the guitar."""
    wired = leads(rig(pedals("amp", "guitar") + '[chain]\nfront = ["amp", "guitar"]\n'))
    assert [lead.long for lead in wired] == [True, False, True]
    assert len({jack.box for lead in wired for jack in (lead.start, lead.end)}) == 4


def test_a_pedal_between_two_loops_uses_the_jacks_there() -> None:
    """With an outside pedal between loops the signal leaves the switcher and comes back in."""
    wired = leads(
        rig(
            pedals("a", "b", "wah")
            + '[[loops]]\nnumber = 1\nside = "front"\npedals = ["a"]\n'
            + '[[loops]]\nnumber = 2\nside = "front"\npedals = ["b"]\n'
            + '[chain]\nfront = [1, "wah", 2]\n'
        )
    )
    assert "switcher out after loop 1 > wah in" in spelled(wired)
    assert "wah out > switcher in before loop 2" in spelled(wired)


def test_a_rig_of_nothing_is_one_lead() -> None:
    """A guitar straight into the amp takes one lead, and no effects loop leads."""
    assert spelled(leads(rig(""))) == ["guitar output > amp input"]


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_the_demo_rigs_count_of_patch_leads_is_the_trades(path: Path) -> None:
    """Leads = 2 x loops used + (pedals in shared loops - 1 each) + joints outside the loops.

    Source: common practice; joints are the leads along the outside chain, the long ones included.
    """
    made = rig_from_data(tomllib.loads(path.read_text(encoding="utf-8")))
    used = [loop for loop in made.loops if loop.pedals]
    in_loops = sum(len(loop.pedals) + 1 for loop in used)
    assert in_loops == 2 * len(used) + sum(len(loop.pedals) - 1 for loop in used)
    joints = 0
    for side in (made.chain.front, made.chain.fx):
        outside = sum(isinstance(item, str) for item in side)
        joints += outside + 1 + bool(any(isinstance(item, int) for item in side))
    assert len(leads(made)) == in_loops + joints
