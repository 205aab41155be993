"""The cutting plan: which lead comes off which reel or offcut, with the least waste.

Waste is what is trimmed off each length that is begun, what the cuts take (one for each lead), and
each rest too short to keep. Of plans with equal waste the one that begins the least cable wins:
offcuts before reels.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from rigtui.bench.patterns import NODES, Stock, best_patterns
from rigtui.model import Rig

TENTHS = 10
"""Lengths are counted in tenths of a millimetre."""


@dataclass(frozen=True, slots=True)
class Cut:
    """What one reel or offcut is cut into."""

    stock: str
    """What it is called."""
    length_mm: float
    """Cable on it before."""
    pieces: tuple[tuple[int, float], ...]
    """The number of each lead cut off it, and its length; the longest first."""
    rest_mm: float
    """What is left of it."""
    kept: bool
    """Whether the rest is long enough to keep."""
    row: int
    """Its place among the reels, from 0."""


@dataclass(frozen=True, slots=True)
class CutPlan:
    """All cuts, and how good they are."""

    cuts: tuple[Cut, ...]
    missing: tuple[tuple[int, float], ...]
    """Leads that nothing at hand is long enough for."""
    waste_mm: float
    bound_mm: float
    """No plan has less waste."""

    @property
    def proved(self) -> bool:
        """Whether no plan has less waste."""
        return self.waste_mm <= self.bound_mm + 1e-6


def cut_plan(rig: Rig, lengths: Sequence[tuple[int, float]], nodes: int = NODES) -> CutPlan:
    """Cut leads from the cable at hand.

    Args:
        rig: The rig with its reels.
        lengths: Number and length in millimetres of each lead to cut.
        nodes: How many steps the search may take before it settles for the best so far.

    Returns:
        The plan. Where the cable at hand is too little, the longest leads that fit are cut and
        the others are missing.
    """
    bench = rig.bench
    kerf, trim, keep = (round(mm * TENTHS) for mm in (bench.kerf_mm, bench.trim_mm, bench.keep_mm))
    stocks = [
        Stock(max(0, floor(reel.left_mm * TENTHS + 1e-6) - trim), reel.count, at)
        for at, reel in enumerate(rig.reels)
    ]
    wanted = sorted(lengths, key=lambda lead: (-lead[1], lead[0]))
    sizes = [round(length * TENTHS) + kerf for _, length in wanted]
    longest = max((stock.room for stock in stocks), default=-1)
    cut = [at for at, size in enumerate(sizes) if size <= longest]
    while (cutting := best_patterns([sizes[at] for at in cut], stocks, keep, trim, nodes)) is None:
        cut.pop(0)  # the longest gives way
    waiting: dict[int, list[int]] = {}
    for at in cut:
        waiting.setdefault(sizes[at], []).append(at)
    cuts = []
    for stock, pattern in cutting.patterns:
        reel = rig.reels[stock.row]
        rest = stock.room - sum(pattern)
        cuts.append(
            Cut(
                reel.name or f"cable {stock.row + 1}",
                reel.left_mm,
                tuple(wanted[waiting[size].pop(0)] for size in pattern),
                rest / TENTHS,
                rest >= keep and rest > 0,
                stock.row,
            )
        )
    gone = set(cut)
    missing = tuple(lead for at, lead in enumerate(wanted) if at not in gone)
    kerfs = kerf * len(cut)
    waste, bound = ((figure + kerfs) / TENTHS for figure in (cutting.waste, cutting.bound))
    return CutPlan(tuple(cuts), missing, waste, bound)
