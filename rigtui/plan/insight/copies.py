"""Copies of presets on the switchers of a curve: the best that was found for each by now.

Songs find what they need in one bank where that bank holds copies; so each design is filled with
them as a plan of everything would be, and what was found for one switcher is tried for others.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rigtui.model.rig import Rig, Switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, figures
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import Goal
from rigtui.plan.ask.needs import Needs
from rigtui.plan.ask.so_far import stands
from rigtui.plan.insight.sizes import Size
from rigtui.plan.loops.designs import Design
from rigtui.plan.loops.pricing import least_with_copies
from rigtui.plan.memories.copies import with_copies
from rigtui.plan.rebuild.rig import rebuild

_Key = tuple[Switcher, int | None]
_NO_LIMIT = 1 << 60


@dataclass(frozen=True, slots=True)
class Filled:
    """A rig whose banks hold copies, and what it comes to."""

    weight: int
    figures: Figures
    rig: Rig


class Fillings:
    """The best rigs with copies by now."""

    def __init__(self, rig: Rig, evening: Evening, needs: Needs, goal: Goal) -> None:
        """Begin with none.

        Args:
            rig: The rig as it stands; its own copies are tried too.
            evening: The songs that count.
            needs: What all songs want.
            goal: What rigs are compared by.
        """
        self.rig, self.evening, self.needs, self.goal = rig, evening, needs, goal
        self._best: dict[_Key, Filled] = {}
        self._looked: set[_Key] = set()
        self._singles: dict[tuple[Design, Switcher], Rig] = {}
        self._found: dict[Design, dict[Switcher, Filled]] = {}
        self._carried: dict[tuple[int, _Key], tuple[Filled, Filled]] = {}
        """What was carried, by its identity and the switcher, and what that came to."""

    def looked(self, size: Size) -> bool:
        """Whether copies were looked for on a switcher."""
        return _key(size) in self._looked

    def at(self, size: Size) -> Filled | None:
        """The best for a switcher by now; None where nothing was found."""
        return self._best.get(_key(size))

    def carry(self, smaller: Size, size: Size) -> None:
        """Try what was found for a smaller switcher on a larger one."""
        known, best = self.at(smaller), self.at(size)
        if known is None or (best is not None and known.weight >= best.weight):
            return
        key = (id(known), _key(size))
        if key not in self._carried:
            ways = [self._counted(rig) for rig in size.ways_on(known.rig)]
            best = min(ways, key=lambda way: (way.figures.unplayable, way.weight))
            self._carried[key] = known, best  # kept, so that no other has its identity
        self._take(size, self._carried[key][1])

    def take(self, size: Size, rig: Rig) -> bool:
        """Take a rig on a switcher, if it is the best by now; return whether it is."""
        return self._take(size, self._counted(rig))

    def look(
        self, size: Size, designs: Sequence[Design], most: int, control: Control, rounds: int
    ) -> bool:
        """Look for copies on a switcher; return whether that gave something better.

        Args:
            size: The switcher.
            designs: Designs that can be had on it.
            most: What it weighs without copies; nothing dearer is of any use.
            control: The time that there is.
            rounds: Starts in vain after which the search for one design ends.
        """
        before = self.at(size)
        if not self.looked(size):
            self._looked.add(_key(size))
            self._as_it_stands(size)
        floors = [least_with_copies(self.needs, design, size.switcher, self.goal.move)
                  for design in designs]  # fmt: skip
        for floor, _, design in sorted(zip(floors, range(len(floors)), designs)):
            best = self.at(size)
            if floor >= min(most, _NO_LIMIT if best is None else best.weight) or control.over:
                break
            if len(design.packing.presets) < size.switcher.memories and size.switcher.banks > 1:
                self._fill(size, design, control, rounds)
        return self.at(size) is not before

    def _as_it_stands(self, size: Size) -> None:
        rig = size.ways_on(self.rig)[0]
        question = replace(size.question, loops=None, total_loops=None)
        loops = sum(bool(loop.pedals) for loop in rig.loops)
        if size.kind == "loops" and loops > size.value:
            return
        if stands(rig, self.evening, question):
            self.take(size, rig)

    def _fill(self, size: Size, design: Design, control: Control, rounds: int) -> None:
        bare, switcher = size.ways_on(self.rig)[0], size.switcher
        if (design, switcher) not in self._singles:
            built = rebuild(
                bare, self.evening, self.needs, design, size.question, control, exact=False
            )
            self._singles[design, switcher] = built.rig
        single = self._singles[design, switcher]
        by_switcher = self._found.setdefault(design, {})
        starts = [by_switcher[switcher].rig] if switcher in by_switcher else []
        others = [its for other, its in by_switcher.items()
                  if other != switcher and other.memories <= switcher.memories]  # fmt: skip
        if others:
            starts += size.ways_on(min(others, key=lambda its: its.weight).rig)
        filled = with_copies(
            single, bare, self.evening, size.question, control, starts=starts, rounds=rounds,
            tidy=False,
        )  # fmt: skip
        by_switcher[switcher] = self._counted(filled.rig)
        self._take(size, by_switcher[switcher])

    def _counted(self, rig: Rig) -> Filled:
        counted = figures(rig, self.evening)
        return Filled(self.goal.weighed(counted), counted, rig)

    def _take(self, size: Size, filled: Filled) -> bool:
        best = self.at(size)
        if filled.figures.unplayable or (best is not None and filled.weight >= best.weight):
            return False
        self._best[_key(size)] = filled
        return True


def _key(size: Size) -> _Key:
    return size.switcher, size.question.total_loops
