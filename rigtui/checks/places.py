"""Where pedals and loops stand: in the chain, in one place, with jacks to plug them into."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from functools import partial

from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.words import named, pedals_named
from rigtui.model import Pedal, Rig
from rigtui.model.base import SIDES, Side
from rigtui.model.edits import put_in_chain, set_chain, set_loop, take_outside
from rigtui.model.edits.outside import free_place, put_beside_loops
from rigtui.model.lookup import lookup
from rigtui.model.places import place_at
from rigtui.model.text import listed


def _not_in_chain(view: RigView) -> Iterator[Hit]:
    chain = {*view.rig.chain.front, *view.rig.chain.fx}
    lost = "so rigtui can't know where the signal meets it"
    for pedal in view.known.outside():
        if pedal.id not in chain and not view.known.needs_no_chain(pedal):
            yield Hit(
                place_at("pedals", pedal.id),
                f"{named(pedal)} is in no loop and not in the chain, {lost}",
                Fix(f"put it in the {pedal.side} chain", partial(_put_pedal, pedal.id)),
            )
    for loop in view.rig.loops:
        if loop.number not in chain:
            held = f" ({pedals_named(view.known, loop.pedals)})" if loop.pedals else ""
            yield Hit(
                place_at("loops", loop.number),
                f"Loop {loop.number}{held} is not in the chain, {lost}",
                Fix(f"put it in the {loop.side} chain", partial(_put_loop, loop.number)),
            )


def _put_pedal(pedal_id: str, rig: Rig) -> Rig:
    return put_beside_loops(rig, lookup(rig).pedals[pedal_id])


def _put_loop(number: int, rig: Rig) -> Rig:
    return put_in_chain(rig, number, lookup(rig).loops[number].side)


def _in_two_places(view: RigView) -> Iterator[Hit]:
    rig = view.rig
    for pedal in rig.pedals:
        homes = [
            loop.number for loop in rig.loops for pedal_id in loop.pedals if pedal_id == pedal.id
        ]
        sides = [side for side in SIDES for item in getattr(rig.chain, side) if item == pedal.id]
        if len(homes) + len(sides) > 1:
            if homes:
                on_its_side = [n for n in homes if view.known.loops[n].side == pedal.side]
                keep = (on_its_side or homes)[0]
                fix = Fix(f"keep it in loop {keep} only", partial(_keep_in_loop, pedal.id, keep))
            else:
                fix = _keep_in_chain(pedal.id, sides, pedal.side)
            stands = [f"loop {number}" for number in homes] + [
                f"the {side} chain" for side in sides
            ]
            yield Hit(place_at("pedals", pedal.id), f"{named(pedal)} is in {_places(stands)}", fix)
    for loop in rig.loops:
        sides = [side for side in SIDES for item in getattr(rig.chain, side) if item == loop.number]
        if len(sides) > 1:
            places = _places(f"the {side} chain" for side in sides)
            fix = _keep_in_chain(loop.number, sides, loop.side)
            yield Hit(place_at("loops", loop.number), f"Loop {loop.number} is in {places}", fix)


def _places(stands: Iterable[str]) -> str:
    """Say "loop 2 and the front chain", "loop 2 twice"."""
    times = {1: "", 2: " twice"}
    return listed(
        f"{place}{times.get(number, f' {number} times')}"
        for place, number in Counter(stands).items()
    )


def _keep_in_loop(pedal_id: str, number: int, rig: Rig) -> Rig:
    for loop in rig.loops:
        if pedal_id in loop.pedals:
            others = tuple(other for other in loop.pedals if other != pedal_id)
            kept = tuple(dict.fromkeys(loop.pedals)) if loop.number == number else others
            rig = set_loop(rig, loop.number, pedals=kept)
    for side in SIDES:
        rig = _keep_first(rig, pedal_id, side, 0)
    return rig


def _keep_in_chain(item: int | str, sides: list[Side], own: Side) -> Fix:
    side = own if own in sides else sides[0]
    return Fix(f"keep its first place in the {side} chain", partial(_keep_on_side, item, side))


def _keep_on_side(item: int | str, kept: Side, rig: Rig) -> Rig:
    for side in SIDES:
        rig = _keep_first(rig, item, side, 1 if side == kept else 0)
    return rig


def _keep_first(rig: Rig, item: int | str, side: Side, number: int) -> Rig:
    """Keep an item's first places on a side, as many as given, and take the others out."""
    items: tuple[int | str, ...] = getattr(rig.chain, side)
    drop = [at for at, other in enumerate(items) if other == item][number:]
    if not drop:
        return rig
    return set_chain(rig, side, tuple(other for at, other in enumerate(items) if at not in drop))


