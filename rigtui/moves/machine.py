"""The state machine of feet and switcher: one step takes it from a sound to the next as written.

Source of the rules: the rig file's own definition of a move, docs/rig-file.md, "Counting moves".
"""

from __future__ import annotations

from typing import NamedTuple

from rigtui.moves.board import NO_WAITING, Board, Target, Waiting
from rigtui.moves.figures import State
from rigtui.moves.press import Press, Presses, bank_presses


class Step(NamedTuple):
    """One change as written."""

    state: State
    presses: Presses


def power_on(board: Board) -> State:
    """Bank 1, nothing recalled, all outside pedals off, the amp's first channel."""
    return State(channel=board.first_channel)


def set_up_on(board: Board, target: Target | None) -> State:
    """The state in which a song starts: already set up on its first section."""
    if target is None:
        return power_on(board)
    stored = board.nearest(target.preset.place, 0)
    return State(
        bank=stored.bank or 0,
        preset=stored.place,
        mask=target.mask,
        outside=target.outside,
        channel=stored.channel or board.first_channel,
    )


def step(board: Board, state: State, target: Target | None, waiting: Waiting = NO_WAITING) -> Step:
    """Make the fewest presses that end with the section's own preset and all that goes with it.

    Args:
        board: The rig's board.
        state: Where feet and switcher are.
        target: The section entered; None (no preset to be had) leaves the state as it is.
        waiting: Outside pedals that need not be switched at the change itself.
    """
    if target is None:
        return Step(state, ())
    stored = board.nearest(target.preset.place, state.bank)
    bank = state.bank if stored.bank is None else stored.bank
    way = board.ring.way(state.bank, bank)
    after_recall = stored.mask ^ target.mask
    stays = state.preset == stored.place
    toggles = state.mask ^ target.mask
    presses: list[Press] = []
    channel = state.channel
    if stays and toggles.bit_count() <= way[0] + 1 + after_recall.bit_count():
        bank = state.bank
    else:
        presses = [*bank_presses(way), Press("switch", stored.switch)]
        toggles = after_recall
        if not board.foot_channel and stored.channel is not None:
            channel = stored.channel
    if toggles:
        presses += [Press("loop", number) for number in board.names(toggles)]
    if state.outside != target.outside:
        presses += board.pedal_presses(state.outside ^ target.outside, waiting)
    if board.foot_channel and stored.channel is not None and stored.channel != channel:
        channel = stored.channel
        presses.append(Press("channel", channel))
    return Step(State(bank, stored.place, target.mask, target.outside, channel), tuple(presses))
