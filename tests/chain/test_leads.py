"""Which leads a rig needs, and the way of the signal."""

from __future__ import annotations

import tomllib
from pathlib import Path

import networkx
import pytest

from rigtui.chain.leads import AMP, GUITAR, SWITCHER, Jack, Lead, leads
from rigtui.model import Rig, rig_from_data

DEMOS = sorted((Path(__file__).parents[2] / "rigs").glob("*.toml"))
HEAD = 'format = 1\nname = "x"\n'


def rig(text: str) -> Rig:
    return rig_from_data(tomllib.loads(HEAD + text))


def pedals(*ids: str, side: str = "front") -> str:
    return "".join(f'[[pedals]]\nid = "{p}"\nkind = "other"\nside = "{side}"\n' for p in ids)


def spelled(wired: tuple[Lead, ...]) -> list[str]:
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
    assert [lead.kind for lead in wired] == ["long"] + ["patch"] * 5 + ["long"]


def test_a_pedal_may_be_called_amp() -> None:
    """Pedals whose ids are "amp" and "guitar" are not taken for the amp and the guitar."""
    wired = leads(rig(pedals("amp", "guitar") + '[chain]\nfront = ["amp", "guitar"]\n'))
    assert [lead.kind for lead in wired] == ["long", "patch", "long"]
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


def signal_graph(wired: tuple[Lead, ...]) -> networkx.DiGraph:
    """Jacks with every loop switched in: edges are the leads, and the ways through boxes."""
    graph = networkx.DiGraph()
    arriving = None
    for lead in wired:
        if arriving is not None and lead.start != arriving:
            graph.add_edge(arriving, lead.start)
        graph.add_edge(lead.start, lead.end)
        arriving = lead.end
    return graph


@pytest.mark.parametrize("path", DEMOS, ids=lambda path: path.stem)
def test_the_signal_reaches_the_amp_by_one_way_through_every_pedal(path: Path) -> None:
    """With all loops in, the graph is one path from the guitar to the amp's last jack.

    Reference: networkx shortest path and acyclicity.
    """
    made = rig_from_data(tomllib.loads(path.read_text(encoding="utf-8")))
    graph = signal_graph(leads(made))
    assert networkx.is_directed_acyclic_graph(graph)
    way = networkx.shortest_path(graph, Jack(GUITAR, "output"), Jack(AMP, "return"))
    assert len(way) == graph.number_of_nodes()
    assert {jack.box for jack in way} >= {p.id for p in made.pedals} | {SWITCHER}
