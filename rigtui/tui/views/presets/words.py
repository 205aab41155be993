"""What the presets view shows: its lines and columns, and a preset in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from textual.content import Content

from rigtui.model.places import place_at
from rigtui.model.remembered import Remembered
from rigtui.model.text import count, listed
from rigtui.tui.text import plain
from rigtui.tui.widgets.grid import GridColumn

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Preset, Rig

ON, OFF = "on", "."
FIRST_LOOP = 2
"""Columns before those of the loops."""


class PresetLine(NamedTuple):
    """What one preset shows in the matrix."""

    name: str
    place: str
    loops: frozenset[int]
    role: str
    uses: str = ""
    more: tuple[str, str, str] = ("", "", "")
    """Channel, guitar volume and pedals: shown where there is room."""


_WIDE = 100
"""Cells of width from which channel, volume and pedals have columns of their own."""


def columns_for(width: int, loops: list[tuple[int, list[str]]]) -> list[GridColumn]:
    """The matrix's columns; loops get three to seven cells each before words get any more room."""
    wide = width >= _WIDE
    name = 24 if wide else 20
    each = max(3, min(7, (width - name - 8 - 11 - 5) // max(1, len(loops))))
    columns = [
        GridColumn(("", " Preset"), name, frozen=True, pick=False),
        GridColumn(("bank/", "switch"), 8, frozen=True, pick=False, look="grid--dim"),
    ]
    shorts = short_names([pedals[0] if pedals else "-" for _, pedals in loops], each - 1)
    for (number, _), short in zip(loops, shorts):
        columns.append(GridColumn((str(number), short), each))
    columns.append(GridColumn(("", "Role"), 11, pick=False, look="grid--dim"))
    columns.append(GridColumn(("", "Uses"), 5, pick=False, align="right", look="grid--dim"))
    if wide:
        rest = max(8, width - sum(column.width for column in columns) - 17)
        columns.append(GridColumn(("", "  Channel"), 10, pick=False, look="grid--dim"))
        columns.append(GridColumn(("guitar", "volume"), 7, pick=False, look="grid--dim"))
        columns.append(GridColumn(("", "Pedals"), rest, pick=False, look="grid--dim"))
    return columns


def short_names(names: Sequence[str], width: int) -> list[str]:
    """Cut names to a width so that no two look the same, as far as that can be.

    What begins alike is told apart by a later letter of its last word, then by a number.
    """
    made: list[str] = []
    for name in names:
        last = name.replace("-", " ").split(" ")[-1]
        tails = [name[:width], *(name[: width - 1] + letter for letter in last)]
        tails += [name[: width - 1] + digit for digit in "23456789"]
        made.append(next((tail for tail in tails if tail not in made or tail == "-"), name[:width]))
    return made


def extras(rig: Rig, preset: Preset) -> tuple[str, str, str]:
    """Channel, guitar volume and pedals of a preset, in a few letters each."""
    from rigtui.model.lookup import lookup
    from rigtui.model.text import number_text

    known = lookup(rig)
    volume = "-" if preset.guitar_volume is None else number_text(preset.guitar_volume)
    pedals = " > ".join(known.label(pedal) for pedal in known.preset_pedals(preset))
    return f"  {preset.channel or '-'}", volume, pedals or "-"


_Uses = Counter[str | None]
_sections: Remembered[_Uses] = Remembered(2)
_songs: Remembered[_Uses] = Remembered(2)


def uses_of(rig: Rig) -> _Uses:
    """How many sections use each preset."""
    return _sections.get(
        (rig.songs,),
        lambda: Counter(section.preset for song in rig.songs for section in song.sections),
    )


def songs_with(rig: Rig) -> _Uses:
    """How many songs use each preset."""
    return _songs.get(
        (rig.songs,),
        lambda: Counter(
            preset for song in rig.songs for preset in {section.preset for section in song.sections}
        ),
    )


def words_of(
    rig: Rig, preset: Preset, loop: int | None, findings: tuple[Finding, ...]
) -> list[Content]:
    """A preset in words: what it is for, its pedals, the hands, the loop under the cursor."""
    from rigtui.model.lookup import lookup
    from rigtui.model.text import number_text

    known = lookup(rig)
    songs = songs_with(rig)[preset.id]
    memory = "not stored in a memory yet"
    if len(preset.memories) > 1 and rig.switcher:
        held = [f"{number} ({rig.switcher.spot(number)})" for number in preset.memories]
        memory = f"memories {listed(held)}"
    elif preset.memories and rig.switcher:
        number = preset.memories[0]
        memory = f"memory {number} ({rig.switcher.spot(number).words})"
    uses = uses_of(rig)[preset.id]
    used = f"used in {count(uses, 'section')} of {count(songs, 'song')}" if uses else "not used"
    head = Content.styled(plain(preset.label).plain, "bold")
    lines = [head + plain(f"  {preset.role}, {memory}, {used}")]
    pedals = [known.label(pedal) for pedal in known.preset_pedals(preset)]
    lines.append(plain("Pedals: " + (" > ".join(pedals) if pedals else "none, straight through")))
    hands = []
    if preset.channel:
        hands.append(f"channel {preset.channel}")
    if preset.guitar_volume is not None:
        hands.append(f"guitar volume {number_text(preset.guitar_volume)}")
    if preset.pickup:
        hands.append(f"{preset.pickup} pickup")
    if preset.hands:
        hands.append(preset.hands.replace("\n", " "))
    lines.append(plain("Hands: " + (", ".join(hands) if hands else "nothing noted")))
    if loop is not None and loop in known.loops:
        row = known.loops[loop]
        inside = ", ".join(known.label(p) for p in row.pedals) or "empty"
        side = "before the amp" if row.side == "front" else "in the amp's effects loop"
        state = "on" if loop in preset.loops else "off here"
        lines.append(plain(f"Loop {loop} ({state}), {side}: {inside}"))
    here = place_at("presets", preset.id)
    for finding in findings:
        if finding.where == here and finding.waived is None:
            lines.append(plain(f"{finding.severity}: {finding.message}"))
    return lines
