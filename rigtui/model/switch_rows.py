"""The footswitches as they stand before the player: row by row, with what each recalls."""

from __future__ import annotations

from rigtui.model.banks import Spot
from rigtui.model.rig import Rig
from rigtui.model.text import visible

EMPTY = "-"
"""What a switch recalls where its memory holds no preset."""
_IN_A_ROW = 6
"""More switches than that go in rows of about equal length."""


def switch_rows(rig: Rig, only: int | None = None) -> list[list[tuple[str, str]]]:
    """The switches of the banks that hold something: where each is, and what it recalls.

    Args:
        rig: The rig.
        only: The bank, from 0; None for all.

    Returns:
        Rows of switches: "2/3", or with one bank "3", and the preset's name, or `EMPTY`.
    """
    switcher = rig.switcher
    if switcher is None:
        return []
    held: dict[Spot, str] = {}
    for preset in rig.presets:
        for memory in preset.memories:
            if 1 <= memory <= switcher.memories:
                held.setdefault(switcher.spot(memory), visible(preset.label))
    rows = []
    for bank, room in enumerate(switcher.rooms):
        spots = [Spot(bank, switch) for switch in range(room)]
        if only not in (None, bank) or not any(spot in held for spot in spots):
            continue
        switches = [
            (str(spot) if switcher.banks > 1 else str(spot.switch + 1), held.get(spot, EMPTY))
            for spot in spots
        ]
        length = -(-room // -(-room // _IN_A_ROW))
        rows += [switches[start : start + length] for start in range(0, room, length)]
    return rows
