"""All three together: loops, switches and route, the best designs priced through to the end."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from rigtui.model.rig import Rig
from rigtui.plan.ask.checked import needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import OF_GOAL
from rigtui.plan.ask.needs import Needs
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Proof, Status, Stopped
from rigtui.plan.loops.costs import LoopCosts
from rigtui.plan.loops.designs import Design, SearchOutcome
from rigtui.plan.loops.limits import memories_of
from rigtui.plan.loops.pricing import least_steps, placed, settled, settled_flow, settled_rows
from rigtui.plan.memories.contents import fewest_banks
from rigtui.plan.memories.placing import Placement, place
from rigtui.plan.presets.cubes import Cube
from rigtui.plan.presets.packing import Packing
from rigtui.plan.presets.search import PresetSearch, Rows
from rigtui.plan.rebuild.rig import rebuild
from rigtui.plan.route.planner import plan_route
from rigtui.plan.ways_out.feasible import Fit
from rigtui.plan.whole.filled import copied, filled, with_walks
from rigtui.plan.whole.loops import (
    loop_plan,
    offering,
    plan_if_possible,
    search_loops,
)
from rigtui.plan.whole.polished import filled_as, polished

_NEAR = 0.02
_FIRST = 32
_MOST = 400
_FINALISTS = _ROUTED = 3
_CHEAPEST = 2
"""Designs that cost least, bank steps aside: with copies those may be the best."""
_SHARE, _SEARCH_SECONDS = 0.4, 0.9
"""Of the time, for the search that proves, and how long it has in any case."""
_PLACED = 0.1
"""Of the time that is left, for placing each of them without copies."""
_WAYS = 20_000
_LAST_SECONDS = 0.5
"""How long each of them may be walked though the time is up."""


def plan_all(
    rig: Rig,
    question: Question | None = None,
    control: Control | None = None,
) -> Plan:
    """Choose loops, presets, memories and mapping together.

    Designs within 2 % of the best are priced with the bank steps that their presets cost. Then
    every design that could still be better in all is looked at, if there are not too many, with all
    presets for its loops where sections leave a choice: that proves the winner. The route then has
    the last word.

    Args:
        rig: The rig; the sound of every section stays as it is.
        question: The setlists that count, and the options.
        control: Progress out, cancel in.

    Raises:
        PlanError: no switcher, or a question that makes no sense.
    """
    return plan_if_possible("all", rig, question, control or Control(), _weighed)


def _weighed(
    rig: Rig, evening: Evening, question: Question, before: Figures, fit: Fit, control: Control
) -> Plan | None:
    needs = fit.needs
    better = offering("all", rig, evening, needs, question, before, control)
    left = control.seconds_left
    own = control if left is None else control.within(max(left * _SHARE, _SEARCH_SECONDS))
    search = _Joint(rig, needs, question, own, fit, better)
    search.run()
    control.stop_if_cancelled()
    if search.best is None and own is not control:
        search = _Joint(rig, needs, question, control, fit, better)
        search.run()
        control.stop_if_cancelled()
    if search.best is None:
        return None
    plans = []
    for nth, design in enumerate(search.finalists()):
        left = control.seconds_left
        own = control if left is None or question.copies == 0 else control.within(left * _PLACED)
        built = rebuild(rig, evening, needs, design, question, own)
        plan = loop_plan(
            "all", rig, evening, needs, before, search.outcome, design, built, control, search.bound
        )
        if nth < _ROUTED:
            plan = _with_route(
                plan, plan_route(built.rig, question, _hurried(control)), search.bound
            )
        control.stop_if_cancelled()
        plans.append(plan)
        if control.over:
            break
    least = search.bound if question.copies == 0 else search.copied_bound
    plan = filled(plans, rig, evening, question, control, least)
    soon = control.finishing(_LAST_SECONDS)
    if plan.proved or control.over or all(map(search.forced, search.finalists())):
        return with_walks(plan, evening, soon)

    def made(design: Design, memories: Mapping[Cube, Sequence[int]]) -> Plan:
        built = rebuild(rig, evening, needs, design, question, control)
        other = loop_plan(
            "all", rig, evening, needs, before, search.outcome, design, built, control, least
        )
        start = filled_as(built.rig, built.ids, design, memories)
        return copied(other, rig, evening, question, control, least, start)

    best = polished([plan, *plans], rig, needs, search.costs, question, control, made)
    best = replace(best, details={**plan.details, **best.details})
    return with_walks(best, evening, control.finishing(_LAST_SECONDS))


def _hurried(control: Control) -> Control:
    """For a route that is given up, whatever it has not done by then, soon after the time."""
    soon = control.finishing(_LAST_SECONDS)
    return Control(cancelled=lambda: soon.over)


def _with_route(plan: Plan, route: Plan, bound: int) -> Plan:
    """Adopt the route on top of a plan, where it saves anything."""
    if route.rig is None or route.after is None or plan.after is None:
        return plan
    part = Proof("route", f"{OF_GOAL[plan.goal.first]} as written, with the new layout",
                 plan.goal.value(route.after), route.lower_bound)  # fmt: skip
    weighed = plan.goal.weighed(route.after)
    lower = min(bound, weighed)
    proved = weighed <= lower
    status = Status.OPTIMAL if proved else plan.status
    if not proved and status is Status.OPTIMAL:
        status = Status.FEASIBLE
    return replace(
        plan,
        status=status,
        rig=route.rig,
        after=route.after,
        bound=lower,
        objective={**plan.objective, "moves": route.after.moves},
        parts=(*plan.parts, part),
        details={**plan.details, "songs": route.details["songs"]},
    )


class _Joint:
    """Designs in order of their loops alone, priced with their bank steps."""

    def __init__(
        self,
        rig: Rig,
        needs: Needs,
        question: Question,
        control: Control,
        fit: Fit,
        better: Callable[[Design], None],
    ) -> None:
        self.rig, self.needs, self.question, self.control = rig, needs, question, control
        self.fit, self.better = fit, better
        self.switcher, self.move = needed_switcher(rig), control.goal.move
        self.costs = LoopCosts(needs, control.goal)
        self.memories = memories_of(rig, question)
        self.outcome = SearchOutcome()
        self.best: tuple[tuple[int, ...], Design] | None = None
        self.priced: dict[tuple[int, ...], tuple[tuple[int, ...], Design]] = {}
        self.bound = self.copied_bound = 0
        """No design weighs less, bank steps and all: each preset in one memory, or with copies."""
        self._floor: dict[tuple[int, ...], int] = {}
        self._open: dict[tuple[int, ...], Design] = {}
        self._placed: dict[Rows, Placement] = {}

    def run(self) -> None:
        """Search; whatever stops it, the best so far is kept."""
        self.outcome = search_loops(
            self.rig,
            self.needs,
            self.question,
            self.control,
            slack=_NEAR,
            most_kept=_FIRST,
            fit=self.fit,
            better=self.better,
        )
        self.bound = self.copied_bound = self.outcome.bound
        if not self.outcome.designs:
            return
        try:
            self._price(self.outcome.designs)
            assert self.best is not None
            if self.best[0][0] > self.bound:
                self._prove()
        except Stopped:
            pass
        if self.best is None:
            self._take(self.outcome.designs[0], exact=False)

    @property
    def total(self) -> int:
        """What the best so far weighs, bank steps and all."""
        return 1 << 60 if self.best is None else self.best[0][0]

    def _prove(self) -> None:
        """Look at every design that weighs less than the best total, bank steps aside."""
        wide = search_loops(
            self.rig, self.needs, self.question, self.control, limit=self.total - 1,
            most_kept=_MOST,
        )  # fmt: skip
        self._price(wide.designs)
        if not (wide.complete and wide.listed) or self.question.pin_switch:
            return
        floors = {groups: self._least(groups, bound) for bound, groups in wide.unsettled}
        for groups, floor in floors.items():
            self._floor.setdefault(groups, floor)
        for groups in sorted(self._open, key=lambda groups: self._floor[groups]):
            if self._floor[groups] < self.total:
                self._open_up(self._open[groups])
        self.bound = max(self.bound, min([self.total, *self._floor.values()]))
        costs = [*((d.bound, d.groups) for d in wide.designs), *wide.unsettled]
        copied = [self._least_copied(groups, bound) for bound, groups in costs]
        self.copied_bound = max(self.copied_bound, min([self.total, *copied]))

    def _least_copied(self, groups: tuple[int, ...], bound: int) -> int:
        """No presets for these loops weigh less, with as many copies as there is room for."""
        if self.switcher.loop_switches or self.needs.kept:
            return bound
        walks = self.costs.walks(groups)
        rows, presets = settled_rows(walks, len(groups))
        if presets >= self.memories:
            return self._floor.get(groups, self.total)  # there is no room for copies
        room = max(self.switcher.rooms)
        steps = sum(song.times * fewest_banks(row, room) for song, row in zip(walks, rows))
        return bound + self.move * steps

    def _least(self, groups: tuple[int, ...], bound: int) -> int:
        """No presets for these loops weigh less, bank steps and all."""
        if self.switcher.loop_switches or self.needs.kept:
            return bound
        flow = settled_flow(self.costs.walks(groups), len(groups))
        if len(flow) > self.memories:
            return 1 << 60  # each of them takes a memory
        if len(flow) < 2:
            return bound
        return bound + self.move * place(self.switcher, flow, control=self.control).bound

    def forced(self, design: Design) -> bool:
        """Whether these loops leave no choice of presets."""
        if self.switcher.loop_switches or self.needs.kept:
            return False
        walks = self.costs.walks(design.groups)
        channels = {cube.channel for song in walks for cube in song.cubes}
        loops = len(design.groups)
        return all(settled(cube, loops, channels) for song in walks for cube in song.cubes)

    def _open_up(self, design: Design) -> None:
        """Go through all presets for these loops that could still be the best in all."""
        if self.switcher.loop_switches or self.needs.kept:
            return
        apart = self.costs.apart + self.costs.outside(~design.inside)
        steps = self._floor[design.groups] - design.bound
        walks = self.costs.walks(design.groups)
        floors = []
        seen: set[Rows] = set()

        def offer(cost: int, presets: Sequence[Cube], used: Rows) -> int:
            packing = Packing(cost, cost, tuple(presets), used)
            other = replace(design, packing=packing, cost=apart + cost, bound=apart + cost)
            shape = _shape(used)
            if shape not in seen:
                seen.add(shape)
                if self._least_of(other) < self.total:
                    floors.append(self._take(other))
            return self.total - 1 - apart - steps

        search = PresetSearch(walks, [], self.memories, _WAYS, 0, self.control)
        if search.every(self.total - 1 - apart - steps, offer):
            self._floor[design.groups] = min([self.total, *floors])

    def _price(self, designs: Sequence[Design]) -> None:
        for nth, design in enumerate(designs):
            if design.groups in self.priced:
                continue
            self.control.tell("pricing designs", nth / len(designs), bound=self.bound)
            if not self.forced(design):
                self._open[design.groups] = design
                self._floor[design.groups] = self._least(design.groups, design.bound)
            if self._least_of(design) > self.total:
                continue
            floor = self._take(design)
            self._floor.setdefault(design.groups, floor)

    def _least_of(self, design: Design) -> int:
        """A design with these very presets weighs no less, bank steps and all."""
        steps = least_steps(self.needs, design, self.switcher, self.control)
        return design.cost + self.move * steps

    def _take(self, design: Design, *, exact: bool = True) -> int:
        """Price a design with its bank steps; return what it weighs at least."""
        shape = _shape(design.packing.used)
        placement = self._placed.get(shape)
        if placement is None:
            placement = placed(self.needs, design, self.switcher, self.control, exact=exact)
            self._placed[shape] = placement
        total = design.cost + self.move * placement.bank_steps
        key = (total, *design.key[1:])
        if design.groups not in self.priced or key < self.priced[design.groups][0]:
            self.priced[design.groups] = (key, design)
        if self.best is None or key < self.best[0]:
            self.best = (key, design)
            self.better(design)
        return design.cost + self.move * placement.bound

    def finalists(self) -> list[Design]:
        """The best few, to be routed."""
        ranked = [design for _, design in sorted(self.priced.values(), key=lambda row: row[0])]
        best = [variant for design in ranked[:_FINALISTS] for variant in design.variants]
        cheapest = sorted(ranked[_FINALISTS:], key=lambda design: design.key)
        return best + cheapest[: _CHEAPEST if self.question.copies != 0 else 0]


def _shape(used: Rows) -> Rows:
    """Which sections share a preset, whatever the order of the presets."""
    place: dict[int, int] = {}
    return tuple(tuple(place.setdefault(at, len(place)) for at in row) for row in used)
