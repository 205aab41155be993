"""Which meters there are, and which note a tempo counts in one where nobody says it."""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache

from rigtui.model.text import number_text

_MOST_BEATS = 64
_NOTES = (1, 2, 4, 8, 16, 32, 64)


def is_meter(upper: int, lower: int) -> bool:
    """Whether a rig can hold a meter, or a note value, of these two numbers."""
    return 1 <= upper <= _MOST_BEATS and lower in _NOTES


@lru_cache(maxsize=512)
def default_beat(meter: str) -> Fraction:
    """Return the note that a tempo counts in a meter, as a fraction of a whole note.

    The lower number's note; a dotted beat of three of them where the upper number is a multiple
    of 3 above 3 and the lower is 8 or more (6/8, 9/8, 12/8 and so on).

    Source: compound meters, common practice; 6/8 beats a dotted quarter.
    """
    upper, lower = (int(part) for part in meter.split("/"))
    compound = upper > 3 and upper % 3 == 0 and lower >= 8
    return Fraction(3 if compound else 1, lower)


_NAMES = {1: "whole notes", 2: "halves", 4: "quarters", 8: "eighths", 16: "sixteenths"}
_NOTE_WORDS = {
    "whole": "1/1", "half": "1/2", "halve": "1/2", "quarter": "1/4", "eighth": "1/8",
    "sixteenth": "1/16", "dotted half": "3/4", "dotted halve": "3/4", "dotted quarter": "3/8",
    "dotted eighth": "3/16",
}  # fmt: skip


def tempo_in_words(
    tempo: float, meter: str, beat: str | None, quarters: str = "beats per minute"
) -> str:
    """A tempo with what it counts, where that is not the quarter: "132 eighths a minute".

    Args:
        tempo: Beats per minute.
        meter: The meter that it goes with.
        beat: The note that it counts, where somebody said it.
        quarters: What stands behind a tempo of quarters.
    """
    note = Fraction(beat) if beat else default_beat(meter)
    said = quarters if note == Fraction(1, 4) else f"{note_name(str(note))} a minute"
    return f"{number_text(tempo)} {said}"


def note_name(beat: str) -> str:
    """What players call a note value, in the plural: "1/8" eighths, "3/8" dotted quarters.

    Raises:
        ValueError: it is no fraction.
    """
    note = Fraction(beat)
    if note.numerator == 1 and note.denominator in _NAMES:
        return _NAMES[note.denominator]
    if note.numerator == 3 and note.denominator // 2 in _NAMES:
        return f"dotted {_NAMES[note.denominator // 2]}"
    return f"notes of {beat}"


def note_value(words: str) -> str:
    """The value of a note that is given by its name, "3/8" of "dotted quarter"; else the words."""
    name = " ".join(words.casefold().replace("-", " ").split())
    name = name.removesuffix("s").removesuffix(" note").removesuffix("s")
    return _NOTE_WORDS.get(name, words)
