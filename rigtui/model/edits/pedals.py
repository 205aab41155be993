"""Edits that build a board: pedals come, go, and move along the signal. Each returns a new Rig."""

from __future__ import annotations

from typing import Any, NamedTuple

from rigtui.model.base import SIDES, Kind, Side
from rigtui.model.edits.bench import forget_device
from rigtui.model.edits.board import set_chain, set_loop, set_pedal, take_from_chain
from rigtui.model.edits.outside import put_beside_loops, take_outside
from rigtui.model.edits.presets import loop_out_everywhere
from rigtui.model.edits.tables import changed, made, moved, place_of, taken, with_table
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.places import place_at, steps_below
from rigtui.model.rig import Pedal, Rig, Section
from rigtui.model.text import slug

_LISTS = ("plus", "minus", "may", "early")
"""Keys of a section that name pedals."""


class UsualPlace(NamedTuple):
    """Where a kind of pedal usually stands, and why."""

    rank: int
    """Kinds of a lower rank stand nearer to the guitar."""
    reason: str


# Source: the usual order of pedals and its reasons, common practice.
_USUAL: tuple[tuple[tuple[Kind, ...], str], ...] = (
    (("tuner",), "a tuner reads best straight from the guitar"),
    (("fuzz",), "a fuzz works best straight after the guitar"),
    (("wah",), "a wah sweeps widest before the gain"),
    (("pitch",), "a pitch shifter tracks a clean note best"),
    (("compressor",), "a compressor before the gain evens out your picking"),
    (("buffer",), "a buffer drives the long leads after it"),
    (("overdrive",), "a light drive before a heavy one pushes it"),
    (("distortion", "preamp"), "the heaviest gain comes last of the drives"),
    (("boost",), "a boost after the drives makes them louder, before them only dirtier"),
    (("gate",), "a gate after the drives shuts out their noise"),
    (("eq", "other"), "it shapes everything that comes before it"),
    (("volume",), "a volume pedal after the drives turns you down and keeps the gain"),
    (("modulation", "tremolo"), "modulation after the drives stays clear"),
    (("delay",), "echoes after the drives stay clear, echoes into them smear"),
    (("reverb",), "reverb comes last, round everything else"),
    (("looper",), "a looper records what comes before it"),
)


def usual_place(kind: Kind) -> UsualPlace:
    """Return where a kind of pedal usually stands along the signal."""
    rank = next(at for at, (kinds, _) in enumerate(_USUAL) if kind in kinds)
    return UsualPlace(rank, _USUAL[rank][1])


def add_pedal(rig: Rig, name: str, kind: Kind, side: Side, **fields: Any) -> Rig:
    """Add a pedal outside the loops, among the others where its kind usually stands.

    Its id is made from its name.
    """
    taken_ids = {pedal.id for pedal in rig.pedals}
    row = made(Pedal, id=slug(name, taken_ids), name=name, kind=kind, side=side, **fields)
    rig = with_table(rig, "pedals", (*rig.pedals, row))
    return rig if row.use == "home" else put_where_usual(rig, row)


def put_where_usual(rig: Rig, pedal: Pedal) -> Rig:
    """Put a pedal beside the loops, among the pedals there in the usual order."""
    rig = put_beside_loops(rig, pedal)
    pedals = lookup(rig).pedals
    items: tuple[int | str, ...] = getattr(rig.chain, pedal.side)
    at = items.index(pedal.id)
    first, last = at, at + 1
    while first and items[first - 1] in pedals:
        first -= 1
    while last < len(items) and items[last] in pedals:
        last += 1
    run = sorted(items[first:last], key=lambda item: item == pedal.id)  # the new one last
    rank = usual_place(pedal.kind).rank
    after = [place for place, item in enumerate(run[:-1])
             if usual_place(pedals[str(item)].kind).rank <= rank]  # fmt: skip
    place = after[-1] + 1 if after else 0
    run = [*run[:place], pedal.id, *run[place:-1]]
    return set_chain(rig, pedal.side, (*items[:first], *run, *items[last:]))


