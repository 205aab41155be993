"""The signal graph: the order of pedals and loops, the leads between them, and how long echoes
last.
"""

from __future__ import annotations

from rigtui.chain.graph import SignalGraph, graph_of

__all__ = ["SignalGraph", "graph_of"]
