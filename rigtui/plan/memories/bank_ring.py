"""Rings of two, three and four banks, exactly, from the lists of light cuts.

Two banks: the lightest cut of the right size. Three: every step is one, so the cost is half the
sum of the three cuts around the banks; for each light first bank the rest is halved best. Four:
two ways to halve the ring, whose four quarters are the banks.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from rigtui.plan.ask.control import Control
from rigtui.plan.memories.banks import BankProblem, Best, Ints
from rigtui.plan.memories.cuts import (
    MOST_NODES,
    cut_table,
    light_sets,
    lightest_cut,
    picked,
    ranked,
)

_MOST_SETS = 4_000_000
_CHUNK = 1 << 18
_Mask = npt.NDArray[np.bool_]


def best_ring(problem: BankProblem, best: Best, control: Control) -> int | None:
    """Find the best partition on a ring of two to four banks.

    Args:
        problem: The problem; `up_only` only with two banks, where it makes no difference.
        best: The best so far; a good start makes this fast.
        control: Stops the search.

    Returns:
        A proven bound: the cost of the best, or less where there were too many sets to look at.
        None where this solver does not apply.
    """
    if (problem.up_only and problem.banks > 2) or problem.in_line:
        return None
    if problem.banks == 2:
        return _two(problem, best, control)
    if problem.banks == 3 and problem.n <= MOST_NODES:
        return _three(problem, best, control)
    if problem.banks == 4:
        return _four(problem, best, control)
    return None


def _pinned(problem: BankProblem, banks: tuple[int, ...]) -> tuple[int, int]:
    """Masks of the presets pinned in these banks, and pinned elsewhere."""
    inside = sum(1 << preset for preset, bank in problem.pins.items() if bank in banks)
    outside = sum(1 << preset for preset, bank in problem.pins.items() if bank not in banks)
    return inside, outside


def _keeps_pins(problem: BankProblem, masks: Ints, banks: tuple[int, ...]) -> npt.NDArray[np.bool_]:
    inside, outside = _pinned(problem, banks)
    keeps: npt.NDArray[np.bool_] = (masks & inside == inside) & (masks & outside == 0)
    return keeps


def _span(problem: BankProblem, banks: tuple[int, ...]) -> tuple[int, int]:
    """The fewest and the most presets that can be in these banks."""
    inside = sum(problem.room[bank] for bank in banks)
    return max(0, problem.n - (sum(problem.room) - inside)), min(problem.n, inside)


def _two(problem: BankProblem, best: Best, control: Control) -> int:
    low, high = _span(problem, (0,))
    sets = light_sets(problem.weight, low, high, best.cost, _MOST_SETS, control)
    if sets is None:
        return lightest_cut(problem.weight, low, high, control)
    masks, cuts = sets
    kept = _keeps_pins(problem, masks, (0,))
    masks, cuts = masks[kept], cuts[kept]
    for mask in masks[cuts == cuts[:1].sum()][:256] if len(cuts) else ():
        best.offer(1 - (int(mask) >> preset & 1) for preset in range(problem.n))
    return best.cost


def _three(problem: BankProblem, best: Best, control: Control) -> int:
    """The first bank is that with the lightest cut, each bank in turn where they differ."""
    n, everything = problem.n, (1 << problem.n) - 1
    cuts = cut_table(problem.weight, control)
    for first in range(1 if problem.even else 3):
        second, third = (bank for bank in range(3) if bank != first)
        low, high = _span(problem, (first,))
        most = best.cost * 2 // 3

        def light(some: slice, low: int = low, high: int = high, most: int = most) -> _Mask:
            count = np.bitwise_count(np.arange(some.start, some.stop, dtype=np.uint32))
            wanted: _Mask = (count >= low) & (count <= high) & (cuts[some] <= most)
            return wanted

        fits = picked(cuts, light, control)
        fits = fits[_keeps_pins(problem, fits, (first,))]
        control.stop_if_over()
        for mask in fits[ranked(cuts[fits])]:
            cut = int(cuts[mask])
            if cut * 3 > best.cost * 2:
                break
            control.stop_if_over()
            rest = everything ^ int(mask)
            halves = _subsets(rest)
            others = rest ^ halves
            right = (np.bitwise_count(halves) <= problem.room[second]) & (
                np.bitwise_count(others) <= problem.room[third]
            )
            right &= _keeps_pins(problem, halves, (second,)) & _keeps_pins(
                problem, others, (third,)
            )
            halves, others = halves[right], others[right]
            total = cuts[halves] + cuts[others] + cut
            if not len(total) or total.min() > best.cost * 2:
                continue
            for half in halves[total == total.min()][:64]:
                at = [third] * n
                for preset in range(n):
                    if mask >> preset & 1:
                        at[preset] = first
                    elif half >> preset & 1:
                        at[preset] = second
                best.offer(at)
    return best.cost


def _subsets(mask: int) -> Ints:
    subsets = np.zeros(1, dtype=np.int64)
    for node in range(mask.bit_length()):
        if mask >> node & 1:
            subsets = np.concatenate((subsets, subsets | 1 << node))
    return subsets


def _four(problem: BankProblem, best: Best, control: Control) -> int:
    """Halves {1, 2} and {2, 3}: pairs in order of the first cut, as long as they can win."""
    low, high = _span(problem, (0, 1))
    low2, high2 = _span(problem, (1, 2))
    least = lightest_cut(problem.weight, min(low, low2), max(high, high2), control)
    most = best.cost - least
    sets = light_sets(problem.weight, min(low, low2), max(high, high2), most, _MOST_SETS, control)
    if sets is None:
        return min(2 * least, best.cost)
    masks, cuts = sets
    count = np.bitwise_count(masks)
    first = _keeps_pins(problem, masks, (0, 1)) & (count >= low) & (count <= high)
    two = _keeps_pins(problem, masks, (1, 2)) & (count >= low2) & (count <= high2)
    if problem.even:  # turned by half, the ring swaps the first half for the other
        first &= masks & 1 == 1
    firsts, first_cuts, seconds, second_cuts = masks[first], cuts[first], masks[two], cuts[two]
    if not len(firsts) or not len(seconds):
        return best.cost
    looked = 0
    for mask, cut in zip(firsts, first_cuts):
        if cut + second_cuts[0] > best.cost:
            break
        end = int(np.searchsorted(second_cuts, best.cost - cut, side="right"))
        begin = 0
        if problem.even:  # the lighter of the two comes first
            begin = int(np.searchsorted(second_cuts, cut, side="left"))
        for at in range(begin, end, _CHUNK):
            control.stop_if_over()
            part = seconds[at : min(end, at + _CHUNK)]
            looked += len(part)
            both = np.bitwise_count(part & mask)
            sizes_ = (
                int(mask).bit_count() - both,
                both,
                np.bitwise_count(part) - both,
                problem.n - int(mask).bit_count() - np.bitwise_count(part) + both,
            )
            fits = np.ones(len(part), dtype=bool)
            for room, size in zip(problem.room, sizes_):
                fits &= size <= room
            where = np.flatnonzero(fits)
            if not len(where):
                continue
            price = second_cuts[at + where]
            for other in part[where[price == price.min()]][:64]:
                best.offer(_quarters(problem.n, int(mask), int(other)))
            break  # those that follow are dearer
    return best.cost


def _quarters(n: int, first: int, second: int) -> list[int]:
    banks = {(1, 0): 0, (1, 1): 1, (0, 1): 2, (0, 0): 3}
    return [banks[first >> preset & 1, second >> preset & 1] for preset in range(n)]
