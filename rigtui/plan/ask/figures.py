"""What an evening comes to, as the report counts it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Figures:
    """Moves of an evening as the report counts them."""

    moves: int
    """Over every song of the chosen setlists, repeats included; as written."""
    set_up_moves: int
    worst_change: int
    """Moves of the worst single change."""
    on_the_beat_worst: int
    unplayable: int = 0
    """Sections whose sound no memory holds."""
    crowded: int = 0
    """Changes with two or more presses on the beat."""
    bank_steps: int = 0
    """Presses of the bank buttons inside songs."""
    extra_presses: int = 0
    """Presses on the beat beyond the first of each change."""
    effort: float = 0
    """Moves inside songs, and so much for each extra press as the player counts."""

    @property
    def in_all(self) -> int:
        """Moves inside songs and between them."""
        return self.moves + self.set_up_moves
