"""Note lengths in milliseconds, which is what the time of a delay is set by."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple


class Note(NamedTuple):
    """A note value."""

    name: str
    quarters: Fraction
    """How many quarter notes long it is."""

    def ms(self, quarter_tempo: float) -> float:
        """Return its length at so many quarter notes a minute: 60000 / tempo x quarters.

        Source: a tempo counts quarter notes a minute, as in Standard MIDI Files 1.0, Set Tempo.
        """
        return 60_000 * float(self.quarters) / quarter_tempo

    def __str__(self) -> str:
        return f"{'an' if self.name.startswith('eighth') else 'a'} {self.name}"


WHOLE = Note("whole note", Fraction(4))
HALF = Note("half note", Fraction(2))
DOTTED_QUARTER = Note("dotted quarter", Fraction(3, 2))
QUARTER = Note("quarter note", Fraction(1))
DOTTED_EIGHTH = Note("dotted eighth", Fraction(3, 4))
QUARTER_TRIPLET = Note("quarter-note triplet", Fraction(2, 3))
EIGHTH = Note("eighth note", Fraction(1, 2))
EIGHTH_TRIPLET = Note("eighth-note triplet", Fraction(1, 3))
SIXTEENTH = Note("sixteenth note", Fraction(1, 4))

NOTES = (
    WHOLE, HALF, DOTTED_QUARTER, QUARTER, DOTTED_EIGHTH, QUARTER_TRIPLET, EIGHTH, EIGHTH_TRIPLET,
    SIXTEENTH,
)  # fmt: skip
"""From the longest to the shortest."""

ECHOES = (QUARTER, DOTTED_EIGHTH, QUARTER_TRIPLET, EIGHTH)
"""What echoes are set to (common practice), from the longest to the shortest."""


@lru_cache(maxsize=256)
def note_of(beat: Fraction) -> Note:
    """Return the note of a beat, given as a fraction of a whole note."""
    quarters = beat * 4
    known = next((note for note in NOTES if note.quarters == quarters), None)
    return known or Note(f"{beat} note", quarters)


def nearest_note(ms: float, quarter_tempo: float, among: Sequence[Note] = ECHOES) -> Note:
    """Return the note from which a time is least off in proportion; of equals, the first."""
    return min(among, key=lambda note: abs(ms / note.ms(quarter_tempo) - 1))
