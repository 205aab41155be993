"""Signal order: what stands before what, which leads that takes, and how long echoes ring on."""

from __future__ import annotations

from rigtui.chain.order import Chain, chain_of

__all__ = ["Chain", "chain_of"]
