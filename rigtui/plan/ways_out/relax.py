"""The smallest changes to wishes that cannot be had, with which they can: each one checked."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations
from typing import Any

from rigtui.model.base import SIDES
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed, visible
from rigtui.plan.ask.other_switcher import most_memories
from rigtui.plan.ask.result import Relaxation
from rigtui.plan.ask.wishes import MOST_LOOPS, LoopWishes
from rigtui.plan.loops.rules import loops_of, memories_of
from rigtui.plan.memories.switches import needed_switcher
from rigtui.plan.ways_out.feasible import Feasibility, Fit

_MOST_TOLD = 8


@dataclass(frozen=True, slots=True)
class _Change:
    """A change to wishes, and how to say it."""

    parts: tuple[tuple[str, str], ...]
    """What to do, with {} for what to do it to, and that: equal parts are said together."""
    wishes: LoopWishes
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
        return text + ", which takes another switcher" * self.switcher

    def after(self, other: _Change) -> _Change:
        """Both changes, the other one made first."""
        return _Change((*other.parts, *self.parts), self.wishes, self.switcher or other.switcher)


class Relaxer:
    """Tries changes to wishes; `relaxations` gives those that are enough."""

    def __init__(self, feasibility: Feasibility, wishes: LoopWishes) -> None:
        self.feasibility, self.wishes = feasibility, wishes
        self.rig: Rig = feasibility.rig
        self.untried = False
        """Whether the time was up before everything was tried."""

    def relaxations(self) -> tuple[Relaxation, ...]:
        """Changes of which any one is enough, those that change least first.

        One change alone where one is enough; more of them only where every single one takes
        another switcher.
        """
        own: list[_Change] = []
        other: list[_Change] = []
        for tried in (self._alone, self._pairs, self._many):
            if not own:
                found = tried()
                own = [one for one in found if not one.switcher]
                other = other or [one for one in found if one.switcher]
        return tuple(
            Relaxation(one.text, changes(self.wishes, one.wishes), one.switcher)
            for one in [*own, *other][:_MOST_TOLD]
        )

    # What can be tried

    def _works(self, wishes: LoopWishes) -> bool:
        return self.feasibility.possible(wishes) is True

    @property
    def _late(self) -> bool:
        self.untried |= self.feasibility.control.over
        return self.untried

    def _alone(self) -> list[_Change]:
        """One wish given up, or one number raised."""
        found = [*self._memories(self.wishes)]  # known already, so there is time for it
        found += [] if self._late else self._loops(self.wishes)
        for drop in self._drops(self.wishes):
            if self._late:
                break
            if self._works(drop.wishes):
                found.append(drop)
        return found

    def _pairs(self) -> list[_Change]:
        """Two wishes given up; or one, and one number raised; or loops and memories raised."""
        found: list[_Change] = []
        room = replace(self.wishes, memories=most_memories(needed_switcher(self.rig)))
        for loops in () if self._works(room) else self._loops(room):
            with_loops = replace(loops.wishes, memories=self.wishes.memories)
            found += [memories.after(loops) for memories in self._memories(with_loops)]
        drops = list(self._drops(self.wishes))
        for one in drops:
            if self._late:
                return found
            found += [more.after(one) for more in self._numbers(one.wishes)]
        for at, nth in combinations(range(len(drops)), 2):
            if self._late:
                return found
            rest = list(self._drops(drops[at].wishes))
            both = rest[nth - 1].after(drops[at])
            if self._works(both.wishes):
                found.append(both)
        return found

    def _many(self) -> list[_Change]:
        """As many wishes given up as it takes, and none that need not be."""
        wishes = self.wishes
        bare = wishes
        while drop := next(self._drops(bare), None):
            bare = drop.wishes
        raised = next(iter(self._memories(bare)), None)
        if raised is not None:
            bare = raised.wishes
        if self._late or not self._works(bare):
            return []
        given_up = list(self._drops(wishes))
        parts: list[tuple[str, str]] = []
        # Each wish in turn is taken up again if the rest of the plan still stands with it.
        kept = bare
        for drop in reversed(given_up):
            again = _taken_up(kept, wishes, drop)
            if not self._late and self._works(again):
                kept = again
            else:
                parts = [*drop.parts, *parts]
        if raised is not None:
            parts += raised.parts
        return [_Change(tuple(parts), kept, raised is not None and raised.switcher)]

    def _drops(self, wishes: LoopWishes) -> Iterator[_Change]:
        """The wishes without each one in turn."""
        said = lookup(self.rig)
        for pedal in dict.fromkeys(wishes.pin_in):
            rest = [one for one in wishes.pin_in if one != pedal]
            part = ("let {} stay outside the loops", visible(said.label(pedal)))
            yield _Change((part,), replace(wishes, pin_in=rest))
        for pedal in dict.fromkeys(wishes.pin_out):
            rest = [one for one in wishes.pin_out if one != pedal]
            part = ("let {} go in {loops}", visible(said.label(pedal)))
            yield _Change((part,), replace(wishes, pin_out=rest))
        for preset in dict.fromkeys(wishes.keep_presets):
            rest = [one for one in wishes.keep_presets if one != preset]
            label = visible(said.presets[preset].label)
            yield _Change((("let {} change", label),), replace(wishes, keep_presets=rest))
        for pair in dict.fromkeys(wishes.keep_apart):
            others = [one for one in wishes.keep_apart if one != pair]
            both = " and ".join(visible(said.label(one)) for one in pair)
            yield _Change((("let {} share a loop", both),), replace(wishes, keep_apart=others))
        if not wishes.share:
            yield _Change((("{}", "let neighbours share a loop"),), replace(wishes, share=True))
        if wishes.keep_order and not needed_switcher(self.rig).between_loops:
            yield _Change(
                (("{}", "let pedals outside change places in the chain"),),
                replace(wishes, keep_order=False),
            )

    # Numbers

    def _numbers(self, wishes: LoopWishes) -> Iterator[_Change]:
        if self._late or self._works(wishes):
            return
        yield from self._memories(wishes)
        yield from self._loops(wishes)

    def _memories(self, wishes: LoopWishes) -> Iterator[_Change]:
        """The fewest memories with which wishes can be had, all else as it is."""
        fit = self.feasibility.fit(wishes)
        now = memories_of(self.rig, wishes)
        switcher = needed_switcher(self.rig)
        if not fit.wired or fit.enough is None or not now < fit.enough <= most_memories(switcher):
            return
        text = f"{count(fit.enough, 'memory', 'memories')} instead of {now}"
        if fit.least < fit.enough:
            text += f" (whether {fit.least} would do is not known)"
        has = wishes.owned or switcher.memories
        yield _Change((("{}", text),), replace(wishes, memories=fit.enough), fit.enough > has)

    def _loops(self, wishes: LoopWishes) -> Iterator[_Change]:
        """The fewest loops with which wishes can be had, all else as it is."""
        fit = self.feasibility.fit(wishes)
        if fit.barred:
            return
        if wishes.total_loops is not None:
            total = self._fewest_total(wishes, fit)
            if total is not None:
                text = f"{count(total, 'loop')} instead of {wishes.total_loops}"
                text += self._open(replace(wishes, total_loops=total - 1))
                beyond = total > len(self.rig.loops)
                yield _Change((("{}", text),), replace(wishes, total_loops=total), beyond)
            return
        told = []
        for order in (SIDES, SIDES[::-1]):
            loops = self._fewest_of_sides(wishes, fit, order)
            if loops is not None and loops not in told:
                told.append(loops)
                yield self._of_sides(wishes, loops)

    def _of_sides(self, wishes: LoopWishes, loops: dict[str, int]) -> _Change:
        now, has = loops_of(self.rig, wishes), loops_of(self.rig, LoopWishes())
        said = [
            f"{count(loops[side], f'{side} loop')} instead of {now[side]}"
            + self._open(replace(wishes, loops={**loops, side: loops[side] - 1}))
            for side in SIDES
            if loops[side] != now[side]
        ]
        beyond = any(loops[side] > max(has[side], now[side]) for side in SIDES)
        return _Change(tuple(("{}", one) for one in said), replace(wishes, loops=loops), beyond)

    def _open(self, fewer: LoopWishes) -> str:
        """What to add where it was not settled whether one less would do."""
        settled = self.feasibility.possible(fewer) is not None
        return "" if settled else " (whether one less would do is not known)"

    def _fewest_total(self, wishes: LoopWishes, fit: Fit) -> int | None:
        assert wishes.total_loops is not None
        most = min(MOST_LOOPS, sum(len(row) for row in fit.rows.values()))

        def works(total: int) -> bool:
            return self._works(replace(wishes, total_loops=total))

        return _least(wishes.total_loops + 1, most, works)

    def _fewest_of_sides(
        self, wishes: LoopWishes, fit: Fit, order: Sequence[str]
    ) -> dict[str, int] | None:
        """Loops of each side, none of which could be fewer; the side named first is cut first."""
        now = loops_of(self.rig, wishes)
        loops: dict[str, int] = {side: max(now[side], len(fit.rows[side])) for side in SIDES}

        def works(side: str, number: int) -> bool:
            return self._works(replace(wishes, loops={**loops, side: number}))

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


def _taken_up(bare: LoopWishes, whole: LoopWishes, drop: _Change) -> LoopWishes:
    """Wishes with the one wish that a change gave up."""
    fields: dict[str, Any] = {}
    for name in ("pin_in", "pin_out", "keep_presets", "keep_apart"):
        gone = [one for one in getattr(whole, name) if one not in getattr(drop.wishes, name)]
        fields[name] = [*getattr(bare, name), *gone]
    for name in ("share", "keep_order"):
        if getattr(whole, name) != getattr(drop.wishes, name):
            fields[name] = getattr(whole, name)
    return replace(bare, **fields)


def changes(old: LoopWishes, new: LoopWishes) -> dict[str, Any]:
    """What differs, as new values of the question's fields."""
    before, after = _asked(old), _asked(new)
    return {name: value for name, value in after.items() if value != before[name]}


def _asked(wishes: LoopWishes) -> dict[str, Any]:
    return {
        "pins": {
            **dict.fromkeys(wishes.pin_in, "in"),
            **dict.fromkeys(wishes.pin_out, "out"),
        },
        "keep": list(wishes.keep_presets),
        "apart": [list(pair) for pair in wishes.keep_apart],
        "sharing": wishes.share,
        "keep_order": wishes.keep_order,
        "loops": None if wishes.loops is None else dict(wishes.loops),
        "total_loops": wishes.total_loops,
        "memories": wishes.memories,
    }
