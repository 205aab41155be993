"""Quick searches of one rig's loops for many switchers: the costs of all sets are shared."""

from __future__ import annotations

from collections.abc import Sequence

from rigtui.model.rig import Rig, Switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.goal import Goal
from rigtui.plan.ask.needs import Needs, needs_of
from rigtui.plan.ask.other_switcher import MOST_MEMORIES
from rigtui.plan.ask.question import Question
from rigtui.plan.insight.sizes import Size
from rigtui.plan.loops.designs import Design, SearchOutcome
from rigtui.plan.loops.limits import limits_of
from rigtui.plan.loops.pricing import least_steps, placed
from rigtui.plan.loops.search import QUICK, Effort, LoopSearch

MOST_PRICED = 8
"""Designs of which the bank steps are counted for each switcher."""
_NEAR = 0.02
"""Designs within this share of the best are weighed with their bank steps."""
_FEW_SOUNDS = 300
"""Sections up to which there is time for that."""
_EXACT = 16
"""Presets up to which memories are chosen with a proof: then that takes no longer."""


class Searches:
    """Searches for the best designs, and the bank steps of those."""

    def __init__(
        self, rig: Rig, evening: Evening, question: Question, control: Control, goal: Goal
    ) -> None:
        self.control = control
        self.needs: Needs = needs_of(rig, evening, question.keep)
        first = LoopSearch(
            self.needs, limits_of(rig, self.needs, question), MOST_MEMORIES, goal=goal,
            control=control,
        )  # fmt: skip
        self.pool, self.costs = first.every_set(), first.costs
        self.outcomes: dict[tuple[int | None, int, bool], SearchOutcome] = {}
        self._steps: dict[tuple[tuple[int, ...], int, int, int], int] = {}

    def at(self, size: Size, seeds: Sequence[int] = (), effort: Effort = QUICK) -> SearchOutcome:
        """The best designs for one switcher, bank steps aside."""
        key = (size.question.total_loops, size.memories, effort is QUICK)
        if key not in self.outcomes:
            search = LoopSearch(
                self.needs,
                size.limits,
                size.memories,
                toggling=size.switcher.loop_switches,
                pool=self.pool,
                costs=self.costs,
                slack=_NEAR if len(self.needs.every_sound()) <= _FEW_SOUNDS else 0,
                most_kept=MOST_PRICED,
                control=self.control.within(5),
                seeds=seeds,
                effort=effort,
            )
            self.outcomes[key] = search.run()
            self.control.stop_if_over()
        return self.outcomes[key]

    def steps(self, design: Design, switcher: Switcher, most: int | None) -> int:
        """Bank steps of a design; where they cannot be below `most`, just any such number."""
        key = (design.groups, design.cost, switcher.memories, switcher.bank_size)
        if key not in self._steps:
            if most is not None:
                least = least_steps(self.needs, design, switcher, self.control)
                if least >= most:
                    return least
            exact = len(design.packing.presets) <= _EXACT and switcher.banks <= 4
            own = self.control.within(1)
            placement = placed(self.needs, design, switcher, own, exact=exact, rounds=75)
            self.control.stop_if_over()
            self._steps[key] = placement.bank_steps
        return self._steps[key]
