"""Which leads a rig needs: from jack to jack, in signal order."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigtui.model import Rig
from rigtui.model.lookup import Lookup, lookup

# With a capital, which no pedal's id can have.
GUITAR = "Guitar"
AMP = "Amp"
SWITCHER = "Switcher"


class Jack(NamedTuple):
    """One jack: its name, and its box (guitar, amp, switcher or a pedal's id)."""

    box: str
    name: str


class Lead(NamedTuple):
    """One lead from jack to jack."""

    start: Jack
    end: Jack
    kind: str
    """"patch" on the board; "long" to guitar or amp."""


def leads(rig: Rig) -> tuple[Lead, ...]:
    """Return the leads that the rig needs, in signal order from the guitar.

    Outside pedals are wired one behind the other; each loop's pedals stand between its send and
    return. Where an outside pedal stands between two loops of a side, the switcher's jacks
    between those loops are used (`between_loops`); a rig that has none is told so by the checks.

    Source: series loop switching, common practice.
    """
    found = lookup(rig)
    wired = list(_side(rig, found, "front", Jack(GUITAR, "output"), Jack(AMP, "input")))
    if rig.chain.fx:
        wired += _side(rig, found, "fx", Jack(AMP, "send"), Jack(AMP, "return"))
    return tuple(wired)


def _side(rig: Rig, found: Lookup, side: str, start: Jack, end: Jack) -> Iterator[Lead]:
    items: tuple[int | str, ...] = getattr(rig.chain, side)
    here = start
    open_run = False  # inside the switcher, from loop to loop without a lead
    last_loop = 0
    for place, item in enumerate(items):
        if isinstance(item, int):
            if not open_run:
                again = any(isinstance(one, int) for one in items[:place])
                into = f"in before loop {item}" if again else f"{side} input"
                yield _lead(here, Jack(SWITCHER, into))
                open_run = True
            yield from _loop(found, item)
            last_loop = item
            continue
        if item not in found.pedals:
            continue
        if open_run:
            more = any(isinstance(one, int) for one in items[place:])
            here = Jack(SWITCHER, f"out after loop {last_loop}" if more else f"{side} output")
            open_run = False
        yield _lead(here, Jack(item, "in"))
        here = Jack(item, "out")
    if open_run:
        here = Jack(SWITCHER, f"{side} output")
    if here != start or side == "front":
        yield _lead(here, end)


def _loop(found: Lookup, number: int) -> Iterator[Lead]:
    loop = found.loops.get(number)
    pedals = [one for one in loop.pedals if one in found.pedals] if loop else []
    here = Jack(SWITCHER, f"send {number}")
    for pedal in pedals:
        yield _lead(here, Jack(pedal, "in"))
        here = Jack(pedal, "out")
    if pedals:
        yield _lead(here, Jack(SWITCHER, f"return {number}"))


def _lead(start: Jack, end: Jack) -> Lead:
    long = start.box in (GUITAR, AMP) or end.box in (GUITAR, AMP)
    return Lead(start, end, "long" if long else "patch")
