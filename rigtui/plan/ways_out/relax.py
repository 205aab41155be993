"""The smallest changes to the options with which a plan is possible: each one checked."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

from rigtui.model.base import SIDES
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed, visible
from rigtui.plan.ask.checked import MOST_LOOPS, needed_switcher
from rigtui.plan.ask.other_switcher import most_memories
from rigtui.plan.ask.question import MEANT_FOR, Question
from rigtui.plan.ask.result import Relaxation
from rigtui.plan.loops.limits import loops_of, memories_of
from rigtui.plan.ways_out.feasible import Feasibility, Fit

_MOST_TOLD = 8


@dataclass(frozen=True, slots=True)
class _WayOut:
    """A change to the options, and how to say it."""

    parts: tuple[tuple[str, str], ...]
    """What to do, with {} for what to do it to, and that: equal parts are said together."""
    question: Question
    switcher: bool = False
    """Whether it takes another switcher than the rig has."""

    @property
    def text(self) -> str:
        """The change as a player would say it."""
        named: dict[str, list[str]] = {}
        for form, name in self.parts:
            named.setdefault(form, []).append(name)
        said = [
            form.format(listed(names), loops="loops" if len(names) > 1 else "a loop")
            for form, names in named.items()
        ]
        text = listed(said)
        return text + ", which means another switcher" * self.switcher

    def after(self, other: _WayOut) -> _WayOut:
        """Both changes, the other one made first."""
        return _WayOut((*other.parts, *self.parts), self.question, self.switcher or other.switcher)


class Relaxer:
    """Tries changes to the options; `relaxations` gives those that are enough."""

    def __init__(self, feasibility: Feasibility, question: Question) -> None:
        self.feasibility, self.question = feasibility, question
        self.rig: Rig = feasibility.rig
        self.untried = False
        """Whether the time was up before everything was tried."""

    def relaxations(self) -> tuple[Relaxation, ...]:
        """Changes of which any one is enough, those that change least first.

        One change alone where one is enough; more of them only where every single one takes
        another switcher.
        """
        own: list[_WayOut] = []
        other: list[_WayOut] = []
        for tried in (self._alone, self._pairs, self._many):
            if not own:
                ways = tried()
                own = [way for way in ways if not way.switcher]
                other = other or [way for way in ways if way.switcher]
        return tuple(
            Relaxation(way.text, changes(self.question, way.question), way.switcher)
            for way in [*own, *other][:_MOST_TOLD]
        )

    # What can be tried

    def _works(self, question: Question) -> bool:
        return self.feasibility.possible(question) is True

    @property
    def _late(self) -> bool:
        self.untried |= self.feasibility.control.over
        return self.untried

    def _alone(self) -> list[_WayOut]:
        """One option given up, or one number raised."""
        ways = [*self._memories(self.question)]  # known already, so there is time for it
        ways += [] if self._late else self._loops(self.question)
        for drop in self._drops(self.question):
            if self._late:
                break
            if self._works(drop.question):
                ways.append(drop)
        return ways

    def _pairs(self) -> list[_WayOut]:
        """Two options given up; or one, and one number raised; or loops and memories raised."""
        ways: list[_WayOut] = []
        room = replace(self.question, memories=most_memories(needed_switcher(self.rig)))
        for loops in () if self._works(room) else self._loops(room):
            with_loops = replace(loops.question, memories=self.question.memories)
            ways += [memories.after(loops) for memories in self._memories(with_loops)]
        drops = list(self._drops(self.question))
        for drop in drops:
            if self._late:
                return ways
            ways += [more.after(drop) for more in self._numbers(drop.question)]
        for at, nth in combinations(range(len(drops)), 2):
            if self._late:
                return ways
            rest = list(self._drops(drops[at].question))
            both = rest[nth - 1].after(drops[at])
            if self._works(both.question):
                ways.append(both)
        return ways

    def _many(self) -> list[_WayOut]:
        """As many options given up as it takes, and none that need not be."""
        bare = self.question
        while drop := next(self._drops(bare), None):
            bare = drop.question
        raised = next(iter(self._memories(bare)), None)
        if raised is not None:
            bare = raised.question
        if self._late or not self._works(bare):
            return []
        given_up = list(self._drops(self.question))
        parts: list[tuple[str, str]] = []
        # Each in turn is taken up again if there still is a plan with it.
        kept = bare
        for drop in reversed(given_up):
            again = _taken_up(kept, self.question, drop)
            if not self._late and self._works(again):
                kept = again
            else:
                parts = [*drop.parts, *parts]
        if raised is not None:
            parts += raised.parts
        return [_WayOut(tuple(parts), kept, raised is not None and raised.switcher)]

    def _drops(self, question: Question) -> Iterator[_WayOut]:
        """The question without each of its options in turn."""
        said = lookup(self.rig)
        for pedal in question.pin_in:
            part = ("let {} stay outside the loops", visible(said.label(pedal)))
            yield _WayOut((part,), question.pinned(pedal, None))
        for pedal in question.pin_out:
            part = ("let {} go in {loops}", visible(said.label(pedal)))
            yield _WayOut((part,), question.pinned(pedal, None))
        for preset in question.keep:
            rest = tuple(other for other in question.keep if other != preset)
            label = visible(said.presets[preset].label)
            yield _WayOut((("let {} change", label),), replace(question, keep=rest))
        for pair in question.apart:
            others = tuple(other for other in question.apart if other != pair)
            both = " and ".join(visible(said.label(pedal)) for pedal in pair)
            yield _WayOut((("let {} share a loop", both),), replace(question, apart=others))
        if not question.sharing:
            yield _WayOut((("{}", "let neighbours share a loop"),), replace(question, sharing=True))
        if question.keep_order and not needed_switcher(self.rig).between_loops:
            yield _WayOut(
                (("{}", "let pedals outside the loops change places in the chain"),),
                replace(question, keep_order=False),
            )

    # Numbers

    def _numbers(self, question: Question) -> Iterator[_WayOut]:
        if self._late or self._works(question):
            return
        yield from self._memories(question)
        yield from self._loops(question)

    def _memories(self, question: Question) -> Iterator[_WayOut]:
        """The fewest memories with which there is a plan, all else as it is."""
        fit = self.feasibility.fit(question)
        now = memories_of(self.rig, question)
        switcher = needed_switcher(self.rig)
        if not fit.wired or fit.enough is None or not now < fit.enough <= most_memories(switcher):
            return
        text = f"{count(fit.enough, 'memory', 'memories')} instead of {now}"
        if fit.least < fit.enough:
            text += f" (it is not known whether {fit.least} would be enough)"
        beyond = fit.enough > switcher.memories
        yield _WayOut((("{}", text),), replace(question, memories=fit.enough), beyond)

    def _loops(self, question: Question) -> Iterator[_WayOut]:
        """The fewest loops with which there is a plan, all else as it is."""
        fit = self.feasibility.fit(question)
        if fit.barred:
            return
        if question.total_loops is not None:
            total = self._fewest_total(question, fit)
            if total is not None:
                text = f"{count(total, 'loop')} instead of {question.total_loops}"
                text += self._open(replace(question, total_loops=total - 1))
                beyond = total > len(self.rig.loops)
                yield _WayOut((("{}", text),), replace(question, total_loops=total), beyond)
            return
        told = []
        for order in (SIDES, SIDES[::-1]):
            loops = self._fewest_of_sides(question, fit, order)
            if loops is not None and loops not in told:
                told.append(loops)
                yield self._of_sides(question, loops)

    def _of_sides(self, question: Question, loops: dict[str, int]) -> _WayOut:
        now, has = loops_of(self.rig, question), loops_of(self.rig, Question())
        said = [
            f"{count(loops[side], f'{side} loop')} instead of {now[side]}"
            + self._open(replace(question, loops={**loops, side: loops[side] - 1}))
            for side in SIDES
            if loops[side] != now[side]
        ]
        beyond = any(loops[side] > max(has[side], now[side]) for side in SIDES)
        return _WayOut(tuple(("{}", text) for text in said), replace(question, loops=loops), beyond)

    def _open(self, fewer: Question) -> str:
        """What to add where it was not settled whether one less would do."""
        settled = self.feasibility.possible(fewer) is not None
        return "" if settled else " (it is not known whether one fewer would be enough)"

    def _fewest_total(self, question: Question, fit: Fit) -> int | None:
        assert question.total_loops is not None
        most = min(MOST_LOOPS, sum(len(row) for row in fit.rows.values()))

        def works(total: int) -> bool:
            return self._works(replace(question, total_loops=total))

        return _least(question.total_loops + 1, most, works)

    def _fewest_of_sides(
        self, question: Question, fit: Fit, order: Sequence[str]
    ) -> dict[str, int] | None:
        """Loops of each side, none of which could be fewer; the side named first is cut first."""
        now = loops_of(self.rig, question)
        loops: dict[str, int] = {side: max(now[side], len(fit.rows[side])) for side in SIDES}

        def works(side: str, number: int) -> bool:
            return self._works(replace(question, loops={**loops, side: number}))

        if loops == now or sum(loops.values()) > MOST_LOOPS or not works("front", loops["front"]):
            return None
        for side in order:
            number = _least(now[side], loops[side], lambda n, side=side: works(side, n))  # type: ignore[misc]
            assert number is not None
            loops[side] = number
        return loops


def _least(low: int, high: int, works: Callable[[int], bool]) -> int | None:
    """The least number that works, where every greater one does too; None if none up to high."""
    if low > high or not works(high):
        return None
    while low < high:
        middle = (low + high) // 2
        if works(middle):
            high = middle
        else:
            low = middle + 1
    return low


def _taken_up(bare: Question, whole: Question, drop: _WayOut) -> Question:
    """A question with the option that a change gave up."""
    less = drop.question
    return replace(
        bare,
        pins={
            pedal: where
            for pedal, where in whole.pins.items()
            if pedal in bare.pins or pedal not in less.pins
        },
        keep=tuple(p for p in whole.keep if p in bare.keep or p not in less.keep),
        apart=tuple(p for p in whole.apart if p in bare.apart or p not in less.apart),
        sharing=whole.sharing if less.sharing != whole.sharing else bare.sharing,
        keep_order=whole.keep_order if less.keep_order != whole.keep_order else bare.keep_order,
    )


def changes(old: Question, new: Question) -> dict[str, Any]:
    """The options that differ, with their new values."""
    return {
        name: getattr(new, name) for name in MEANT_FOR if getattr(new, name) != getattr(old, name)
    }
