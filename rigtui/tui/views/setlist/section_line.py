"""The field for sections in one line: completes names, and shows what it reads as you type."""

from __future__ import annotations

from rigtui.model.rig import Rig, Song
from rigtui.model.song_line import LineFault, LinePart, Names, completed, line_parts, names_of
from rigtui.model.text import count, number_text, visible
from rigtui.tui.widgets.dialogs import Field

EXAMPLE = "Intro 4 clean, Verse 16, Chorus 8 lead +wah, Verse, Chorus x2"
_LAST = 8
"""Sections told back: those being typed are the last."""
HOW = (
    "Name, bars, preset (its short form is enough), +pedal, x2 to play it twice. A "
    "name used before keeps its bars and preset."
)


def line_field(rig: Rig, song: Song | None, line: str = "") -> Field:
    """A field for sections in one line."""
    names = names_of(rig, song)
    return Field(
        "sections",
        "Sections",
        line,
        hint=EXAMPLE,
        complete=lambda text: completed(text, names),
        explain=lambda given: told_back(given["sections"], names),
    )


def told_back(line: str, names: Names) -> str:
    """What a line means: its sections, or where it is wrong; how to write it while it is empty."""
    if not line.strip():
        return HOW
    try:
        parts = line_parts(line, names)
    except LineFault as fault:
        return str(fault)
    labels = dict(names.presets)
    bars = number_text(sum(part.bars for part in parts))
    dots = "... " if len(parts) > _LAST else ""
    last = ", ".join(_told(part, labels) for part in parts[-_LAST:])
    return f"{count(len(parts), 'section')}, {bars} bars: {dots}{last}"


def _told(part: LinePart, labels: dict[str, str]) -> str:
    preset = labels.get(part.preset, part.preset) if part.preset else "no preset"
    pedals = "".join(f" +{pedal}" for pedal in part.plus)
    pedals += "".join(f" -{pedal}" for pedal in part.minus)
    return visible(f"{part.name} {number_text(part.bars)} {preset}{pedals}")
