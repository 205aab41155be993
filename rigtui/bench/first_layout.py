"""A first layout: give each device without a place one, to move from there.

The switcher stands in front, where the feet are; pedals behind it in rows from right to left, the
way the signal goes, with room for plugs between them. Source: common practice.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.bench.layout import Device, Layout, Outline, layout_of
from rigtui.chain.graph import SWITCHER
from rigtui.model import Rig
from rigtui.model.edits.bench import set_place
from rigtui.model.layout import FURTHEST_MM
from rigtui.model.lookup import lookup

WIDE_MM = 800.0
"""Width of a board to lay out on where it is not known. Source: common practice."""
GAPS_MM = (40.0, 34.0, 28.0)
"""Between two devices: two flat plugs and their cables, on a small board only the plugs.
Source: common practice."""
BEHIND_MM = 60.0
"""Behind the switcher's row of jacks: a narrow plug and the cable's bend."""
EDGE_MM = 15.0


def place_all(rig: Rig) -> Rig:
    """Give each device of the chain that has no place one; the others stay where they are."""
    layout = layout_of(rig)
    order = [SWITCHER, *lookup(rig).order]
    missing = [layout.devices[name] for name in order
               if name in layout.devices and layout.devices[name].place is None]  # fmt: skip
    return _placed(rig, layout, missing)


def _placed(rig: Rig, layout: Layout, missing: list[Device]) -> Rig:
    """Give devices places: as the signal goes with much room, or else as they fit on the board."""
    deepest = sorted(missing, key=lambda device: (device.name != SWITCHER, -device.depth))
    usual = _spots(layout, missing, GAPS_MM[0])
    for device, x, y in next(
        (
            spots
            for order in (missing, deepest)
            for gap in GAPS_MM
            if _on_board(layout, spots := _spots(layout, order, gap))
        ),
        usual,
    ):
        rig = set_place(rig, device.name, x_mm=x, y_mm=y)
    return rig


def _on_board(layout: Layout, spots: list[tuple[Device, float, float]]) -> bool:
    board = layout.board
    return board is None or all(
        x + device.width <= board.right and y + device.depth <= board.back for device, x, y in spots
    )


def _spots(layout: Layout, missing: list[Device], gap: float) -> list[tuple[Device, float, float]]:
    """A spot for each device, with a gap round it."""
    taken = {device.name: device.outline for device in layout.placed}
    width = layout.board.right if layout.board else WIDE_MM
    spots = []
    for device in missing:
        x, y = _spot(device, taken, width, gap)
        taken[device.name] = _outline(device, x, y)
        spots.append((device, x, y))
    return spots


def _spot(
    device: Device, taken: dict[str, Outline], width: float, gap: float
) -> tuple[float, float]:
    """The first free spot from the front right corner on; where the board is full, behind it.

    What is there may reach further back than a place may lie: then it is put as far as may be, on
    something else perhaps, and a finding says so.
    """
    if device.name == SWITCHER:
        spot = (max(0.0, (width - device.width) // 20 * 10), 0.0)
        if not any(_outline(device, *spot).overlaps(other) for other in taken.values()):
            return spot
    kept = [
        box.grown(gap)._replace(back=box.back + (BEHIND_MM if name == SWITCHER else gap))
        for name, box in taken.items()
    ]
    rows = sorted({0.0, *(min(box.back, FURTHEST_MM) for box in kept)})
    for y in rows:
        for x in _free(device, kept, y, width):
            return x, y
    return 0.0, rows[-1]


def _free(device: Device, kept: list[Outline], y: float, width: float) -> Iterator[float]:
    """Free spots of a row, from right to left."""
    x = width - EDGE_MM - device.width
    while x >= 0:
        lies = _outline(device, x, y)
        met = [box.left for box in kept if box.overlaps(lies)]
        if not met:
            yield x
            return
        x = min(met) - device.width


def _outline(device: Device, x: float, y: float) -> Outline:
    return Outline(x, y, x + device.width, y + device.depth)
