"""A design as a board: which pedals go in which loop, and the chain for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigtui.model.base import SIDES, Side
from rigtui.model.edits.outside import BEFORE_LOOPS
from rigtui.model.edits.tables import changed, made, with_table
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.rig import Chain, Loop, Pedal, Rig
from rigtui.plan.ask.needs import Needs
from rigtui.plan.ask.question import Question


@dataclass(frozen=True, slots=True)
class RebuiltBoard:
    """The rig with its loops, pedals and chain rebuilt; presets and songs still as they were."""

    rig: Rig
    numbers: tuple[int, ...]
    """The loop of each group of pedals."""


def rebuild_board(
    rig: Rig, needs: Needs, groups: Sequence[int], question: Question
) -> RebuiltBoard:
    """Put pedals in loops, and all in a chain that the switcher can be wired to."""
    slots = _slots(rig, needs, groups, question)
    numbers = _numbered(rig, needs, groups, slots)
    inside = sum(groups)
    held = {number: tuple(needs.names(group)) for number, group in zip(numbers, groups)}
    old = {loop.number: loop for loop in rig.loops}
    side_of = {number: side for side in SIDES for number in slots[side]}
    loops = tuple(
        changed(old[number], side=side, pedals=held.get(number, ()))
        if number in old
        else made(Loop, number=number, side=side, pedals=held.get(number, ()))
        for number, side in sorted(side_of.items())
    )
    order = [loop.number for loop in rig.loops if loop.number in side_of]
    order += [number for number in sorted(side_of) if number not in order]
    by_number = {loop.number: loop for loop in loops}
    always = needs.ever_on & ~needs.ever_off & ~inside & ~needs.left_alone
    was = lookup(rig)
    pedals = tuple(
        pedal
        if pedal.id not in needs.pedals or needs.bit(pedal.id) & needs.left_alone
        else _used(pedal, was, inside=bool(inside & needs.bit(pedal.id)),
                   use=_use(needs, pedal.id, pedal.kind, inside, always))
        for pedal in rig.pedals
    )  # fmt: skip
    chain = {side: _chain(rig, needs, side, slots[side], held, question) for side in SIDES}
    new = with_table(rig, "loops", [by_number[number] for number in order])
    new = with_table(new, "pedals", pedals)
    new = changed(new, chain=changed(rig.chain if rig.chain else Chain(), **chain))
    return RebuiltBoard(
        new,
        numbers,
    )


def _used(pedal: Pedal, was: Lookup, *, inside: bool, use: str | None) -> Pedal:
    """A pedal with another use, where it has one; else just as it is written."""
    new = changed(pedal, use=use)
    stays = inside == (pedal.id in was.loop_of)
    return pedal if stays and (inside or pedal.used == new.used) else new


def _use(needs: Needs, pedal: str, kind: str, inside: int, always: int) -> str | None:
    bit = needs.bit(pedal)
    if inside & bit:
        return None
    if always & bit:
        return "always"
    if kind == "tuner" and not needs.ever_on & bit:
        return None
    return "foot" if kind == "tuner" else None


def _slots(
    rig: Rig, needs: Needs, groups: Sequence[int], question: Question
) -> dict[str, list[int]]:
    """Loop numbers of each side, in chain order; more or fewer where the options say so."""
    slots: dict[str, list[int]] = {}
    wanted: dict[str, int] = {}
    for side in SIDES:
        mine = [loop.number for loop in rig.loops if loop.side == side]
        chained = [item for item in getattr(rig.chain, side) if item in mine]
        slots[side] = [*dict.fromkeys(chained), *(loop for loop in mine if loop not in chained)]
        wanted[side] = len(slots[side])
    wanted |= dict(question.loops or {})
    if question.total_loops is not None:
        used = {side: sum(bool(g & needs.side_mask(side)) for g in groups) for side in SIDES}
        spare = question.total_loops - sum(used.values())
        front = min(spare, max(0, wanted["front"] - used["front"]))
        wanted = {
            "front": used["front"] + front,
            "fx": question.total_loops - used["front"] - front,
        }
    given_up: list[int] = []
    for side in SIDES:
        while len(slots[side]) > wanted[side]:
            given_up.append(slots[side].pop())
    taken = [loop.number for loop in rig.loops]
    fresh = (number for number in range(1, 1000) if number not in taken)
    for side in SIDES:
        while len(slots[side]) < wanted[side]:
            slots[side].append(given_up.pop(0) if given_up else next(fresh))
    return slots


def _numbered(
    rig: Rig, needs: Needs, groups: Sequence[int], slots: dict[str, list[int]]
) -> tuple[int, ...]:
    """Give each group a loop, in signal order, so that the most pedals stay where they are."""
    number_of: dict[int, int] = {}
    old = {loop.number: frozenset(loop.pedals) for loop in rig.loops}
    for side in SIDES:
        mine = [group for group in groups if group & needs.side_mask(side)]
        row = slots[side]
        best: list[list[tuple[int, tuple[int, ...]]]] = [[(0, ())] * (len(row) + 1)]
        for nth, group in enumerate(mine):
            names = frozenset(needs.names(group))
            line: list[tuple[int, tuple[int, ...]]] = [(-1, ())]
            for at, number in enumerate(row):
                score, chosen = best[nth][at]
                stay = len(names & old.get(number, frozenset()))
                here = (score + stay, (*chosen, number)) if score >= 0 else (-1, ())
                line.append(max(line[-1], here, key=lambda choice: choice[0]))
            best.append(line)
        number_of |= dict(zip(mine, best[-1][-1][1]))
    return tuple(number_of[group] for group in groups)


def _chain(
    rig: Rig,
    needs: Needs,
    side: Side,
    slots: Sequence[int],
    held: dict[int, tuple[str, ...]],
    question: Question,
) -> tuple[int | str, ...]:
    loop_of = {pedal: number for number, pedals in held.items() for pedal in pedals}
    items: list[int | str] = []
    for pedal, its in zip(needs.pedals, needs.sides):
        if its == side:
            item = loop_of.get(pedal, pedal)
            if item not in items:
                items.append(item)
    free_order = not (question.keep_order or (rig.switcher and rig.switcher.between_loops))
    if free_order:
        items = _parted(rig, items, side)
    empty = [number for number in slots if number not in items]
    for number in empty:
        items.insert(_beside(rig, items, slots, number, side), number)
    return tuple(items)


def _beside(
    rig: Rig, items: Sequence[int | str], slots: Sequence[int], number: int, side: str
) -> int:
    """Where an empty loop goes: next to the loop before it, or the one after it."""
    at = list(slots).index(number)
    for before in reversed(slots[:at]):
        if before in items:
            return items.index(before) + 1
    for after in slots[at + 1 :]:
        if after in items:
            return items.index(after)
    old: Sequence[int | str] = getattr(rig.chain, side)
    first = next((nth for nth, item in enumerate(old) if isinstance(item, int)), len(old))
    ahead = [item for item in old[:first] if item in items]
    return max((items.index(item) + 1 for item in ahead), default=0)


def _parted(rig: Rig, items: Sequence[int | str], side: Side) -> list[int | str]:
    """Move outside pedals that stand between loops before or after all of them."""
    kinds = {pedal.id: pedal.kind for pedal in rig.pedals}
    loops = [at for at, item in enumerate(items) if isinstance(item, int)]
    if not loops:
        return list(items)
    early: list[int | str] = []
    late: list[int | str] = []
    for at, item in enumerate(items):
        if isinstance(item, int) or not loops[0] < at < loops[-1]:
            continue
        before = sum(loop < at for loop in loops)
        after = len(loops) - before
        first = before < after or (before == after and kinds[item] in BEFORE_LOOPS[side])
        (early if first else late).append(item)
    rest = [item for item in items if item not in early and item not in late]
    start = next(at for at, item in enumerate(rest) if isinstance(item, int))
    end = max(at for at, item in enumerate(rest) if isinstance(item, int))
    return [*rest[:start], *early, *rest[start : end + 1], *late, *rest[end + 1 :]]
