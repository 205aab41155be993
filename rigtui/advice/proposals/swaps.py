"""Two pedals that change places: one that you step on goes into a loop, the one there comes out."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import islice, product

from rigtui.advice.counted import Counted, counted
from rigtui.advice.proposals.asked import Asked
from rigtui.advice.proposals.inside import crowding, put_inside
from rigtui.advice.remedy import Proposal
from rigtui.model.edits import take_outside
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.rig import Loop, Pedal, Rig
from rigtui.model.text import count, listed
from rigtui.moves.boards import board_of

MOST_PAIRS = 24
"""Pairs that are counted, those of the pedals in most crowded changes first."""
MOST_TRIED = 2
"""Pairs that are tried, those with the least to press."""


def propose(asked: Asked) -> Iterator[Proposal | None]:
    """Propose that a pedal you step on changes places with one that is alone in a loop."""
    if asked.rig.switcher is None or not asked.before.extra_presses:
        return
    pairs = [pair for pair in product(crowding(asked), asked.rig.loops) if _may_change(*pair)]
    ways: list[tuple[Counted, Pedal, Loop, Rig]] = []
    for pedal, loop in islice(pairs, MOST_PAIRS):
        yield None
        try:
            then = exchanged(asked.rig, pedal.id, loop.number)
        except EditError:
            continue
        after = counted(then, asked.evening)
        if after.order < asked.before.order:
            ways.append((after, pedal, loop, then))
    ways.sort(key=lambda way: way[0].order)
    known = lookup(asked.rig)
    for _, pedal, loop, then in ways[:MOST_TRIED]:
        out = known.pedals[loop.pedals[0]]
        yield Proposal(
            "exchange",
            f"Take {out.label} out of loop {loop.number} and put {pedal.label} in, "
            f"then step on {out.label}",
            partial(exchanged, pedal_id=pedal.id, number=loop.number),
            (f"pedals.{pedal.id}", f"pedals.{out.id}"),
            {"pedals": 2, "presets": max(0, len(then.presets) - len(asked.rig.presets))},
            detail=tuple(_detail(asked.rig, then, (pedal.id, out.id))),
        )


def _may_change(pedal: Pedal, loop: Loop) -> bool:
    return pedal.side == loop.side and len(loop.pedals) == 1


def exchanged(rig: Rig, pedal_id: str, number: int) -> Rig:
    """Return the rig with an outside pedal in a loop, and the pedal that was there outside.

    Sections keep their sounds, on more presets if need be.

    Args:
        rig: The rig.
        pedal_id: The outside pedal.
        number: A loop with one pedal in it.

    Raises:
        EditError: there is no such loop or not one pedal in it, or a preset that is needed then
            finds no memory.
    """
    loop = lookup(rig).loops.get(number)
    if loop is None or len(loop.pedals) != 1:
        raise EditError(f"there isn't one pedal in loop {number}")
    then = put_inside(take_outside(rig, loop.pedals[0]), (pedal_id,), number)
    if len(board_of(then).unplayable) > len(board_of(rig).unplayable):
        raise EditError("the presets for that don't fit the memories")
    return then


def _detail(now: Rig, then: Rig, moved: tuple[str, str]) -> Iterator[str]:
    more = len(then.presets) - len(now.presets)
    if more > 0:
        yield f"That takes {count(more, 'more preset')}, each with a memory"
    elif more < 0:
        yield f"That takes {count(-more, 'preset')} less"
    label = lookup(now).label
    for nth, pedal in enumerate(moved):
        said_of = moved[:nth]  # what one has passed is said once
        later, earlier = (
            [other for other in _passed(*rigs, pedal) if other not in said_of]
            for rigs in ((now, then), (then, now))
        )
        said = [
            f"{where} {listed(label(other) for other in others)}"
            for where, others in (("after", later), ("before", earlier))
            if others
        ]
        if said:
            yield f"{label(pedal)} then comes {listed(said)} in the signal"


def _passed(now: Rig, then: Rig, pedal: str) -> list[str]:
    """The pedals that come after a pedal on one rig and before it on the other."""
    was, will = lookup(now).order, lookup(then).order
    if pedal not in was or pedal not in will:
        return []
    before = set(will[: will.index(pedal)])
    return [other for other in was[was.index(pedal) + 1 :] if other in before]
