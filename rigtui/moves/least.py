"""Least moves: the fewest presses with which every section of a song sounds right.

A shortest path over the layered graph of (bank shown, loops on, amp channel), one layer for each
section, kept as a table of the cheapest way into each state. Three facts keep it small and exact:

- Outside pedals, and a channel with a footswitch of its own, meet nothing else: each costs one
  press for every change of what is required of it, whatever the presets do.
- A toggle can wait until a section requires it: done earlier it costs the same, and a recall in
  between would have thrown it away.
- Bank steps can wait until the recall that needs them.

Where a board leaves very many ways open, `least_wide` takes the same path by stretches.
"""

from __future__ import annotations

from collections.abc import Sequence

from rigtui.moves.board import Board, Stored, Target
from rigtui.moves.figures import State
from rigtui.moves.machine import set_up_on

_Key = tuple[int, int, str | None]
_Fit = tuple[Stored, int, int]
"""A preset that can sound right, its presses with the recall, and the loops then on."""
_CROWD = 48
"""States in a layer above which hopeless ones are looked for."""
PATIENCE = 1000, 100
"""Ways tried in a song, and for each of its sections, before it is counted by stretches."""


def least_moves(board: Board, targets: Sequence[Target | None]) -> int:
    """Return the fewest presses for a song that starts set up on its first section.

    Args:
        board: The rig's board.
        targets: What each section asks for; None where it names no preset that exists.
    """
    first = targets[0] if targets else None
    start = set_up_on(board, first)
    wanted = [target for target in targets[1:] if target is not None]
    moves = _outside_moves(start.outside, wanted)
    if board.foot_channel:
        moves += _channel_moves(start.channel, wanted)
    required = [None if board.foot_channel else target.preset.channel for target in wanted]
    least = None if board.crowded else _by_layers(board, start, wanted, required)
    if least is None:
        from rigtui.moves.least_wide import least_by_stretches

        board.crowded = True
        least = least_by_stretches(board, start, wanted, required)
    return moves + least


def _by_layers(
    board: Board, start: State, wanted: Sequence[Target], required: Sequence[str | None]
) -> int | None:
    """Return the fewest bank steps, recalls and toggles of loops; None if that takes too long."""
    layer: dict[_Key, int] = {(start.bank, start.mask, start.channel): 0}
    known: dict[tuple[int, int], list[_Fit]] = {}
    patience = PATIENCE[0] + PATIENCE[1] * len(wanted)
    for target, channel in zip(wanted, required):
        sound = (target.mask & target.fixed, target.fixed)
        fits = known.get(sound)
        if fits is None:
            patience -= len(board.choices)
            fits = known[sound] = _fits(board, target)
        cheapest = _cheapest(layer)
        patience -= len(layer) + len(fits) * len(cheapest)
        if patience < 0:
            return None
        layer = _next_layer(board, layer, cheapest, target, channel, fits)
    return min(layer.values())


def _outside_moves(on: int, wanted: Sequence[Target]) -> int:
    moves = 0
    for target in wanted:
        wrong = (on ^ target.outside) & target.outside_fixed
        moves += wrong.bit_count()
        on ^= wrong
    return moves


def _channel_moves(channel: str | None, wanted: Sequence[Target]) -> int:
    moves = 0
    for target in wanted:
        if target.preset.channel is not None and target.preset.channel != channel:
            channel = target.preset.channel
            moves += 1
    return moves


def _fits(board: Board, target: Target) -> list[_Fit]:
    """The presets with which a section can be made to sound right."""
    fits = []
    for stored in board.choices:
        wrong = (stored.mask ^ target.mask) & target.fixed
        if board.toggling or not wrong:
            fits.append((stored, 1 + wrong.bit_count(), stored.mask ^ wrong))
    return fits


def _cheapest(layer: dict[_Key, int]) -> dict[tuple[int, str | None], int]:
    """The cheapest way to each bank and channel: what loops were on, a recall forgets."""
    cheapest: dict[tuple[int, str | None], int] = {}
    for (bank, _, channel), cost in layer.items():
        if cost < cheapest.get((bank, channel), 1 << 60):
            cheapest[bank, channel] = cost
    return cheapest


def _next_layer(
    board: Board,
    layer: dict[_Key, int],
    cheapest: dict[tuple[int, str | None], int],
    target: Target,
    required: str | None,
    fits: list[_Fit],
) -> dict[_Key, int]:
    """Return the cheapest way into each state in which the section sounds right."""
    ahead: dict[_Key, int] = {}
    for (bank, mask, channel), cost in layer.items():
        wrong = (mask ^ target.mask) & target.fixed
        if (wrong and not board.toggling) or (required is not None and channel != required):
            continue
        key, total = (bank, mask ^ wrong, channel), cost + wrong.bit_count()
        if total < ahead.get(key, 1 << 60):
            ahead[key] = total
    for stored, presses, mask in fits:
        for (bank, channel), cost in cheapest.items():
            if not board.foot_channel and stored.channel is not None:
                channel = stored.channel
            if required is not None and channel != required:
                continue
            there = bank if stored.bank is None else stored.bank
            key = (there, mask, channel)
            total = cost + board.steps[bank][there] + presses
            if total < ahead.get(key, 1 << 60):
                ahead[key] = total
    return _without_hopeless(ahead) if len(ahead) > _CROWD else ahead


def _without_hopeless(layer: dict[_Key, int]) -> dict[_Key, int]:
    """Drop states that a cheaper one of the same bank and channel makes up for.

    With loop switches that one gets there by toggling. Without, it was one recall in this bank
    that made the dropped state, and the same recall makes it again at the next change, for one
    press, if by then it is still wanted.
    """
    ranked = sorted(layer.items(), key=lambda item: item[1])
    leaders = ranked[:16]
    kept = {}
    for key, cost in ranked:
        bank, mask, channel = key
        for (bank_, mask_, channel_), cost_ in leaders:
            if cost_ >= cost:
                kept[key] = cost
                break
            same = bank_ == bank and channel_ == channel
            if same and cost_ + (mask ^ mask_).bit_count() <= cost:
                break
        else:
            kept[key] = cost
    return kept
