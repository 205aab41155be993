"""The signal graph against a walk of the file that shares no code with it, and against networkx."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from pathlib import Path

import networkx
import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import Data, loop, make_data, pedal, preset, switcher

from rigtui.chain import SignalGraph, graph_of
from rigtui.chain.graph import AMP, GUITAR, TUNER_OUT, Jack
from rigtui.model import rig_from_data
from rigtui.model.lookup import lookup
from rigtui.store.demos import demo_paths
from rigtui.store.load import load


@st.composite
def boards(draw: st.DrawFn) -> Data:
    """Plain data of a board: up to twelve pedals, each in a loop, outside or left over."""
    count = draw(st.integers(0, 12))
    places = [draw(st.sampled_from(("out", "out", 1, 2, 3, 4, 5, "home"))) for _ in range(count)]
    sides = {number: draw(st.sampled_from(("front", "fx"))) for number in range(1, 6)}
    pedals, inside, chain = [], {number: [] for number in sides}, {"front": [], "fx": []}
    for at, place in enumerate(places):
        side = sides[place] if isinstance(place, int) else draw(st.sampled_from(("front", "fx")))
        used = draw(st.sampled_from(("foot", "always"))) if place == "out" else "foot"
        pedals.append(pedal(f"p{at}", "overdrive", side, use="home" if place == "home" else used))
        if place == "out":
            chain[side].append(f"p{at}")
        elif isinstance(place, int):
            inside[place].append(f"p{at}")
    for number, side in sides.items():
        chain[side].append(number)
    chain = {side: draw(st.permutations(items)) for side, items in chain.items()}
    return make_data(
        switcher=switcher(between_loops=True),
        pedals=pedals,
        loops=[loop(number, *inside[number], side=side) for number, side in sides.items()],
        chain=chain,
        presets=[preset("sound", *draw(st.sets(st.sampled_from(range(1, 6)))))],
    )


def heard(data: Data, side: str, on: set[int]) -> Iterator[str]:
    """Pedals that the signal goes through on a side, read off the file."""
    inside = {row["number"]: row.get("pedals", []) for row in data["loops"]}
    for item in data["chain"].get(side, ()):
        if isinstance(item, str):
            yield item
        elif item in on:
            yield from inside[item]


def boxes(graph: SignalGraph, on: set[int]) -> list[str]:
    """Pedals on the way of a sound, once each."""
    return [step.edge.start.box for step in graph.way((), on) if step.edge.kind == "pedal"]


@examples(80)
@given(boards())
def test_way_order_and_leads_are_those_of_the_file(data: Data) -> None:
    """The way, the order of all pedals and the number of leads, walked from the file alone.

    Leads by the trade's count: 2 for each loop in use, one more for each further pedal in it, and
    the joints along the outside chain (common practice).
    """
    graph = graph_of(rig_from_data(data))
    on = set(data["presets"][0].get("loops", ()))
    chain, every = data["chain"], set(range(1, 6))
    assert boxes(graph, on) == [*heard(data, "front", on), *heard(data, "fx", on)]
    in_order = [*heard(data, "front", every), *heard(data, "fx", every)]
    assert sorted(graph.places, key=graph.places.__getitem__) == in_order
    assert [graph.before_amp(name) for name in in_order] == [
        name in list(heard(data, "front", every)) for name in in_order
    ]
    in_loops = sum(len(row["pedals"]) + 1 for row in data["loops"] if row.get("pedals"))
    joints = 0
    for side in ("front", "fx"):
        items = chain.get(side, ())
        runs = sum(
            isinstance(item, int) and (not at or isinstance(items[at - 1], str))
            for at, item in enumerate(items)
        )
        devices = sum(isinstance(item, str) for item in items) + runs
        joints += devices + 1 if devices or side == "front" else 0
    assert len(graph.leads) == in_loops + joints


@examples(40)
@given(boards())
def test_a_way_is_a_path_without_gaps(data: Data) -> None:
    """Each edge begins where the one before ends; with every loop in, no shorter way is left.

    Reference: networkx, shortest path in the graph without the ways past loops in use.
    """
    graph = graph_of(rig_from_data(data))
    steps = graph.way((), range(1, 6))
    for before, after in itertools.pairwise(steps):
        assert before.edge.end == after.edge.start
    filled = {edge.number for edge in graph.edges if edge.kind == "send"}
    joined = networkx.DiGraph()
    joined.add_edges_from(
        (edge.start, edge.end)
        for edge in graph.edges
        if edge.kind != "straight" or edge.number not in filled
    )
    assert networkx.is_directed_acyclic_graph(joined)
    end = Jack(AMP, "return" if data["chain"]["fx"] else "input")
    way = networkx.shortest_path(joined, Jack(GUITAR, "output"), end)
    assert way == [steps[0].edge.start, *(step.edge.end for step in steps)]


@pytest.mark.parametrize("path", demo_paths(), ids=lambda path: path.stem)
def test_a_section_goes_through_what_is_heard_in_it(path: Path) -> None:
    """On the demos: what is engaged on a section's way is its sound, no more and no less."""
    _, rig = load(path)
    tables, graph = lookup(rig), graph_of(rig)
    for song in rig.songs:
        for section in song.sections:
            if section.preset is None:
                continue
            sound = tables.sound(section)
            loops = {tables.loop_of[name] for name in sound if name in tables.loop_of}
            engaged = [
                step.edge.start.box
                for step in graph.way(sound, loops)
                if step.edge.kind == "pedal" and step.engaged
            ]
            assert engaged == list(sound)


def test_a_tuner_on_the_switchers_own_jack() -> None:
    """It takes a lead and stands in nobody's way; a tuner in the chain needs no such jack."""
    parts: Data = {
        "pedals": [pedal("tuner", "tuner"), pedal("drive")],
        "loops": [loop(1, "drive")],
        "switcher": switcher(tuner_out=True),
    }
    graph = graph_of(rig_from_data(make_data(**parts, chain={"front": [1]})))
    assert [(lead.start, lead.end) for lead in graph.leads][-1] == (TUNER_OUT, Jack("tuner", "in"))
    assert boxes(graph, {1}) == ["drive"]
    assert "tuner" not in graph.places
    graph = graph_of(rig_from_data(make_data(**parts, chain={"front": ["tuner", 1]})))
    assert all(edge.kind != "tap" for edge in graph.edges)
    assert boxes(graph, set()) == ["tuner"]


def test_leads_are_numbered_from_the_guitar() -> None:
    """Numbers follow the signal; those to guitar and amp are long."""
    _, rig = load(demo_paths()[0])
    leads = graph_of(rig).leads
    assert [lead.number for lead in leads] == list(range(1, len(leads) + 1))
    long = [(lead.start, lead.end) for lead in leads if lead.long]
    assert [jack for ends in long for jack in ends if jack.box in (GUITAR, AMP)] == [
        Jack(GUITAR, "output"), Jack(AMP, "input"), Jack(AMP, "send"), Jack(AMP, "return"),
    ]  # fmt: skip
