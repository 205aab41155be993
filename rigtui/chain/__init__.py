"""Signal order: what stands before what."""

from __future__ import annotations

from rigtui.chain.order import Chain, chain_of

__all__ = ["Chain", "chain_of"]