def delete_pedal(rig: Rig, pedal_id: str) -> Rig:
    """Delete a pedal, wherever the rig names it; its loop stays.

    Presets keep switching the loop while other pedals are in it, and switch it out if it is empty:
    else the next pedal in it would come on with them.
    """
    at = place_of(rig.pedals, pedal_id, "pedal")
    rig = take_from_chain(with_table(rig, "pedals", taken(rig.pedals, at)), pedal_id)
    for loop in rig.loops:
        if pedal_id in loop.pedals:
            rest = tuple(other for other in loop.pedals if other != pedal_id)
            rig = set_loop(rig, loop.number, pedals=rest)
            rig = rig if rest else loop_out_everywhere(rig, loop.number)
    songs = []
    for song in rig.songs:
        sections = tuple(_without(section, pedal_id) for section in song.sections)
        same = all(old is new for old, new in zip(song.sections, sections))
        songs.append(song if same else changed(song, sections=sections))
    place = place_at("pedals", pedal_id)
    waivers = [waiver for waiver in rig.waivers if steps_below(waiver.where, place) is None]
    rig = changed(rig, songs=tuple(songs), waivers=tuple(waivers))
    return forget_device(rig, pedal_id)


def _without(section: Section, pedal_id: str) -> Section:
    changes: dict[str, Any] = {
        key: tuple(other for other in getattr(section, key) if other != pedal_id)
        for key in _LISTS
        if pedal_id in getattr(section, key)
    }
    if section.wanted is not None and pedal_id in section.wanted.pedals:
        wanted = tuple(other for other in section.wanted.pedals if other != pedal_id)
        changes["wanted"] = changed(section.wanted, pedals=wanted)
    return changed(section, **changes) if changes else section


def move_along(rig: Rig, item: int | str, by: int) -> Rig:
    """Move a pedal or a loop along the signal, past so many neighbours; a pedal stays in its loop.

    Raises:
        EditError: it is nowhere in the chain, or stands at the end already.
    """
    number = lookup(rig).loop_of.get(item) if isinstance(item, str) else None
    if isinstance(item, str) and number is not None:
        inside = lookup(rig).loops[number].pedals
        return set_loop(rig, number, pedals=_moved(inside, inside.index(item), by))
    for side in SIDES:
        items: tuple[int | str, ...] = getattr(rig.chain, side)
        if item in items:
            return set_chain(rig, side, _moved(items, items.index(item), by))
    raise EditError(f"{item} is not in the chain")


def _moved(items: tuple[Any, ...], at: int, by: int) -> tuple[Any, ...]:
    if not 0 <= at + by < len(items):
        raise EditError("it is already at that end")
    return moved(items, at, by)


def into_loop(rig: Rig, pedal_id: str, number: int) -> Rig:
    """Put a pedal into a loop, behind those that are in it; presets then switch it with them.

    It goes over to the loop's side, and gives up its own place in the chain.

    Raises:
        EditError: there is no such pedal or loop, or the pedal is in it.
    """
    place_of(rig.pedals, pedal_id, "pedal")
    loop = lookup(rig).loops.get(number)
    if loop is None:
        raise EditError(f"there is no loop {number}")
    if pedal_id in loop.pedals:
        raise EditError(f"it is already in loop {number}")
    if pedal_id in lookup(rig).loop_of:
        rig = take_outside(rig, pedal_id)
        loop = lookup(rig).loops[number]
    rig = set_pedal(take_from_chain(rig, pedal_id), pedal_id, side=loop.side, use=None)
    return set_loop(rig, number, pedals=(*loop.pedals, pedal_id))


def to_other_side(rig: Rig, pedal_id: str) -> Rig:
    """Move an outside pedal from before the amp into its effects loop, or back.

    Raises:
        EditError: there is no such pedal, or it is in a loop, whose side it shares.
    """
    pedal = rig.pedals[place_of(rig.pedals, pedal_id, "pedal")]
    number = lookup(rig).loop_of.get(pedal_id)
    if number is not None:
        raise EditError(f"it is in loop {number}: take it out of the loop first, or move the loop")
    side = SIDES[1 - SIDES.index(pedal.side)]
    rig = set_pedal(take_from_chain(rig, pedal_id), pedal_id, side=side)
    return put_where_usual(rig, lookup(rig).pedals[pedal_id])
