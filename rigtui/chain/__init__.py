"""The signal graph: what stands before what, which leads it takes, and how long echoes last."""

from __future__ import annotations

from rigtui.chain.graph import SignalGraph, graph_of

__all__ = ["SignalGraph", "graph_of"]
