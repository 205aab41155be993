"""Names of new presets: each tells its preset from all others on the switcher's display."""

from __future__ import annotations

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, song, switcher

from rigtui.plan.whole.loops import plan_loops


@pytest.mark.parametrize(
    ("chars", "other", "new"),
    [
        (None, "Dry", "Wide choru 2"),
        (8, "Dry", "Wide c 2"),
        (8, "Wide c 2b", "Wide c 3"),
        (8, "Wide c 2", "Wide c 3"),
        (8, "Wide c", "Wide c 2"),
        (2, "Dry", "W 2"),
    ],
)
def test_a_new_preset_is_shown_like_no_other(chars: int | None, other: str, new: str) -> None:
    """Boost goes in a loop, so Wide chorus becomes two presets; the display shows their starts."""
    more = {} if chars is None else {"display_chars": chars}
    both = section("wide", plus=["boost"])
    rig = make_rig(
        switcher=switcher(4, 4, **more),
        pedals=[pedal("boost", "boost"), pedal("wide", "modulation")],
        loops=[loop(1, "wide"), loop(2)],
        chain={"front": ["boost", 1, 2], "fx": []},
        presets=[preset("wide", 1, name="Wide chorus", memory=1), preset("dry", name=other)],
        songs=[song("a", "wide", "dry", both, "dry", both, "wide", "dry", "wide", both)],
    )
    plan = plan_loops(rig)
    assert plan.rig is not None
    names = {row.name for row in plan.rig.presets}
    assert names == {"Wide chorus", other, new}
