"""What another switcher would buy: presses and extra presses by loops, memories and bank size.

The figures are quick ones: plans that can be had, each with a bound on what a longer search could
find. A plan for fewer loops is a plan for more, so a curve over loops never goes up. Over memories
and bank sizes it may, as the way round the banks changes; it then says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from rigtui.model.edits import set_switcher
from rigtui.model.edits.tables import changed
from rigtui.model.rig import Rig, Switcher
from rigtui.moves.figures import effort_of
from rigtui.plan.ask.checked import MOST_LOOPS, checked, needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of, figures, goal_of
from rigtui.plan.ask.goal import Goal
from rigtui.plan.ask.needs import Needs, needs_of
from rigtui.plan.ask.other_switcher import MOST_MEMORIES
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError, Stopped
from rigtui.plan.ask.so_far import shared_out, stands
from rigtui.plan.insight.points import Curve, CurvePoint
from rigtui.plan.loops.designs import Design, SearchOutcome
from rigtui.plan.loops.limits import limits_of, memories_of
from rigtui.plan.loops.pricing import least_steps, placed
from rigtui.plan.loops.search import GLANCE, QUICK, Effort, LoopSearch
from rigtui.plan.memories.placing import place
from rigtui.plan.memories.switches import (
    changes_between,
    first_recalls,
    moves_without_steps,
    presets_of,
)
from rigtui.plan.rebuild.rig import rebuild

KINDS = ("loops", "memories", "bank_size")
_USUAL_LOOPS = 16
_MOST_PRICED = 8
"""Designs of which the bank steps are counted for each switcher."""
_NEAR = 0.02
"""Designs within this share of the best are weighed with their bank steps."""
_FEW_SOUNDS = 300
"""Sections up to which there is time for that."""
_IN_VAIN = 2
"""Loops more that a search could make nothing of, after which it is not asked to again."""
_EXACT = 16
"""Presets up to which memories are chosen with a proof: then that takes no longer."""


def moves_curve(
    rig: Rig,
    kind: str = "loops",
    question: Question | None = None,
    values: Iterable[int] | None = None,
    control: Control | None = None,
    *,
    bank_steps: bool = True,
) -> Curve:
    """Find the least effort, or what the question puts first, for switchers of several sizes.

    Loops may be on either side, as the songs need them.

    Args:
        rig: The rig; its songs and pedals stay as they are.
        kind: "loops", "memories" or "bank_size".
        question: The setlists that count, and the options for loops.
        values: Sizes to look at; a fitting range where none is given.
        control: Progress out, cancel in; the points so far are given then.
        bank_steps: Whether to count bank steps too; without them it is much quicker.

    Raises:
        PlanError: an unknown kind, a silly size, no switcher.
    """
    if kind not in KINDS:
        raise PlanError(f"a curve is over {', '.join(KINDS[:-1])} or {KINDS[-1]}, not {kind}")
    curves = Curves(rig, question, control, bank_steps=bank_steps)
    return curves.over(kind, values)


@dataclass(frozen=True, slots=True)
class _Size:
    """A switcher of one size, and what plans for it must keep to."""

    value: int
    switcher: Switcher
    question: Question
    loops: int
    memories: int


@dataclass(frozen=True, slots=True)
class _Priced:
    total: int
    """What it weighs by the goal."""
    steps: int
    """Bank steps in it."""
    design: Design | None
    """None for the rig as it stands."""


class Curves:
    """Curves of one rig: what they share is worked out once."""

    def __init__(
        self,
        rig: Rig,
        question: Question | None = None,
        control: Control | None = None,
        *,
        bank_steps: bool = True,
    ) -> None:
        self.rig, self.bank_steps = rig, bank_steps
        self.control = control or Control()
        self.question = checked(rig, question or Question())
        self.switcher = needed_switcher(rig)
        self.evening = evening_of(rig, self.question.setlists)
        self.before = figures(rig, self.evening)
        self.goal = goal_of(rig, self.evening, self.question.first)
        self._search: _Searches | None = None
        self._pool: list[Design] = []
        """Designs found by now, for whichever switcher: each may do for others."""
        self._replaced: dict[Switcher, _Priced] = {}
        self._extra: dict[Design, int] = {}

    def over(self, kind: str, values: Iterable[int] | None = None) -> Curve:
        """Find one curve; stopped by the player, the points so far."""
        points: list[CurvePoint] = []
        complete = False
        try:
            self.control.stop_if_over()
            if self._search is None:
                self._search = _Searches(
                    self.rig, self.evening, self.question, self.control, self.goal
                )
            chosen = sorted(set(self._usual(kind) if values is None else values))
            for value in chosen:
                low, high = (0, MOST_LOOPS) if kind == "loops" else (1, MOST_MEMORIES)
                if not low <= value <= high:
                    raise PlanError(
                        f"{kind.replace('_', ' ')} must be {low} to {high}, not {value}"
                    )
            self._find(kind, chosen, points)
            complete = True
        except Stopped:
            pass
        return Curve(kind, self.before, tuple(points), complete, self.goal)

    def _usual(self, kind: str) -> list[int]:
        """The sizes to look at where none are given."""
        if kind == "loops":
            assert self._search is not None
            needs = self._search.needs
            switched = (needs.ever_on & needs.ever_off).bit_count()
            usual = set(range(min(switched, _USUAL_LOOPS) + 1))
            return sorted(usual | {min(len(self.rig.loops), MOST_LOOPS)})
        if kind == "bank_size":
            sizes = {*range(1, 11), self.switcher.bank_size}
            return [size for size in sizes if size <= self.switcher.memories]
        usual = {4, 6, 8, 10, 12, 16, 20, 24, 32, 48, 64, 100, MOST_MEMORIES}
        return sorted({*usual, self.switcher.memories})

    def _size(self, kind: str, value: int) -> _Size:
        question, switcher = self.question, self.switcher
        if kind == "loops":
            question = replace(question, loops=None, total_loops=value)
        elif kind == "memories":
            question = replace(question, memories=value)
            switcher = _switcher(self.rig, memories=value)
        else:
            switcher = _switcher(self.rig, bank_size=value)
        loops = MOST_LOOPS if question.total_loops is None else question.total_loops
        return _Size(value, switcher, question, loops, memories_of(self.rig, question))

    def _find(self, kind: str, chosen: Sequence[int], points: list[CurvePoint]) -> None:
        """Add the points, from the smallest switcher on."""
        assert self._search is not None
        sizes = [self._size(kind, value) for value in chosen]
        if not sizes:
            return
        top = self._search.at(sizes[-1], effort=GLANCE)
        owned = {"loops": len(self.rig.loops), "memories": self.switcher.memories,
                 "bank_size": self.switcher.bank_size}[kind]  # fmt: skip
        known: list[tuple[_Size, _Priced]] = []
        stalled = 0
        for nth, size in enumerate(sizes):
            self.control.tell(f"{kind.replace('_', ' ')}: {size.value}", nth / len(sizes))
            outcome = top
            if not (stalled >= _IN_VAIN or (_settled(top) and _fits(top.designs[0], size))):
                fitting = [design for design in self._pool if _fits(design, size)]
                outcome = self._search.at(size, [design.inside for design in fitting[:2]])
                best = min((design.cost for design in fitting), default=1 << 60)
                better = any(design.cost < best for design in outcome.designs)
                stalled = 0 if better or _settled(outcome) or kind != "loops" else stalled + 1
            self._pool = _pooled(self._pool, outcome.designs)
            fitting = [design for design in self._pool if _fits(design, size)]
            best_of = self._priced(kind, size, fitting, known)
            now = size.value == owned
            written = self._as_written(kind, size)
            if written is not None and (best_of is None or best_of.total > written.total):
                best_of = written
            points.append(self._point(kind, size, outcome, best_of, known, now))
            if best_of is not None:
                known.append((size, best_of))
        _back(points)

    def _as_written(self, kind: str, size: _Size) -> _Priced | None:
        """The songs as they are mapped now, where the switcher can have them so.

        Presets stay in their memories, or are placed anew, whichever costs less.
        """
        rig = changed(self.rig, switcher=size.switcher)
        used = presets_of(rig, self.evening)
        loops = sum(bool(loop.pedals) for loop in rig.loops)
        if len(used) > size.memories or not shared_out(rig, self.question):
            return None
        if kind == "loops" and loops > size.loops:
            return None
        if size.switcher not in self._replaced:
            steps = 0
            if self.bank_steps:
                placement = place(
                    size.switcher,
                    changes_between(rig, self.evening, used),
                    control=self.control.within(1),
                    starts=first_recalls(rig, self.evening, used),
                    exact=False,
                )
                self.control.stop_if_over()
                steps = placement.bank_steps
                if stands(rig, self.evening, replace(self.question, loops=None, total_loops=None)):
                    steps = min(steps, figures(rig, self.evening).bank_steps)
            moves = moves_without_steps(rig, self.evening) + steps
            weight = self.goal.weighed(replace(self.before, moves=moves))
            self._replaced[size.switcher] = _Priced(weight, steps, None)
        return self._replaced[size.switcher]

    def _priced(
        self,
        kind: str,
        size: _Size,
        designs: Sequence[Design],
        known: Sequence[tuple[_Size, _Priced]],
    ) -> _Priced | None:
        """The cheapest design for one switcher, bank steps and all."""
        assert self._search is not None
        best: _Priced | None = None
        for smaller, its in known:
            if _nested(kind, smaller.switcher, size.switcher) and (
                best is None or its.total < best.total
            ):
                best = its
        for design in sorted(designs, key=lambda each: each.key)[:_MOST_PRICED]:
            if best is not None and design.cost >= best.total:
                break
            steps = 0
            if self.bank_steps:
                most = None if best is None else -(-(best.total - design.cost) // self.goal.move)
                steps = self._search.steps(design, size.switcher, most)
            total = design.cost + self.goal.move * steps
            if best is None or total < best.total:
                best = _Priced(total, steps, design)
        return best

    def _point(
        self,
        kind: str,
        size: _Size,
        outcome: SearchOutcome,
        best: _Priced | None,
        known: Sequence[tuple[_Size, _Priced]],
        now: bool,
    ) -> CurvePoint:
        if best is None:
            return CurvePoint(
                size.value, None, 0, None, None, None, None, 0, 0, now, size.switcher
            )  # fmt: skip
        smaller = [other.switcher for other, its in known if its.total < best.total]
        if best.design is None:
            used = {section.preset for song in self.evening.songs for section in song.sections}
            presets = sum(preset.id in used for preset in self.rig.presets)
            loops = sum(bool(loop.pedals) for loop in self.rig.loops)
            extra = self.before.extra_presses
        else:
            presets, loops = len(best.design.packing.presets), len(best.design.groups)
            extra = self._extra_presses(best.design, size)
        moves = (best.total - self.goal.extra * extra) // self.goal.move
        return CurvePoint(
            value=size.value,
            weight=best.total,
            bound=min(best.total, outcome.bound),
            moves=moves,
            extra_presses=extra,
            effort=effort_of(moves, extra, self.rig.player.extra_press_weight),
            without_bank_steps=moves - best.steps,
            loops_used=loops,
            presets_used=presets,
            now=now,
            switcher=size.switcher,
            better=smaller[-1] if smaller else None,
        )

    def _extra_presses(self, design: Design, size: _Size) -> int:
        """Extra presses of a design, as they are counted on its rig; memories make none."""
        if design not in self._extra:
            assert self._search is not None
            rig = changed(self.rig, switcher=size.switcher)
            built = rebuild(
                rig, self.evening, self._search.needs, design, size.question,
                self.control.without_deadline(), exact=False,
            )  # fmt: skip
            self._extra[design] = figures(built.rig, self.evening).extra_presses
        return self._extra[design]


class _Searches:
    """Searches of one rig's loops: the costs of all sets of pedals are shared."""

    def __init__(
        self, rig: Rig, evening: Evening, question: Question, control: Control, goal: Goal
    ) -> None:
        self.rig, self.control = rig, control
        self.needs: Needs = needs_of(rig, evening, question.keep)
        first = LoopSearch(
            self.needs, limits_of(rig, self.needs, question), MOST_MEMORIES, goal=goal,
            control=control,
        )  # fmt: skip
        self.pool, self.costs = first.every_set(), first.costs
        self.outcomes: dict[tuple[int, int, bool], SearchOutcome] = {}
        self._steps: dict[tuple[tuple[int, ...], int, int, int], int] = {}

    def at(self, size: _Size, seeds: Sequence[int] = (), effort: Effort = QUICK) -> SearchOutcome:
        """The best designs for one switcher, bank steps aside."""
        key = (size.loops, size.memories, effort is QUICK)
        if key not in self.outcomes:
            search = LoopSearch(
                self.needs,
                limits_of(self.rig, self.needs, size.question),
                size.memories,
                toggling=size.switcher.loop_switches,
                pool=self.pool,
                costs=self.costs,
                slack=_NEAR if len(self.needs.every_sound()) <= _FEW_SOUNDS else 0,
                most_kept=_MOST_PRICED,
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


def _fits(design: Design, size: _Size) -> bool:
    return len(design.groups) <= size.loops and len(design.packing.presets) <= size.memories


def _settled(outcome: SearchOutcome) -> bool:
    """Whether a search has proved its best design."""
    return bool(outcome.designs) and outcome.designs[0].cost <= outcome.bound


def _pooled(pool: Sequence[Design], more: Sequence[Design]) -> list[Design]:
    """All designs by now, the best first; of those with the same loops and as few presets, one."""
    best: dict[tuple[tuple[int, ...], int], Design] = {}
    for design in (*pool, *more):
        key = (design.groups, len(design.packing.presets))
        if key not in best or design.key < best[key].key:
            best[key] = design
    return sorted(best.values(), key=lambda design: design.key)


def _nested(kind: str, small: Switcher, large: Switcher) -> bool:
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


def _back(points: list[CurvePoint]) -> None:
    """Carry bounds down: what a larger switcher cannot do, a smaller one cannot.

    Bounds are of moves without bank steps, where a plan for fewer is always a plan for more.
    """
    floor = 0
    for at in reversed(range(len(points))):
        point = points[at]
        if point.weight is not None:
            floor = max(floor, point.bound if point.bound < point.weight else 0)
            points[at] = replace(point, bound=min(point.weight, max(point.bound, floor)))


def _switcher(rig: Rig, **fields: int) -> Switcher:
    """The switcher with another size; one without bank buttons gets them if it needs them."""
    assert rig.switcher is not None
    buttons = rig.switcher.bank_buttons
    if buttons == "none" and rig.switcher.model_copy(update=fields).banks > 1:
        buttons = "up-down"
    switcher = set_switcher(rig, **fields, bank_buttons=buttons).switcher
    assert switcher is not None
    return switcher
