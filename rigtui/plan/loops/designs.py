"""Loop designs, what a search found, and the worst change of a design."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import pairwise

from rigtui.plan.ask.needs import Needs
from rigtui.plan.loops.costs import LoopCosts, differing, parted
from rigtui.plan.presets.packing import Packing
from rigtui.plan.presets.toggled import Toggled


@dataclass(frozen=True, slots=True)
class Design:
    """Pedals in loops, and the presets for them."""

    groups: tuple[int, ...]
    """Pedals of each loop in use, as masks, in signal order."""
    cost: int
    """What the evening weighs by the goal, bank steps not counted."""
    bound: int
    """With no presets for these loops does it weigh less."""
    worst: int
    """Moves of the worst change, bank steps not counted."""
    packing: Packing | Toggled

    @property
    def inside(self) -> int:
        """All pedals in loops."""
        return sum(self.groups)

    @property
    def variants(self) -> list[Design]:
        """This design, and the same with fewer toggles between songs; bank steps may be more."""
        calm = self.packing.calm if isinstance(self.packing, Toggled) else None
        return [self] if calm is None else [self, replace(self, packing=calm)]

    @property
    def key(self) -> tuple[int, ...]:
        """What designs are ordered by: cost, worst change, loops, presets."""
        return (self.cost, self.worst, len(self.groups), len(self.packing.presets), self.inside)


@dataclass
class SearchOutcome:
    """The outcome of a search."""

    designs: list[Design] = field(default_factory=list)
    """The best first; more than one where near misses were asked for."""
    bound: int = 0
    """No design costs less."""
    looked: int = 0
    sets: int = 0
    """How many sets of pedals the layout allows."""
    unsettled: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    """Lower bounds of loops whose presets were not settled, and those loops."""
    complete: bool = True
    """Whether every set that was passed over is proved to be impossible or no better."""
    switched: int = 0
    """How many pedals may be in a loop or outside."""
    left_out: int = 0
    """How many of them are taken to stay outside, as there are too many to look at all sets."""
    listed: bool = True
    """Whether `designs` holds all that were asked for."""


class WorstChange:
    """Moves of the worst change, bank steps aside."""

    def __init__(self, needs: Needs, costs: LoopCosts, switched: int) -> None:
        self.needs, self.costs, self.switched = needs, costs, switched
        seen: dict[tuple[int, bool, int], None] = {}
        for song in needs.played:
            if song.cold:
                seen.setdefault((song.sounds[0].on, True, song.sounds[0].foot))
            for before, after in pairwise(song.sounds):
                seen.setdefault((differing(before, after), parted(before, after), after.foot))
        self._changes = list(seen)
        """Pedals that differ, whether the channel does, and presses of its own footswitch."""

    def of(self, groups: tuple[int, ...], packed: Packing | Toggled) -> int:
        """The worst change of a design."""
        inside = sum(groups)
        outside = self.switched & ~inside
        if self.costs.free or not isinstance(packed, Packing):
            return worst_change(self.needs, outside, packed)
        return max(
            (
                bool(diff & inside or part) + (diff & outside).bit_count() + foot
                for diff, part, foot in self._changes
            ),
            default=0,
        )


def worst_change(needs: Needs, outside: int, packed: Packing | Toggled) -> int:
    """Moves of the worst change, played as the presets are used and pedals wait until needed."""
    worst = 0
    for at, song in enumerate(needs.played):
        state = known = 0
        for nth, sound in enumerate(song.sounds):
            wrong = (state ^ sound.on) & (sound.on | sound.off) & known & outside
            if song.cold and nth == 0:
                wrong = sound.on & outside
            state = (state & ~(sound.on | sound.off)) | sound.on
            known |= sound.on | sound.off
            if nth or song.cold:
                presses = wrong.bit_count() + sound.foot + packed.presses(at, nth)
                worst = max(worst, presses)
    return worst
