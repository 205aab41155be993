"""A bound for odd rings: two arcs that do not meet need two light cuts that do not meet.

On a ring of B = 2m + 1 banks each arc of m banks has a neighbour that it does not meet. The B pairs
of such arcs hold every arc twice, and the arcs' cuts come to twice the steps: so the steps are at
least B / 4 times the lightest pair of disjoint sets of the right size.

What it is worth: nothing where `bank_wide` proves the answer; where that gives up, a better bound
in 0.1 s. Measured on full rings of 7, 7, 5 and 9 banks with 21 to 28 presets, what was left open
came from 34, 41, 39 and 59 steps to 16, 31, 19 and 23.
"""

from __future__ import annotations

import numpy as np

from rigtui.plan.ask.control import Control
from rigtui.plan.memories.banks import BankProblem, Ints
from rigtui.plan.memories.cuts import light_sets, lightest_cut

_MOST_SETS = 600_000
_MOST_LOOKS = 1_000_000_000
"""Sets compared before giving up: about two seconds."""
_CHUNK = 1 << 15


def pair_bound(problem: BankProblem, most: int, control: Control) -> int:
    """A lower bound on the steps of an odd ring; it need not go beyond `most`."""
    banks, n, arc = problem.banks, problem.n, problem.banks // 2
    if banks % 2 == 0 or arc == 0:
        return 0
    room = sorted(problem.room)
    high = min(n, sum(room[-arc:]))
    low = max(0, n - sum(room[-(banks - arc) :]))
    least = lightest_cut(problem.weight, low, high, control)
    if not least:
        return 0
    wanted = 4 * most // banks + 1
    lightest = wanted  # pairs from here on are of no interest
    bar = wanted - least  # heavier cuts are in no pair below that
    listed = None
    while listed is None and bar > least:
        listed = light_sets(problem.weight, low, high, bar, _MOST_SETS, control)
        if listed is None:
            bar = (bar + least) // 2
    if listed is None:
        return 0
    floor: int = min(
        wanted, _lightest_pair(listed[0], listed[1], lightest, control), least + bar + 1
    )
    return -(-floor * banks // 4)


def _lightest_pair(masks: Ints, cuts: Ints, lightest: int, control: Control) -> int:
    """The lightest two disjoint sets, or a bound on them where that takes too long."""
    looks = 0
    for nth, cut in enumerate(cuts.tolist()):
        mask = masks[nth]
        if 2 * cut >= lightest:
            break
        if looks > _MOST_LOOKS:
            return min(lightest, 2 * int(cut))
        end = int(np.searchsorted(cuts, lightest - cut, side="left"))
        for at in range(nth + 1, end, _CHUNK):
            control.stop_if_over()
            some = masks[at : min(end, at + _CHUNK)]
            looks += len(some)
            hit = np.flatnonzero((some & mask) == 0)
            if len(hit):
                lightest = cut + int(cuts[at + int(hit[0])])
                break
    return lightest
