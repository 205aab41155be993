"""Decide whether any plan of loops can do what is asked: how many loops and presets it takes.

Any plan can be cut down to the pedals that must be in loops (and, where the order must stay and
the switcher has no jacks between its loops, those that stand between them): the loops that are
left are no more, no section wants more of them, and so no more presets are needed. Hence it is
enough to look at the ways to share out that one row of pedals, and what is proved of them holds
for every plan. Fewest loops: from the front on, each loop takes as many as can share it. Fewest
presets: the fewest colours of the graph of sections that clash.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from rigtui.model.base import SIDES
from rigtui.model.rig import Rig
from rigtui.plan.ask.checked import needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.needs import Needs, Sound, needs_of
from rigtui.plan.ask.question import Question
from rigtui.plan.loops.costs import cube_of
from rigtui.plan.loops.layouts import LayoutLimits
from rigtui.plan.loops.limits import limits_of, memories_of
from rigtui.plan.presets.colours import Colours, fewest_presets
from rigtui.plan.presets.cubes import Cube

_MOST_WAYS = 2000
"""Ways to share out the loops that are looked at."""

Groups = tuple[int, ...]


@dataclass(frozen=True)
class Fit:
    """What the options take, and whether any plan can do it."""

    needs: Needs
    limits: LayoutLimits
    memories: int
    rows: dict[str, list[int]]
    """Pedals of each side that have to be in a loop, in signal order, each as a mask."""
    barred: int
    """Pedals that would have to be in a loop and must not."""
    fewest: dict[str, int]
    """The fewest loops of each side, whatever the presets (none where any pedal is barred)."""
    least: int
    """Proved: no fewer presets will do."""
    enough: int | None
    """Presets that do; None where the loops do not even hold the pedals."""
    groups: Groups
    """Pedals of each loop, with which that many presets do."""
    classes: tuple[Cube, ...]
    """Those presets."""
    clique: tuple[Cube, ...]
    """Sections that clash pairwise with `apart`, as many as were found."""
    apart: Groups
    """The loops that the clique is over: one for every pedal."""
    toggling: bool

    @property
    def wired(self) -> bool:
        """Whether the loops hold the pedals that must be in one."""
        return not self.barred and not self.short

    @property
    def short(self) -> list[str]:
        """Sides with too few loops; "" for too few in all."""
        if self.barred:
            return []
        if self.limits.total is not None:
            return [""] if sum(self.fewest.values()) > self.limits.total else []
        return [side for side in SIDES if self.fewest[side] > self.limits.loops[side]]

    @property
    def possible(self) -> bool | None:
        """Whether there is a plan; None where that was not settled."""
        if not self.wired or self.least > self.memories:
            return False
        return True if self.enough is not None and self.enough <= self.memories else None


class Feasibility:
    """Answers for one rig and evening; what songs want is read once for the presets kept."""

    def __init__(self, rig: Rig, evening: Evening, control: Control) -> None:
        self.rig, self.evening, self.control = rig, evening, control
        self._needs: dict[tuple[str, ...], Needs] = {}
        self._known: dict[tuple[str, bool], Fit] = {}

    def within(self, seconds: float) -> Feasibility:
        """The same answers, what is known already included, with a time limit for new ones."""
        other = Feasibility(self.rig, self.evening, self.control.within(seconds))
        other._needs, other._known = self._needs, self._known
        return other

    def needs(self, keep: Sequence[str]) -> Needs:
        """What the songs want with some presets kept."""
        key = tuple(keep)
        if key not in self._needs:
            self._needs[key] = needs_of(self.rig, self.evening, key)
        return self._needs[key]

    def fit(self, question: Question) -> Fit:
        """Find what the options take."""
        return self._found(question, exact=True)

    def possible(self, question: Question) -> bool | None:
        """Whether there is a plan, which is quicker to tell than what it takes."""
        return self._found(question, exact=False).possible

    def _found(self, question: Question, *, exact: bool) -> Fit:
        key = (repr(question), exact)
        if key not in self._known:
            self._known[key] = self._find(question, exact)
        return self._known[key]

    def _find(self, question: Question, exact: bool) -> Fit:
        needs = self.needs(question.keep)
        limits = limits_of(self.rig, needs, question)
        memories = memories_of(self.rig, question)
        toggling = needed_switcher(self.rig).loop_switches
        rows: dict[str, list[int]] = {side: _row(limits, side) for side in SIDES}
        every = sum(bit for row in rows.values() for bit in row)
        barred = every & limits.never
        fewest: dict[str, int] = {}
        if not barred:
            fewest |= {side: _fewest(limits, rows[side]) for side in SIDES}
        apart = tuple(bit for side in SIDES for bit in rows[side])
        sounds = list(
            dict.fromkeys(sound for song in needs.played for sound in _plain(song.sounds))
        )

        def colours(groups: Groups) -> Colours:
            over: Groups = () if toggling else groups
            cubes = [cube_of(sound, over) for sound in sounds]
            kept = [cube_of(sound, groups) for sound in needs.kept.values()]
            return fewest_presets(kept, cubes, self.control, None if exact else memories)

        free = colours(apart)
        fit = Fit(
            needs, limits, memories, rows, barred, fewest, free.least, None, (), (), free.clique,
            apart, toggling,
        )  # fmt: skip
        return self._shared(fit, free, colours, exact) if fit.wired else fit

    def _shared(
        self, fit: Fit, free: Colours, colours: Callable[[Groups], Colours], exact: bool
    ) -> Fit:
        """The fewest presets over all ways to share out the loops."""
        least, enough, best, chosen = 1 << 30, 1 << 30, free, fit.apart
        looked_at_all = True
        for nth, groups in enumerate(ways(fit.limits, fit.rows)):
            colouring = free if groups == fit.apart else colours(groups)
            least = min(least, colouring.least)
            if len(colouring.classes) < enough:
                enough, best, chosen = len(colouring.classes), colouring, groups
            if enough <= free.least or not (exact or fit.memories < enough):
                break
            if nth >= _MOST_WAYS or self.control.over:
                looked_at_all = False
                break
        if not looked_at_all:
            least = free.least
        least = max(min(least, enough), free.least)
        return replace(fit, least=least, enough=enough, groups=chosen, classes=best.classes)


def _plain(sounds: Sequence[Sound]) -> Iterator[Sound]:
    """Sounds without where they stand, so that equal ones are met once."""
    return (Sound(sound.on, sound.off, sound.channel, -1, kept=sound.kept) for sound in sounds)


def _row(limits: LayoutLimits, side: str) -> list[int]:
    """The pedals of a side that have to be in a loop."""
    must = limits.must & limits.needs.side_mask(side)
    if not must:
        return []
    places = range((must & -must).bit_length() - 1, must.bit_length())
    return [1 << at for at in places if limits.stretch or must >> at & 1]


def _span(limits: LayoutLimits, bits: Sequence[int]) -> int | None:
    """Pedals of a loop that is shared from the first of some to the last; None if it cannot be."""
    first, last = bits[0].bit_length() - 1, bits[-1].bit_length() - 1
    span = (bits[-1] << 1) - bits[0]
    if span & limits.never or any(not limits.joinable >> at & 1 for at in range(first, last)):
        return None
    if any(span & limits.clash[at] for at in range(first, last + 1)):
        return None
    return span


def _fewest(limits: LayoutLimits, row: Sequence[int]) -> int:
    """The fewest loops that hold a row."""
    loops = start = 0
    while start < len(row):
        end = start + 1
        while end < len(row) and _span(limits, row[start : end + 1]) is not None:
            end += 1
        loops, start = loops + 1, end
    return loops


def _split(limits: LayoutLimits, row: Sequence[int], loops: int) -> Iterator[Groups]:
    """All ways to share out a row among exactly so many loops."""
    if not row:
        if not loops:
            yield ()
        return
    for end in range(len(row), 0, -1):
        span = _span(limits, row[:end])
        if span is not None and 0 <= loops - 1 <= len(row) - end:
            yield from ((span, *rest) for rest in _split(limits, row[end:], loops - 1))


def ways(limits: LayoutLimits, rows: dict[str, list[int]]) -> Iterator[Groups]:
    """Ways to share out the rows of both sides, with no more sharing than it takes."""
    sizes = [len(rows[side]) for side in SIDES]
    if limits.total is None:
        counts = [tuple(min(size, limits.loops[side]) for side, size in zip(SIDES, sizes))]
    else:
        total = min(limits.total, sum(sizes))
        front = range(max(0, total - sizes[1]), min(total, sizes[0]) + 1)
        counts = [(number, total - number) for number in front]
    for count in counts:
        halves = [
            list(itertools.islice(_split(limits, rows[side], n), _MOST_WAYS + 1))
            for side, n in zip(SIDES, count)
        ]
        yield from (half + other for half, other in itertools.product(*halves))
