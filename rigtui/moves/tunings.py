"""What differs between two tunings, string by string."""

from __future__ import annotations

from typing import NamedTuple

from rigtui.model.text import count, listed, visible
from rigtui.model.tunings import is_standard


class Retuned(NamedTuple):
    """A string that goes from one note to another."""

    name: str
    """How players call it: its note, and which of them where several strings have it."""
    note: str
    """The note that it goes to."""
    way: str
    """"up", "down", or nothing where the notes do not say."""


_MOST_NAMED = 3
"""Strings that are named; more than these are counted."""
_SEMITONES = dict(zip("CDEFGAB", (0, 2, 4, 5, 7, 9, 11)))
_SIGNS = {"#": 1, "♯": 1, "b": -1, "♭": -1}


def strings_to_retune(old: str, new: str) -> tuple[Retuned, ...] | None:
    """Return the strings that differ between two tunings; None where they are names, not notes."""
    if is_standard(old) and is_standard(new):
        return ()
    before, after = old.split(), new.split()
    if len(before) != len(after) or len(before) < 3:
        return None
    return tuple(
        Retuned(_name_of(before, at), after[at], _way(before[at], after[at]))
        for at in range(len(before))
        if before[at] != after[at] and not _same(before[at], after[at])
    )


def _name_of(notes: list[str], at: int) -> str:
    """A string by its note; where several have it, the outer two by that, others by number."""
    note = notes[at]
    if notes.count(note) == 1:
        return note
    if at in (0, len(notes) - 1):
        return f"{'high' if at else 'low'} {note}"
    return f"string {len(notes) - at} ({note})"


def _same(old: str, new: str) -> bool:
    return _pitch(old) is not None and _pitch(old) == _pitch(new)


def _way(old: str, new: str) -> str:
    """The nearer way from one note to another."""
    pitches = _pitch(old), _pitch(new)
    if pitches[0] is None or pitches[1] is None:
        return ""
    up = (pitches[1] - pitches[0]) % 12
    return "" if up in (0, 6) else "up" if up < 6 else "down"


def _pitch(note: str) -> int | None:
    """Semitones above C of a note such as "E" or "Eb"; None where it is none."""
    letter, signs = note[:1].upper(), note[1:]
    if letter not in _SEMITONES or any(sign not in _SIGNS for sign in signs):
        return None
    return (_SEMITONES[letter] + sum(_SIGNS[sign] for sign in signs)) % 12


def strings_in_words(strings: tuple[Retuned, ...] | None, new: str) -> str:
    """Say "low E down to D"; of names, and of more than a few strings, what they are tuned to."""
    if strings is None:
        return f"to {visible(new)}"
    if len(strings) > _MOST_NAMED:
        return f"{count(len(strings), 'string')}, to {visible(new)}"
    return listed(
        visible(f"{string.name} {string.way} to {string.note}" if string.way else
                f"{string.name} to {string.note}")
        for string in strings
    )  # fmt: skip
