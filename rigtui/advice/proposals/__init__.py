"""What could be done first: a file for each family of proposals, none of them tried yet.

A family is a function from what is asked to proposals; None in between is a breath, for a screen
that waits for a key. What it leaves out as too much it adds to `untried`.
"""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.advice.proposals import board, copies, figures, inside, sounds, staging, swaps
from rigtui.advice.proposals.asked import Asked
from rigtui.advice.remedy import Proposal

__all__ = ["Asked", "proposals"]

FAMILIES = (
    sounds.propose,
    staging.propose,
    board.propose,
    swaps.propose,
    inside.propose,
    copies.propose,
    figures.propose,
)
"""In the order in which they are tried."""


def proposals(asked: Asked) -> Iterator[Proposal | None]:
    """Return all that could be done, a few of each family."""
    for family in FAMILIES:
        yield from family(asked)
