"""Edits of pedals, loops, chain, amp and switcher. Each takes a Rig and returns a new one."""

from __future__ import annotations

from typing import Any, Literal

from rigtui.model.base import SIDES, Side
from rigtui.model.edits.tables import changed, made, place_of, swapped_in, with_table
from rigtui.model.errors import EditError
from rigtui.model.rig import Rig, Switcher
from rigtui.model.validate import switcher_fault


def set_pedal(rig: Rig, pedal_id: str, **fields: Any) -> Rig:
    """Change keys of a pedal: name, kind, side, use, delay_ms, ..."""
    at = place_of(rig.pedals, pedal_id, "pedal")
    row = changed(rig.pedals[at], **fields)
    return with_table(rig, "pedals", swapped_in(rig.pedals, at, row))


def set_loop(rig: Rig, number: int, **fields: Any) -> Rig:
    """Change keys of a loop: side, pedals."""
    for at, loop in enumerate(rig.loops):
        if loop.number == number:
            rows = swapped_in(rig.loops, at, changed(loop, **fields))
            return with_table(rig, "loops", rows)
    raise EditError(f"there is no loop {number}")


def set_amp(rig: Rig, **fields: Any) -> Rig:
    """Change keys of the amp."""
    return changed(rig, amp=changed(rig.amp, **fields))


def set_switcher(rig: Rig, **fields: Any) -> Rig:
    """Change keys of the switcher; where the rig has none it gets one of these.

    Raises:
        EditError: a value that no switcher can have, or one that is needed is not given.
    """
    old = rig.switcher
    switcher = made(Switcher, **fields) if old is None else changed(old, **fields)
    fault = switcher_fault(switcher.model_dump())
    if fault is not None:
        raise EditError(": ".join(fault))
    return changed(rig, switcher=switcher)


def set_player(rig: Rig, **fields: Any) -> Rig:
    """Change the player's own figures."""
    return changed(rig, player=changed(rig.player, **fields))


def set_chain(rig: Rig, side: Side, items: tuple[int | str, ...]) -> Rig:
    """Replace the signal order of one side."""
    return changed(rig, chain=changed(rig.chain, **{side: items}))


def take_from_chain(rig: Rig, item: int | str) -> Rig:
    """Take a pedal or loop out of the chain, wherever it stands."""
    for side in SIDES:
        items: tuple[int | str, ...] = getattr(rig.chain, side)
        if item in items:
            rig = set_chain(rig, side, tuple(other for other in items if other != item))
    return rig


def put_in_chain(
    rig: Rig, item: int | str, side: Side, where: Literal["before", "after"] = "after"
) -> Rig:
    """Put a pedal or loop in the chain, before or after everything that stands on its side.

    A loop goes next to the side's other loops, so that no outside pedal comes to stand between.
    """
    items: tuple[int | str, ...] = getattr(rig.chain, side)
    if isinstance(item, int):
        loops = [at for at, other in enumerate(items) if isinstance(other, int)]
        place = (loops[-1] + 1) if loops else len(items)
    else:
        place = 0 if where == "before" else len(items)
    return set_chain(rig, side, (*items[:place], item, *items[place:]))
