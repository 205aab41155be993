"""How soon the bench answers: all leads of a board laid and cut, as boards grow.

Target: 14 pedals and 10 loops within a second; measured for two orders of magnitude above the
smallest. Seconds of the processor.
"""

from __future__ import annotations

import time

import pytest
from benchmarks.test_screen_speed import told
from rigs_made import loop, make_rig, pedal, switcher

from rigtui.bench.first_layout import place_all
from rigtui.bench.leads import leads_of
from rigtui.bench.words import cut_rows
from rigtui.model import Rig


def board(pedals: int, loops: int) -> Rig:
    """Pedals in loops, the others outside, placed in rows."""
    ids = [f"p{at}" for at in range(pedals)]
    return place_all(
        make_rig(
            switcher=switcher(), pedals=[pedal(id) for id in ids],
            loops=[loop(at + 1, ids[at]) for at in range(loops)],
            chain={"front": [*ids[loops:], *range(1, loops + 1)]},
            reels=[{"left_mm": 900_000}],
        )
    )  # fmt: skip


@pytest.mark.parametrize(
    ("pedals", "loops", "most"),
    [(2, 1, 0.05), (14, 10, 0.3), (40, 30, 1), (100, 60, 5), (200, 99, 20)],
)
def test_leads_laid_and_cut(pedals: int, loops: int, most: float) -> None:
    """From the layout to the cutting list, nothing remembered."""
    rig = board(pedals, loops)
    begun = time.process_time()
    assert len(leads_of(rig)) >= 2 * loops
    assert list(cut_rows(rig))
    taken = time.process_time() - begun
    told(f"{pedals} pedals, {loops} loops: laid and cut", [taken])
    assert taken < most
