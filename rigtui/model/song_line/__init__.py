"""A song in one line: `Intro 4 cr, Verse 16 cc, Chorus 8 cr, Verse, Solo 16 lead +wah, Chorus x2`.

Sections stand between commas. Behind a name come its bars, its preset, and the pedals stepped on
(`+wah`) and off (`-boost`); `x2` plays it twice. What is left out is as the last time that the
name was written. A name written several times gets its numbers by itself: Verse 1, Verse 2. In
quotes a name stands for itself: `"Verse 2" 16`. `?` in a preset's place maps to none.

This room reads and writes the line, and knows what may come next. It changes no rig: that is
`rigtui.model.edits.song_line`.
"""

from __future__ import annotations

from rigtui.model.song_line.complete import completed
from rigtui.model.song_line.parts import LineFault, LinePart, Names, names_of
from rigtui.model.song_line.read import line_parts
from rigtui.model.song_line.write import line_of, part_of

__all__ = [
    "LineFault",
    "LinePart",
    "Names",
    "completed",
    "line_of",
    "line_parts",
    "names_of",
    "part_of",
]
