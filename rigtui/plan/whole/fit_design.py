"""The layout that shows that a plan is possible, as a design like those that a search finds."""

from __future__ import annotations

from rigtui.plan.ask.goal import Goal
from rigtui.plan.loops.costs import LoopCosts, cube_of
from rigtui.plan.loops.designs import Design, WorstChange
from rigtui.plan.presets.packing import Packing
from rigtui.plan.presets.search import PresetSearch
from rigtui.plan.ways_out.feasible import Fit


def design_of(fit: Fit, goal: Goal) -> list[Design]:
    """The design of a fit, if it has one; with loops toggled on top there is none to give."""
    if fit.toggling or fit.enough is None:
        return []
    costs = LoopCosts(fit.needs, goal)
    walks = costs.walks(fit.groups)
    kept = [cube_of(sound, fit.groups) for sound in fit.needs.kept.values()]
    search = PresetSearch(walks, kept, fit.memories, 0, 0, None)
    search.try_presets(fit.classes)
    if search.best is None:
        return []
    recalls, presets, used = search.best
    packed = Packing(recalls, 0, tuple(presets), used)
    cost = costs.apart + costs.outside(~sum(fit.groups)) + recalls
    worst = WorstChange(fit.needs, costs, fit.limits.switched).of(fit.groups, packed)
    return [Design(fit.groups, cost, costs.fixed, worst, packed)]
