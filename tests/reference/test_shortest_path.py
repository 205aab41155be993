"""Counts of moves against shortest paths that networkx finds in the graph of all states.

The graph is written out in full: a node for every state of the board that presses can reach, an
edge for every single press (tests/moves/oracle.py names them), one layer of nodes for each
section. Source of the algorithm: networkx, `dijkstra_path_length`.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import networkx as nx
import pytest
from examples import examples
from hypothesis import HealthCheck, given, settings
from moves import oracle
from moves.rigs_drawn import Data, rigs

from rigtui.model import rig_from_data
from rigtui.moves import count_setlist, count_song

RIGS = sorted((Path(__file__).parents[2] / "rigs").glob("*.toml"))


def layered_graph(data: Data, song: Data) -> tuple[nx.DiGraph, Any, str]:
    """Every state in every change of a song; the way out of a change is where it sounds right."""
    machine = oracle.Machine(data)
    rows = map(machine.wanted, song["sections"][1:])
    sections = [wanted for wanted in rows if wanted is not None]
    start = (0, False, machine.start(song))
    graph = nx.DiGraph()
    graph.add_node(start)
    pending, end = [start], "end"
    while pending:
        node = pending.pop()
        at, recalled, state = node
        if at == len(sections):
            graph.add_edge(node, end, weight=0)
            continue
        onward = [
            ((at, recalled or press.kind == "recall", press.after), 1)
            for press in machine.presses(state)
            if not (recalled and press.kind == "recall")
        ]
        if machine.sounds(sections[at], state):
            onward.append(((at + 1, False, state), 0))
        for there, weight in onward:
            if there not in graph:
                pending.append(there)
            graph.add_edge(node, there, weight=weight)
    return graph, start, end


def check(data: Data) -> None:
    rig = rig_from_data(data)
    for song, row in zip(rig.songs, data["songs"], strict=True):
        graph, start, end = layered_graph(data, row)
        assert count_song(rig, song).least_moves == nx.dijkstra_path_length(graph, start, end)


@examples(50)
@given(
    rigs(
        most_loops=2, most_presets=3, most_sections=4, most_songs=1, most_outside=1, most_memories=6
    )
)
def test_least_moves(data: Data) -> None:
    """Least moves are the length of the shortest path that networkx finds."""
    check(data)


@pytest.mark.long
@settings(max_examples=1500, suppress_health_check=list(HealthCheck))
@given(rigs(most_loops=3, most_presets=4, most_sections=5, most_songs=1, most_outside=1))
def test_least_moves_thoroughly(data: Data) -> None:
    """The same as test_least_moves, on more and larger rigs."""
    check(data)


@pytest.mark.parametrize("file", RIGS, ids=lambda file: file.stem)
def test_demo_rigs(file: Path) -> None:
    """Every figure of the demo rigs' songs and setlists is the independent search's too."""
    data = tomllib.loads(file.read_text(encoding="utf-8"))
    rig = rig_from_data(data)
    for song, row in zip(rig.songs, data["songs"], strict=True):
        counted, expected = count_song(rig, song), oracle.count_song(data, row)
        assert [change.moves for change in counted.changes] == [
            change["moves"] for change in expected["changes"]
        ]
        assert counted.on_the_beat_worst == expected["on_the_beat_worst"]
        assert counted.hand_moves == expected["hand_moves"]
    for setlist, row in zip(rig.setlists, data["setlists"], strict=True):
        night = count_setlist(rig, setlist)
        expected = oracle.count_setlist(data, row)
        assert {key: getattr(night, key) for key in expected} == expected


def test_there_are_demo_rigs() -> None:
    """The demo rigs are where the test above looks for them."""
    assert RIGS
