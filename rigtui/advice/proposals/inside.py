"""A pedal that you step on, put into a loop that is empty, or that you would have to buy."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import partial

from rigtui.advice.proposals.asked import Asked
from rigtui.advice.remedy import Proposal
from rigtui.model.edits import (
    add_loop,
    add_preset,
    first_free_memory,
    into_loop,
    set_chain,
    set_preset,
    set_section,
    take_memory,
)
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.rig import Pedal, Preset, Rig
from rigtui.model.text import count, listed
from rigtui.moves import changes_as_written

MOST_PEDALS = 3
"""Pedals that are tried, those that stand in most crowded changes."""
MOST_LOOPS = 2
"""Loops that a switcher might have more."""
_UNDER_FOOT = ("wah", "volume", "tuner")
"""Kinds under the foot anyway, or that mute everything: no loop is for them (common practice)."""


def propose(asked: Asked) -> Iterator[Proposal | None]:
    """Propose a loop for pedals that are stepped on together with something else."""
    rig = asked.rig
    if rig.switcher is None or not asked.before.extra_presses:
        return
    pedals = crowding(asked)[:MOST_PEDALS]
    yield None
    for pedal in pedals:
        empty = next((x for x in rig.loops if not x.pedals and x.side == pedal.side), None)
        if empty is not None:
            yield Proposal(
                f"inside {pedal.id}",
                f"Put {pedal.label} in loop {empty.number}, which is empty",
                partial(put_inside, pedals=(pedal.id,), number=empty.number),
                (f"pedals.{pedal.id}",),
                {"pedals": 1, "presets": _new_presets(rig, pedal)},
                detail=_detail(rig, (pedal,)),
            )
    for more in range(1, min(MOST_LOOPS, len(pedals)) + 1):
        chosen = pedals[:more]
        yield Proposal(
            "more loops",
            f"With {count(more, 'more loop')}, {listed(pedal.label for pedal in chosen)} could go "
            f"into {'it' if more == 1 else 'them'}",
            partial(put_inside, pedals=tuple(pedal.id for pedal in chosen)),
            tuple(f"pedals.{pedal.id}" for pedal in chosen),
            {"loops": more, "presets": sum(_new_presets(rig, pedal) for pedal in chosen)},
            as_if=True,
            to_buy=True,
            detail=("You need another switcher for that", *_detail(rig, chosen)),
        )


def crowding(asked: Asked) -> list[Pedal]:
    """Outside pedals of changes with two presses on a beat, those of most such changes first."""
    times: Counter[str] = Counter()
    for song in asked.evening.songs:
        for change in changes_as_written(asked.rig, song):
            if change.extra_presses:
                for press in change.presses:
                    if press.kind == "pedal" and not press.can_wait:
                        times[str(press.what)] += asked.evening.times[song.id]
    pedals = lookup(asked.rig).pedals
    return [pedals[name] for name, _ in times.most_common() if pedals[name].kind not in _UNDER_FOOT]


def _uses(rig: Rig, pedal_id: str) -> dict[str, tuple[int, int]]:
    """For each preset, sections that want the pedal on top of it, and sections that do not."""
    uses: dict[str, tuple[int, int]] = {}
    for song in rig.songs:
        for section in song.sections:
            if section.preset is not None and pedal_id not in section.may:
                on, off = uses.get(section.preset, (0, 0))
                wanted = pedal_id in section.plus
                uses[section.preset] = (on + wanted, off + (not wanted))
    return uses


def _new_presets(rig: Rig, pedal: Pedal) -> int:
    return sum(bool(on and off) for on, off in _uses(rig, pedal.id).values())


def _detail(rig: Rig, pedals: list[Pedal] | tuple[Pedal, ...]) -> tuple[str, ...]:
    new = sum(_new_presets(rig, pedal) for pedal in pedals)
    return (f"That takes {count(new, 'more preset')}, each with a memory",) if new else ()


def put_inside(rig: Rig, pedals: tuple[str, ...], number: int | None = None) -> Rig:
    """Return the rig with pedals in loops; sections keep their sounds, on more presets if need be.

    Args:
        rig: The rig.
        pedals: Ids of outside pedals.
        number: The loop, for one pedal; each gets a new one where it is None.
    """
    for pedal_id in pedals:
        rig = _one_inside(rig, pedal_id, number)
    return rig


def _one_inside(rig: Rig, pedal_id: str, number: int | None) -> Rig:
    uses = _uses(rig, pedal_id)
    pedal = lookup(rig).pedals[pedal_id]
    if pedal_id in lookup(rig).loop_of:
        raise EditError(f"{pedal.label} is in a loop")
    if number is None:
        rig, number = _with_loop(rig, pedal)
    rig = into_loop(rig, pedal_id, number)
    label = lookup(rig).label(pedal_id)
    for preset_id, (on, off) in uses.items():
        preset = lookup(rig).presets.get(preset_id)
        if preset is None or not on:
            continue
        loops = tuple(sorted({*preset.loops, number}))
        if off:
            rig = _with_preset(rig, preset, f"{preset.label} + {label}", loops)
            rig = _mapped(rig, pedal_id, preset_id, rig.presets[-1].id)
        else:
            rig = set_preset(rig, preset_id, loops=loops)
            rig = _mapped(rig, pedal_id, preset_id, preset_id)
    return rig


def _with_loop(rig: Rig, pedal: Pedal) -> tuple[Rig, int]:
    """One more loop on the pedal's side, before or behind the others, as the pedal stands."""
    old = {loop.number for loop in rig.loops}
    rig = add_loop(rig, pedal.side)
    number = next(loop.number for loop in rig.loops if loop.number not in old)
    if pedal.id not in getattr(rig.chain, pedal.side):
        return rig, number
    rest = [item for item in getattr(rig.chain, pedal.side) if item != number]
    numbers = [at for at, item in enumerate(rest) if isinstance(item, int)]
    its = rest.index(pedal.id)
    at = its if not numbers else numbers[0] if its < numbers[0] else numbers[-1] + 1
    return set_chain(rig, pedal.side, (*rest[:at], number, *rest[at:])), number


def _with_preset(rig: Rig, preset: Preset, name: str, loops: tuple[int, ...]) -> Rig:
    """One more preset, in a free memory if there is one."""
    fields = {
        key: getattr(preset, key)
        for key in preset.model_fields_set
        if key not in ("id", "name", "memory", "copies", "loops")
    }
    rig = add_preset(rig, name, len(rig.presets), loops=loops, **fields)
    free = first_free_memory(rig)
    return rig if free is None else take_memory(rig, rig.presets[-1].id, free)


def _mapped(rig: Rig, pedal_id: str, preset: str, new: str) -> Rig:
    """Sections that step the pedal on top of a preset recall it with the preset instead."""
    for song in rig.songs:
        for at, section in enumerate(song.sections):
            if section.preset == preset and pedal_id in section.plus:
                plus = tuple(name for name in section.plus if name != pedal_id)
                early = tuple(name for name in section.early if name != pedal_id)
                rig = set_section(rig, song.id, at, preset=new, plus=plus, early=early)
    return rig
