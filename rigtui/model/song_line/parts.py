"""What a line holds, and the names that it may use."""

from __future__ import annotations

import re
from typing import NamedTuple

from rigtui.model.errors import EditError
from rigtui.model.rig import Rig, Song

ENDS = ",;|\n\r"
"""What may stand between two sections; a comma is how they are written."""
NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")
TIMES = re.compile(r"[xX×]([0-9]{1,4})")
BARS = ("bar", "bars")
UNMAPPED = "?"
_NUMBERED = re.compile(r"(.*\S) ([1-9][0-9]{0,3})", re.DOTALL)


class LineFault(EditError):
    """A line that cannot be read: the column, what is there, and what would be right."""

    def __init__(self, column: int, words: str) -> None:
        super().__init__(f"column {column}: {words}")
        self.column = column
        """Where, from 1."""
        self.words = words


class LinePart(NamedTuple):
    """One section as a line says it."""

    name: str
    bars: float
    preset: str | None = None
    """Id of a preset; None for none yet."""
    plus: tuple[str, ...] = ()
    minus: tuple[str, ...] = ()


class Row(NamedTuple):
    """A preset or a pedal that a line may name."""

    id: str
    label: str


class Names(NamedTuple):
    """What a line may name."""

    presets: tuple[Row, ...]
    pedals: tuple[Row, ...]
    sections: tuple[str, ...] = ()
    """Names of sections that may come again, the likeliest first."""


COMMON = ("Intro", "Verse", "Chorus", "Pre-chorus", "Bridge", "Solo", "Outro", "Middle eight",
          "Break", "Riff", "Interlude", "Ending", "Head", "Vamp")  # fmt: skip
"""What bands call their sections (common practice)."""


def names_of(rig: Rig, song: Song | None = None) -> Names:
    """What a line of a rig may name; ids that the song has and nothing in the rig are kept."""
    presets = [Row(row.id, row.label) for row in rig.presets]
    pedals = [Row(row.id, row.label) for row in rig.pedals]
    for section in song.sections if song else ():
        if section.preset is not None and all(row.id != section.preset for row in presets):
            presets.append(Row(section.preset, section.preset))
        for pedal in (*section.plus, *section.minus):
            if all(row.id != pedal for row in pedals):
                pedals.append(Row(pedal, pedal))
    counts: dict[str, int] = {}
    for other in rig.songs:
        for section in other.sections:
            base = base_and_number(section.name)[0]
            counts[base] = counts.get(base, 0) + 1
    used = sorted(counts, key=lambda name: -counts[name])
    return Names(tuple(presets), tuple(pedals), tuple(dict.fromkeys((*used, *COMMON))))


def base_and_number(name: str) -> tuple[str, int | None]:
    """A section's name without the number behind it, and the number: ("Verse", 2)."""
    numbered = _NUMBERED.fullmatch(name)
    return (numbered[1], int(numbered[2])) if numbered else (name, None)
