"""What another switcher would buy: moves against loops, memories and bank size."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from rigtui.model.edits import set_switcher
from rigtui.model.rig import Rig, Switcher
from rigtui.model.text import count
from rigtui.plan.control import Control
from rigtui.plan.designs import Design, Found
from rigtui.plan.evening import evening_of, figures
from rigtui.plan.loop_rules import memories_of, rules_of
from rigtui.plan.loop_search import LoopSearch
from rigtui.plan.needs import Needs, needs_of
from rigtui.plan.pricing import placed
from rigtui.plan.result import PlanError, Stopped
from rigtui.plan.switches import needed_switcher, on_the_beat
from rigtui.plan.wishes import LoopWishes, checked_wishes

KINDS = ("loops", "memories", "bank_size")
_MOST_LOOPS = 16


@dataclass(frozen=True, slots=True)
class Point:
    """One switcher on a curve."""

    value: int
    """How many loops, memories, or footswitches to a bank."""
    moves: int | None
    """Moves of the evening, bank steps included; None where nothing fits."""
    bound: int
    """No plan of this kind needs fewer."""
    without_bank_steps: int | None
    loops_used: int
    presets_used: int
    now: bool
    """Whether this is the switcher as it stands."""

    @property
    def proved(self) -> bool:
        """Whether the moves cannot be bettered."""
        return self.moves is not None and self.moves <= self.bound


@dataclass(frozen=True, slots=True)
class Curve:
    """Moves against one property of the switcher, all else as it is."""

    kind: str
    moves_before: int
    points: tuple[Point, ...]
    sentence: str
    """What it comes to, in words."""
    complete: bool


def moves_curve(
    rig: Rig,
    kind: str = "loops",
    setlist_ids: Sequence[str] = (),
    wishes: LoopWishes | None = None,
    values: Iterable[int] | None = None,
    control: Control | None = None,
    *,
    bank_steps: bool = True,
) -> Curve:
    """Find the fewest moves for switchers of several sizes.

    Loops may be on either side, as the songs need them.

    Args:
        rig: The rig; its songs and pedals stay as they are.
        kind: "loops", "memories" or "bank_size".
        setlist_ids: The setlists that count; all where none is named.
        wishes: The player's constraints on loops.
        values: Sizes to look at; a fitting range where none is given.
        control: Progress out, cancel in; the points so far are given then.
        bank_steps: Whether to count bank steps too; without them it is much quicker.

    Raises:
        PlanError: an unknown kind, a silly size, no switcher.
    """
    if kind not in KINDS:
        raise PlanError(f"a curve is over {', '.join(KINDS[:-1])} or {KINDS[-1]}, not {kind}")
    control = control or Control()
    wishes = checked_wishes(rig, wishes or LoopWishes())
    evening = evening_of(rig, setlist_ids)
    needs = needs_of(rig, evening, wishes.keep_presets)
    maker = _Maker(rig, needs, wishes, kind, control, bank_steps)
    chosen = sorted(set(maker.values() if values is None else values))
    for value in chosen:
        low, high = (0, 99) if kind == "loops" else (1, 128)
        if not low <= value <= high:
            raise PlanError(f"{kind.replace('_', ' ')} must be {low} to {high}, not {value}")
    points: list[Point] = []
    complete = True
    try:
        for nth, value in enumerate(reversed(chosen)):  # a large switcher's plan may fit a small
            control.tell(f"{kind.replace('_', ' ')}: {value}", nth / max(1, len(chosen)))
            points.append(maker.point(value))
    except Stopped:
        complete = False
    points.reverse()
    before = figures(rig, evening).moves if bank_steps else on_the_beat(rig, evening)
    return Curve(kind, before, tuple(points), _sentence(kind, before, points), complete)


class _Maker:
    def __init__(
        self,
        rig: Rig,
        needs: Needs,
        wishes: LoopWishes,
        kind: str,
        control: Control,
        bank_steps: bool,
    ) -> None:
        self.rig, self.needs, self.wishes, self.kind = rig, needs, wishes, kind
        self.control, self.bank_steps = control, bank_steps
        self.switcher = needed_switcher(rig)
        rules = rules_of(rig, needs, wishes)
        first = LoopSearch(needs, rules, 128, control=control)
        self.pool = first.every_set()
        self.costs = first.costs
        self.found: dict[tuple[int, int], Found] = {}

    def values(self) -> list[int]:
        """The sizes to look at where none are given."""
        if self.kind == "loops":
            switched = (self.needs.ever_on & self.needs.ever_off).bit_count()
            return list(range(min(switched, _MOST_LOOPS, 99) + 1))
        if self.kind == "bank_size":
            return [size for size in range(1, 11) if size <= self.switcher.memories]
        usual = [4, 6, 8, 10, 12, 16, 20, 24, 32, 48, 64, 100, 128]
        return sorted({*usual, self.switcher.memories})

    def point(self, value: int) -> Point:
        """The best plan for one size."""
        wishes, switcher, now = self.wishes, self.switcher, False
        if self.kind == "loops":
            wishes = replace(wishes, loops=None, total_loops=value)
            now = value == len(self.rig.loops)
        elif self.kind == "memories":
            wishes = replace(wishes, memories=value)
            switcher = _switcher(self.rig, memories=value)
            now = value == self.switcher.memories
        else:
            switcher = _switcher(self.rig, bank_size=value)
            now = value == self.switcher.bank_size
        found = self._search(wishes)
        if not found.designs:
            return Point(value, None, 0, None, 0, 0, now)
        best: tuple[int, Design] | None = None
        for design in found.designs:
            if best is not None and design.moves >= best[0]:
                break
            total = design.moves
            if self.bank_steps:
                total += placed(
                    self.needs, design, switcher, self.control, exact=False, rounds=150
                ).bank_steps
            if best is None or total < best[0]:
                best = (total, design)
        assert best is not None
        total, design = best
        return Point(
            value, total, min(total, found.bound), design.moves, len(design.groups),
            len(design.packing.presets), now,
        )  # fmt: skip

    def _search(self, wishes: LoopWishes) -> Found:
        loops = 99 if wishes.total_loops is None else wishes.total_loops
        memories = memories_of(self.rig, wishes)
        for (more_loops, more), known in self.found.items():
            fits = known.designs and (
                len(known.designs[0].groups) <= loops
                and len(known.designs[0].packing.presets) <= memories
            )
            if more_loops >= loops and more >= memories and fits:
                return known  # the best of a larger switcher, and it fits this one
        search = LoopSearch(
            self.needs,
            rules_of(self.rig, self.needs, wishes),
            memories,
            toggling=self.switcher.loop_switches,
            pool=self.pool,
            costs=self.costs,
            most_kept=4,
            control=self.control.within(5),
        )
        self.found[loops, memories] = search.run()
        self.control.check()
        return self.found[loops, memories]


def _switcher(rig: Rig, **fields: int) -> Switcher:
    """The switcher with another size; one without bank buttons gets them if it needs them."""
    switcher = set_switcher(rig, **fields).switcher
    assert switcher is not None
    if switcher.bank_buttons == "none" and switcher.banks > 1:
        switcher = set_switcher(rig, **fields, bank_buttons="up-down").switcher
        assert switcher is not None
    return switcher


_WORDS = {
    "loops": ("a switcher with {}", "loop", "loops"),
    "memories": ("{}", "memory", "memories"),
    "bank_size": ("banks of {}", "switch", "switches"),
}


def _sentence(kind: str, before: int, points: Sequence[Point]) -> str:
    """What the curve comes to: the steps that save something."""
    form, one, many = _WORDS[kind]
    said, least = [], before
    for point in points:
        if point.moves is not None and point.moves < least:
            saved = count(before - point.moves, "move")
            said.append(f"{form.format(count(point.value, one, many))} would save {saved}")
            least = point.moves
    if not said:
        return "none of these saves anything over the rig as it is written"
    return "; ".join(said[-6:])