def _between_loops(view: RigView) -> Iterator[Hit]:
    rig = view.rig
    if rig.switcher is None or rig.switcher.between_loops:
        return
    for side in SIDES:
        items: tuple[int | str, ...] = getattr(rig.chain, side)
        loops = [at for at, item in enumerate(items) if item in view.known.loops]
        for at, item in enumerate(items):
            pedal = view.known.pedals.get(item) if isinstance(item, str) else None
            if pedal is None or item in view.known.loop_of or not loops:
                continue
            if loops[0] < at < loops[-1] and item not in items[:at]:
                before = items[max(place for place in loops if place < at)]
                after = items[min(place for place in loops if place > at)]
                first = free_place(rig, pedal, side, at) <= loops[0]
                where = (
                    f"before loop {items[loops[0]]}" if first else f"after loop {items[loops[-1]]}"
                )
                yield Hit(
                    place_at("pedals", pedal.id),
                    f"{named(pedal)} is between loop {before} and loop {after} in the "
                    f"{side} chain, but the switcher has no jacks between its loops",
                    Fix(f"put it {where}", partial(_beside, pedal.id, side)),
                )


def _beside(pedal_id: str, side: Side, rig: Rig) -> Rig:
    items: tuple[int | str, ...] = getattr(rig.chain, side)
    at = items.index(pedal_id)
    to = free_place(rig, lookup(rig).pedals[pedal_id], side, at)
    rest = items[:at] + items[at + 1 :]
    to -= to > at
    return set_chain(rig, side, (*rest[:to], pedal_id, *rest[to:]))


def _tuner_in_loop(view: RigView, pedal: Pedal) -> Iterator[Hit]:
    number = view.known.loop_of.get(pedal.id)
    if pedal.kind != "tuner" or number is None:
        return
    alone = sum(pedal.id in loop.pedals for loop in view.rig.loops) == 1
    yield Hit(
        place_at("pedals", pedal.id),
        f"{named(pedal)} is in loop {number}, so it works only in presets that switch the loop in",
        Fix("take it out of the loop", partial(take_outside, pedal_id=pedal.id)) if alone else None,
    )


def _empty_loop(view: RigView) -> Iterator[Hit]:
    for loop in view.rig.loops:
        if not loop.pedals:
            yield Hit(place_at("loops", loop.number), f"Loop {loop.number} is empty")


_FORMAT = "Rig file format: the chain names each loop and each outside pedal once."

RULES = (
    Rule(
        id="not-in-chain",
        severity="error",
        scope="rig",
        summary="A loop or an outside pedal is missing from the chain.",
        why="Without its place nobody can wire it, and rigtui can't check it against the "
        "pedals around it.",
        source=_FORMAT,
        check=_not_in_chain,
    ),
    Rule(
        id="in-two-places",
        severity="error",
        scope="rig",
        summary="A pedal or loop is in more than one place.",
        why="A pedal has one input and one output, so it can be wired into only one place.",
        source=_FORMAT,
        check=_in_two_places,
    ),
    Rule(
        id="between-loops",
        severity="error",
        scope="rig",
        summary="An outside pedal is between two loops of a switcher that has no jacks there.",
        why="Inside the switcher each loop runs straight into the next: there is no jack "
        "for the pedal.",
        source="Rig file format: between_loops.",
        check=_between_loops,
    ),
    Rule(
        id="tuner-in-loop",
        severity="warning",
        scope="pedal",
        summary="The tuner is in a loop.",
        why="You want the tuner at any moment, muting everything. In a loop it waits for "
        "a preset, and takes a loop that a sound could use.",
        source="common practice",
        check=_tuner_in_loop,
    ),
    Rule(
        id="empty-loop",
        severity="advice",
        scope="rig",
        summary="A loop has no pedal in it.",
        why="A spare loop is good to have when one dies. A pedal that your foot keeps "
        "chasing may need it more.",
        source="common practice",
        check=_empty_loop,
    ),
)
