"""Why a wish for loops cannot be had, in the player's words, and what would have to give way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import count, visible
from rigtui.plan.control import Control
from rigtui.plan.cubes import Cube, greedy_clique
from rigtui.plan.designs import Found
from rigtui.plan.loop_costs import cube_of
from rigtui.plan.needs import Needs
from rigtui.plan.result import Conflict
from rigtui.plan.wishes import LoopWishes

_MOST_SAID = 12
_MOST_MORE = 16


def conflict_of(
    rig: Rig, needs: Needs, wishes: LoopWishes, found: Found, control: Control
) -> Conflict:
    """Say why nothing fits, and the smallest changes to the wishes that help."""
    if not found.sets:
        relaxed = tuple(_relaxations(rig, needs, wishes, 0, control))
        return Conflict(_no_layout(rig, needs, wishes), relaxations=relaxed)
    reason, places = _too_many(rig, needs, wishes, found)
    relaxed = tuple(_relaxations(rig, needs, wishes, len(places), control))
    return Conflict(reason, places, relaxed)


def _no_layout(rig: Rig, needs: Needs, wishes: LoopWishes) -> str:
    found = lookup(rig)
    must = [found.label(one) for one in wishes.pin_in]
    for preset in wishes.keep_presets:
        must += [found.label(one) for one in needs.names(needs.kept[preset].on)]
    said = visible(", ".join(dict.fromkeys(must)))
    why = "there are not enough loops for them"
    if wishes.keep_order and not (rig.switcher and rig.switcher.between_loops):
        why += ", counting the pedals caught between them in the chain"
    return f"these must be in loops: {said}; {why}"


def _too_many(
    rig: Rig, needs: Needs, wishes: LoopWishes, found: Found
) -> tuple[str, tuple[str, ...]]:
    """The sections that clash pairwise in the last set of loops that was refused."""
    from rigtui.plan.loops import memories_of, rules_of

    rules = rules_of(rig, needs, wishes)
    groups = next(rules.groupings(found.refused, fewest=True), ())
    where: dict[Cube, str] = {}
    for song in needs.played:
        for sound in song.sounds:
            where.setdefault(cube_of(sound, groups), f"songs.{song.song}.sections.{sound.section}")
    for preset, sound in needs.kept.items():
        where.setdefault(cube_of(sound, groups), f"presets.{preset}")
    clique = greedy_clique(list(where))
    places = tuple(where[cube] for cube in clique)
    said = [_said(rig, place) for place in places[:_MOST_SAID]]
    more = f" and {len(places) - _MOST_SAID} more" if len(places) > _MOST_SAID else ""
    room = count(memories_of(rig, wishes), "memory", "memories")
    if len(places) <= memories_of(rig, wishes):
        return f"no way was found to make do with {room}", places
    return (
        f"these {len(places)} sounds conflict pairwise, so {count(len(places), 'preset')} at "
        f"least, and there is room for {memories_of(rig, wishes)}: {'; '.join(said)}{more}",
        places,
    )


def _said(rig: Rig, place: str) -> str:
    parts = place.split(".")
    if parts[0] == "presets":
        return f"preset {visible(lookup(rig).presets[parts[1]].label)}"
    song = lookup(rig).songs[parts[1]]
    at = int(parts[3])
    return visible(f"{song.label}, section {at + 1} ({song.sections[at].name})")


def _relaxations(
    rig: Rig, needs: Needs, wishes: LoopWishes, clashing: int, control: Control
) -> Iterator[str]:
    """Single changes to the wishes that make a plan possible, the smallest numbers that do.

    Args:
        rig: The rig.
        needs: What the songs want.
        wishes: The wishes.
        clashing: Sounds that clash pairwise: with fewer memories nothing works.
        control: Progress and cancel.
    """
    from rigtui.plan.loops import memories_of, search_loops

    def works(other: LoopWishes) -> bool:
        return bool(search_loops(rig, needs, other, control.within(2)).designs)

    found = lookup(rig)
    for pedal in wishes.pin_in:
        rest = [one for one in wishes.pin_in if one != pedal]
        if works(replace(wishes, pin_in=rest)):
            yield f"let {visible(found.label(pedal))} stay outside"
    for pedal in wishes.pin_out:
        rest = [one for one in wishes.pin_out if one != pedal]
        if works(replace(wishes, pin_out=rest)):
            yield f"let {visible(found.label(pedal))} go in a loop"
    if wishes.keep_order and works(replace(wishes, keep_order=False)):
        yield "let pedals change places in the chain"
    if not wishes.share and works(replace(wishes, share=True)):
        yield "let neighbours share a loop"
    now = memories_of(rig, wishes)
    needs_memories = works(replace(wishes, memories=128))
    first = max(now + 1, clashing)
    for memories in range(first, min(first + _MOST_MORE, 129)) if needs_memories else ():
        if works(replace(wishes, memories=memories)):
            yield f"{count(memories, 'memory', 'memories')} in place of {now}"
            break
    loops = len(rig.loops) if wishes.total_loops is None else wishes.total_loops
    if wishes.loops is not None:
        loops = sum(wishes.loops.values())
    for total in range(loops + 1, min(loops + 9, 99)):
        if works(replace(wishes, loops=None, total_loops=total)):
            yield f"{count(total, 'loop')} in place of {loops}"
            break
