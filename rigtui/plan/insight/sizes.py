"""The switchers of a curve: one property of the rig's own at several sizes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from rigtui.model.banks import Spot
from rigtui.model.edits import set_switcher
from rigtui.model.edits.tables import changed
from rigtui.model.playable import in_range
from rigtui.model.rig import Rig, Switcher
from rigtui.plan.ask.checked import MOST_LOOPS, needed_switcher
from rigtui.plan.ask.needs import Needs
from rigtui.plan.ask.other_switcher import MOST_MEMORIES
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError
from rigtui.plan.loops.designs import Design
from rigtui.plan.loops.layouts import LayoutLimits
from rigtui.plan.loops.limits import limits_of, memories_of
from rigtui.plan.memories.copies import in_memories

KINDS = ("loops", "memories", "bank_size")
_USUAL_LOOPS = 16
_USUAL_MEMORIES = (4, 6, 8, 10, 12, 16, 20, 24, 32, 48, 64, 100, MOST_MEMORIES)
_USUAL_BANKS = range(1, 11)


@dataclass(frozen=True, slots=True)
class Size:
    """A switcher of one size, and what plans for it must keep to."""

    kind: str
    value: int
    now: bool
    """Whether it is the switcher as it stands."""
    switcher: Switcher
    question: Question
    limits: LayoutLimits
    memories: int

    def fits(self, design: Design) -> bool:
        """Whether a design can be had on it."""
        return self.limits.holds(design.groups) and len(design.packing.presets) <= self.memories

    def ways_on(self, rig: Rig) -> list[Rig]:
        """The rig on this switcher, each preset in the memories that it had; if there are more
        banks on a ring, also with what they hold over and over, so that no way is longer."""
        ring, before = self.switcher.ring, needed_switcher(rig)
        homes = {row.id: in_range(row, self.switcher.memories) for row in rig.presets}
        ways = [self._stored(rig, homes)]
        more = self.switcher.banks - before.banks
        if more > 0 and ring.wraps and self.switcher.bank_size == before.bank_size:
            low = 0 if ring.up_only else -((ring.banks - 1) // 2)
            again = [(at % ring.banks, at % before.banks) for at in range(low, low + ring.banks)]
            spots = {
                row.id: [before.spot(memory) for memory in in_range(row, before.memories)]
                for row in rig.presets
            }
            homes = {
                preset: [
                    self.switcher.memory_at(Spot(bank, spot.switch))
                    for bank, old in again
                    for spot in held
                    if spot.bank == old
                ]
                for preset, held in spots.items()
            }
            ways.append(self._stored(rig, homes))
        return ways

    def _stored(self, rig: Rig, homes: Mapping[str, Sequence[int]]) -> Rig:
        """The rig on this switcher with its presets in these memories, in each bank once."""
        once = {
            preset: {
                self.switcher.spot(memory).bank: memory
                for memory in sorted(memories, reverse=True)
                if memory <= self.switcher.memories
            }
            for preset, memories in homes.items()
        }
        on = changed(rig, switcher=self.switcher)
        return in_memories(on, {preset: [*its.values()] for preset, its in once.items()})

    def holds(self, smaller: Size) -> bool:
        """Whether a plan for a smaller switcher of the curve is one for this, no dearer."""
        return nested(self.kind, smaller.switcher, self.switcher)


def nested(kind: str, small: Switcher, large: Switcher) -> bool:
    """Whether presets that keep their memories are never further apart on the larger switcher.

    More loops change no bank. More memories may leave the steps between the old banks as they
    are; on a ring more banks mostly make the way round longer. Banks twice or three times as large
    are old neighbours put together.
    """
    if kind == "loops":
        return True
    if kind == "memories":
        return all(
            further <= near
            for row, longer in zip(small.ring.table, large.ring.table)
            for near, further in zip(row, longer)
        )
    return large.bank_size % small.bank_size == 0


def sizes_of(
    rig: Rig, needs: Needs, question: Question, kind: str, values: Iterable[int] | None = None
) -> list[Size]:
    """Return the switchers of a curve, from the smallest on.

    Args:
        rig: The rig.
        needs: What its songs want.
        question: The options.
        kind: One of `KINDS`.
        values: The sizes; a fitting range where none are given.

    Raises:
        PlanError: a size that no switcher has.
    """
    chosen = sorted(set(_usual(rig, needs, kind) if values is None else values))
    low, high = (0, MOST_LOOPS) if kind == "loops" else (1, MOST_MEMORIES)
    for value in chosen:
        if not low <= value <= high:
            raise PlanError(f"{kind.replace('_', ' ')} must be {low} to {high}, not {value}")
    return [_size(rig, needs, question, kind, value) for value in chosen]


def _usual(rig: Rig, needs: Needs, kind: str) -> set[int]:
    """The sizes to look at where none are given."""
    switcher = needed_switcher(rig)
    if kind == "loops":
        switched = (needs.ever_on & needs.ever_off).bit_count()
        return {*range(min(switched, _USUAL_LOOPS) + 1), min(len(rig.loops), MOST_LOOPS)}
    if kind == "bank_size":
        sizes = {*_USUAL_BANKS, switcher.bank_size}
        return {size for size in sizes if size <= switcher.memories}
    return {*_USUAL_MEMORIES, switcher.memories}


def _size(rig: Rig, needs: Needs, question: Question, kind: str, value: int) -> Size:
    switcher = needed_switcher(rig)
    now = value == len(rig.loops) if kind == "loops" else value == getattr(switcher, kind)
    if kind == "loops":
        question = replace(question, loops=None, total_loops=value)
    elif kind == "memories":
        question = replace(question, memories=value)
    if kind != "loops":
        switcher = _switcher(rig, **{kind: value})
    limits = limits_of(rig, needs, question)
    return Size(kind, value, now, switcher, question, limits, memories_of(rig, question))


def _switcher(rig: Rig, **fields: int) -> Switcher:
    """The switcher with another size; one without bank buttons gets them if it needs them."""
    switcher = needed_switcher(rig)
    buttons = switcher.bank_buttons
    if buttons == "none" and switcher.model_copy(update=fields).banks > 1:
        buttons = "up-down"
    other = set_switcher(rig, **fields, bank_buttons=buttons).switcher
    assert other is not None
    return other
