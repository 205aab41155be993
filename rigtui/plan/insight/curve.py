"""What another switcher would buy: presses and extra presses by loops, memories and bank size.

The figures are quick ones: plans that can be had, each with a bound on what a longer search could
find; first without copies of presets, then with copies, for the time that there is. A plan for
fewer loops is a plan for more, so a curve over loops never goes up. Over memories and bank sizes it
may, as the way round the banks changes; it then says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from rigtui.model.edits.tables import changed
from rigtui.model.rig import Rig, Switcher
from rigtui.moves.figures import effort_of
from rigtui.plan.ask.checked import checked, needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import evening_of, figures, goal_of
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError, Stopped
from rigtui.plan.ask.so_far import shared_out, stands
from rigtui.plan.insight.copies import Fillings
from rigtui.plan.insight.points import Copied, Curve, CurvePoint
from rigtui.plan.insight.searches import MOST_PRICED, Searches
from rigtui.plan.insight.sizes import KINDS, Size, sizes_of
from rigtui.plan.loops.designs import Design, SearchOutcome
from rigtui.plan.loops.search import GLANCE
from rigtui.plan.memories.placing import place
from rigtui.plan.memories.switches import (
    changes_between,
    first_recalls,
    moves_without_steps,
    presets_of,
)
from rigtui.plan.rebuild.rig import rebuild
from rigtui.plan.whole.everything import plan_all

_IN_VAIN = 2
"""Loops more that a search could make nothing of, after which it is not asked to again."""
_NOISE = 0.01
"""What is so little better with copies on a smaller switcher was found by luck."""
_ORDER = ("memories", "bank_size", "loops")
"""In what order curves are filled with copies: where those help most comes first."""
_BRIEFLY, _LONGER = (1, 0.4), (2, 0.8)
"""How each switcher is filled with copies: starts in vain, and seconds at most."""
_OWN_SHARE, _OWN_SECONDS = 0.3, 3.0
"""How long the switcher as it stands is planned for as a whole: of the time left, and at most."""


def moves_curve(
    rig: Rig,
    kind: str = "loops",
    question: Question | None = None,
    values: Iterable[int] | None = None,
    control: Control | None = None,
    *,
    bank_steps: bool = True,
    copies: bool = False,
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
        copies: Whether to go on with copies of presets, for the time that there is.

    Raises:
        PlanError: an unknown kind, a silly size, no switcher.
    """
    if kind not in KINDS:
        raise PlanError(f"a curve is over {', '.join(KINDS[:-1])} or {KINDS[-1]}, not {kind}")
    curves = Curves(rig, question, control, bank_steps=bank_steps)
    plain = curves.over(kind, values)
    if not copies or not plain.complete:
        return plain
    for _ in curves.fill():
        pass
    return curves.curve(kind)


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
        needed_switcher(rig)
        self.evening = evening_of(rig, self.question.setlists)
        self.before = figures(rig, self.evening)
        self.goal = goal_of(rig, self.evening, self.question.first)
        self._search: Searches | None = None
        self._pool: list[Design] = []
        """Designs found by now, for whichever switcher: each may do for others."""
        self._replaced: dict[Switcher, _Priced] = {}
        self._extra: dict[Design, int] = {}
        self._curves: dict[str, Curve] = {}
        self._sizes: dict[str, list[Size]] = {}
        self._fillings: Fillings | None = None

    def over(self, kind: str, values: Iterable[int] | None = None) -> Curve:
        """Find one curve; stopped by the player, the points so far."""
        points: list[CurvePoint] = []
        complete = False
        try:
            self.control.stop_if_over()
            if self._search is None:
                self._search = Searches(
                    self.rig, self.evening, self.question, self.control, self.goal
                )
            sizes = sizes_of(self.rig, self._search.needs, self.question, kind, values)
            self._sizes[kind] = sizes
            self._find(sizes, points)
            complete = True
        except Stopped:
            pass
        self._curves[kind] = Curve(kind, self.before, tuple(points), complete, self.goal)
        return self._curves[kind]

    # ------------------------------------------------------------ with copies

    def fill(self) -> Iterator[None]:
        """Fill spare memories with copies, on all switchers of the curves found by now.

        First for a short while on each, then longer; between the two, everything is planned
        together for the switcher as it stands. It stops after each of those that gave something,
        so that the curves by then can be shown.
        """
        assert self._search is not None
        if self._fillings is None:
            self._fillings = Fillings(self.rig, self.evening, self._search.needs, self.goal)
        try:
            yield from self._look(*_BRIEFLY)
            yield from self._plan_own()
            yield from self._look(*_LONGER)
        except Stopped:
            pass

    def _look(self, rounds: int, seconds: float) -> Iterator[None]:
        """Look for copies on each switcher for so long."""
        assert self._fillings is not None
        rows = [
            (size, point.weight)
            for kind in _ORDER
            if kind in self._curves
            for size, point in zip(self._sizes[kind], self._curves[kind].points)
            if point.weight is not None
        ]
        for nth, (size, most) in enumerate(rows):
            self.control.tell(f"copies, {size.kind.replace('_', ' ')}: {size.value}",
                              nth / len(rows))  # fmt: skip
            left = self.control.seconds_left
            share = seconds if left is None else min(seconds, left / (len(rows) - nth))
            designs = [design for design in self._pool if size.fits(design)]
            new = not self._fillings.looked(size)
            if self._fillings.look(size, designs, most, self.control.within(share), rounds) or new:
                yield

    def _plan_own(self) -> Iterator[None]:
        """Plan everything together for the switcher as it stands."""
        assert self._fillings is not None
        own = self._own
        if own is None or not self._fillings.looked(own):
            return
        self.control.tell("copies, as it stands", 0.0)
        left = self.control.seconds_left
        share = _OWN_SECONDS if left is None else min(_OWN_SECONDS, left * _OWN_SHARE)
        made = plan_all(self.rig, self.question, self.control.within(share))
        if made.rig is not None and self._fillings.take(own, made.rig):
            yield

    @property
    def _own(self) -> Size | None:
        """The switcher as it stands, with the loops that it has on each side."""
        sizes = [*self._sizes.get("memories", ()), *self._sizes.get("bank_size", ())]
        return next((size for size in sizes if size.now), None)

    def curve(self, kind: str) -> Curve:
        """A curve found by now, with what copies save on each of its switchers by now."""
        plain = self._curves[kind]
        if self._fillings is None:
            return plain
        points = list(plain.points)
        sizes = self._sizes[kind][: len(points)]
        own = self._own
        for at, size in enumerate(sizes):
            for smaller in sizes[:at]:
                self._fillings.carry(smaller, size)
            if own is not None and kind == "loops" and size.value >= len(self.rig.loops):
                self._fillings.carry(own, size)  # there the loops are on sides of their own
            if points[at].weight is not None and self._fillings.looked(size):
                points[at] = self._filled(points, at, size)
        return replace(plain, points=tuple(points))

    def _filled(self, points: Sequence[CurvePoint], at: int, size: Size) -> CurvePoint:
        """A point with what was found for it with copies: at worst, what there is without."""
        assert self._fillings is not None
        point, filled = points[at], self._fillings.at(size)
        assert point.weight is not None
        assert point.moves is not None
        assert point.extra_presses is not None
        assert point.effort is not None
        copied = Copied(point.weight, point.moves, point.extra_presses, point.effort)
        if filled is not None and filled.weight < point.weight:
            its = filled.figures
            copied = Copied(filled.weight, its.moves, its.extra_presses, its.effort)
        smaller = [
            other.switcher
            for other in points[:at]
            if other.copied is not None and other.copied.weight < (1 - _NOISE) * copied.weight
        ]
        copied = replace(copied, better=smaller[-1] if smaller else None)
        return replace(point, copied=copied, bound=min(point.bound, copied.weight))

    # ------------------------------------------------------------ without

    def _find(self, sizes: Sequence[Size], points: list[CurvePoint]) -> None:
        """Add the points, from the smallest switcher on."""
        assert self._search is not None
        if not sizes:
            return
        top = self._search.at(sizes[-1], effort=GLANCE)
        known: list[tuple[Size, _Priced]] = []
        stalled = 0
        for nth, size in enumerate(sizes):
            self.control.tell(f"{size.kind.replace('_', ' ')}: {size.value}", nth / len(sizes))
            outcome = top
            if not (stalled >= _IN_VAIN or (_settled(top) and size.fits(top.designs[0]))):
                fitting = [design for design in self._pool if size.fits(design)]
                outcome = self._search.at(size, [design.inside for design in fitting[:2]])
                best = min((design.cost for design in fitting), default=1 << 60)
                better = any(design.cost < best for design in outcome.designs)
                vain = size.kind == "loops" and not (better or _settled(outcome))
                stalled = stalled + 1 if vain else 0
            self._pool = _pooled(self._pool, outcome.designs)
            fitting = [design for design in self._pool if size.fits(design)]
            best_of = self._priced(size, fitting, known)
            written = self._as_written(size)
            if written is not None and (best_of is None or best_of.total > written.total):
                best_of = written
            points.append(self._point(size, outcome, best_of, known))
            if best_of is not None:
                known.append((size, best_of))
        _back(points)

    def _as_written(self, size: Size) -> _Priced | None:
        """The songs as they are mapped now, where the switcher can have them so.

        Presets stay in their memories, or are placed anew, whichever costs less; each in one.
        """
        single = tuple(changed(row, copies=()) if row.copies else row for row in self.rig.presets)
        rig = changed(self.rig, switcher=size.switcher, presets=single)
        used = presets_of(rig, self.evening)
        loops = sum(bool(loop.pedals) for loop in rig.loops)
        if len(used) > size.memories or not shared_out(rig, self.question):
            return None
        if size.kind == "loops" and loops > size.value:
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
        size: Size,
        designs: Sequence[Design],
        known: Sequence[tuple[Size, _Priced]],
    ) -> _Priced | None:
        """The cheapest design for one switcher, bank steps and all."""
        assert self._search is not None
        best: _Priced | None = None
        for smaller, its in known:
            if size.holds(smaller) and (best is None or its.total < best.total):
                best = its
        for design in sorted(designs, key=lambda each: each.key)[:MOST_PRICED]:
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
        size: Size,
        outcome: SearchOutcome,
        best: _Priced | None,
        known: Sequence[tuple[Size, _Priced]],
    ) -> CurvePoint:
        if best is None:
            return CurvePoint(
                size.value, None, 0, None, None, None, None, 0, 0, size.now, size.switcher
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
            now=size.now,
            switcher=size.switcher,
            better=smaller[-1] if smaller else None,
        )

    def _extra_presses(self, design: Design, size: Size) -> int:
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
