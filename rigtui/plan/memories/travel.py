"""Where on the row of footswitches each preset of a bank stands, so that the foot travels least.

Only changes within a bank count: between banks the foot goes by way of the bank buttons. Travel
is counted in switches passed; a switch that holds no preset is passed like any other.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np

from rigtui.plan.ask.control import Control
from rigtui.plan.memories.banks import Ints

_MOST_EXACT = 11
"""Presets in a bank up to which all orders are compared."""


def travel_of(weight: Ints, places: Sequence[int]) -> int:
    """Switches that the foot passes, for presets at these places."""
    at = np.asarray(places, dtype=np.int64)
    return int((np.triu(weight, 1) * np.abs(at[:, None] - at[None, :])).sum()) if len(at) else 0


def best_places(
    weight: Ints,
    switches: int,
    pins: dict[int, int],
    old: Sequence[int | None],
    control: Control | None = None,
) -> tuple[tuple[int, ...], int, bool]:
    """Arrange the presets of one bank.

    A dynamic programme over sets, as for the minimum linear arrangement: filling the switches
    from the left, each step costs the changes between what stands there already and what does
    not. Among equals, the most presets stay where they are.

    Args:
        weight: Changes between two presets, either way.
        switches: Footswitches of the bank, at least as many as presets.
        pins: Switch, from 0, that a preset must have.
        old: Switch, from 0, that it has now.
        control: Ends the search; the places are then as good as was found in the time.

    Returns:
        The switch of each preset, the travel, and whether that is proved least.
    """
    n = len(weight)
    control = control or Control()
    places = None if n > _MOST_EXACT else _exactly(weight, switches, pins, old, control)
    proved = places is not None
    if places is None:
        places = _by_swapping(weight, switches, pins, old, control)
    return places, travel_of(weight, places), proved


def _exactly(
    weight: Ints,
    switches: int,
    pins: dict[int, int],
    old: Sequence[int | None],
    control: Control,
) -> tuple[int, ...] | None:
    n = len(weight)
    scale = n + 1  # one switch of travel outweighs all presets that could stay where they are
    moved = [[int(old[preset] != at) for at in range(switches)] for preset in range(n)]
    cuts = _cuts(weight)
    layer: dict[int, tuple[int, tuple[int, ...]]] = {0: (0, ())}
    pinned = {at: preset for preset, at in pins.items()}
    for at in range(switches):
        ahead: dict[int, tuple[int, tuple[int, ...]]] = {}
        room = switches - at - 1
        for nth, (mask, (cost, row)) in enumerate(layer.items()):
            if nth % 128 == 0 and control.over:
                return None
            choices: list[int | None] = [pinned[at]] if at in pinned else [
                None,
                *(nth for nth in range(n) if not mask >> nth & 1 and nth not in pins),
            ]  # fmt: skip
            for preset in choices:
                new = mask if preset is None else mask | 1 << preset
                if n - new.bit_count() > room:
                    continue
                price = cost + scale * cuts[new] + (0 if preset is None else moved[preset][at])
                if new not in ahead or price < ahead[new][0]:
                    ahead[new] = (price, (*row, -1 if preset is None else preset))
        layer = ahead
    row = layer[(1 << n) - 1][1]
    return tuple(row.index(preset) for preset in range(n))


def _cuts(weight: Ints) -> list[int]:
    n = len(weight)
    rows = weight.tolist()
    cuts = [0] * (1 << n)
    for mask in range(1, 1 << n):
        low = (mask & -mask).bit_length() - 1
        rest = mask & (mask - 1)
        inside = sum(rows[low][preset] for preset in range(n) if rest >> preset & 1)
        cuts[mask] = cuts[rest] + sum(rows[low]) - rows[low][low] - 2 * inside
    return cuts


def _by_swapping(
    weight: Ints,
    switches: int,
    pins: dict[int, int],
    old: Sequence[int | None],
    control: Control,
) -> tuple[int, ...]:
    """Exchange places as long as that helps, and there is time."""
    n = len(weight)
    places: list[int] = [-1] * n
    for preset, at in pins.items():
        places[preset] = at
    for preset in range(n):
        wish = old[preset]
        if places[preset] < 0:
            free = [at for at in range(switches) if at not in places]
            places[preset] = wish if wish is not None and wish in free else free[0]
    best = travel_of(weight, places)
    better = True
    while better:
        better = False
        for a, b in itertools.combinations(
            [preset for preset in range(n) if preset not in pins], 2
        ):
            if control.over:
                return tuple(places)
            places[a], places[b] = places[b], places[a]
            now = travel_of(weight, places)
            if now < best:
                best, better = now, True
            else:
                places[a], places[b] = places[b], places[a]
    return tuple(places)
