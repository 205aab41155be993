"""Banks: the presses from one to another, and where in them each memory is."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Literal, NamedTuple

Direction = Literal["up", "down"]


class Spot(NamedTuple):
    """Where a memory is recalled."""

    bank: int
    """From 0."""
    switch: int
    """Footswitch of the bank, from 0."""

    @property
    def words(self) -> str:
        """As a player counts them: "bank 2, switch 3"."""
        return f"bank {self.bank + 1}, switch {self.switch + 1}"

    def __str__(self) -> str:
        return f"{self.bank + 1}/{self.switch + 1}"


def spot_of(memory: int, bank_size: int) -> Spot:
    """Return where a memory, counted from 1, is recalled."""
    return Spot(*divmod(memory - 1, bank_size))


def recalled_at(memory: int | None, bank_size: int) -> str:
    """Say where a memory is recalled: "2/3" for bank 2, switch 3; "-" for no memory.

    Its number alone where the size of a bank is 0, as nothing is known of the switcher.
    """
    if memory is None or not bank_size:
        return "-" if memory is None else str(memory)
    return str(spot_of(memory, bank_size))


def all_recalled_at(memories: Sequence[int], bank_size: int) -> str:
    """Say where a preset is recalled, its own memory and how many copies: "2/3 +1"."""
    more = f" +{len(memories) - 1}" if len(memories) > 1 else ""
    return recalled_at(memories[0] if memories else None, bank_size) + more


class Ring(NamedTuple):
    """The banks as the bank buttons step through them: round and round, or from end to end."""

    banks: int
    up_only: bool = False
    wraps: bool = True
    """Whether the button goes on from the last bank to the first, and back."""

    def way(self, here: int, there: int) -> tuple[int, Direction]:
        """Return the fewest bank steps from one bank to another, from 0, and their direction."""
        up = there - here
        if not self.wraps:
            return (up, "up") if up >= 0 else (-up, "down")
        up %= self.banks
        down = -up % self.banks
        return (up, "up") if self.up_only or up <= down else (down, "down")

    @property
    def table(self) -> tuple[tuple[int, ...], ...]:
        """Bank steps from each bank to each."""
        return _table(self)


@lru_cache(maxsize=64)
def _table(ring: Ring) -> tuple[tuple[int, ...], ...]:
    banks = range(ring.banks)
    return tuple(tuple(ring.way(here, there)[0] for there in banks) for here in banks)
