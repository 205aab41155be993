"""What the presets view shows: its lines and columns, and a preset in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from textual.content import Content

from rigtui.model.cells import cells
from rigtui.model.places import place_at
from rigtui.model.remembered import Remembered
from rigtui.model.text import count, listed, visible
from rigtui.tui.text import plain
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.headings import headings

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Preset, Rig

ON, OFF = "on", "."
_USES = 6
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


class Matrix(NamedTuple):
    """The matrix's columns."""

    columns: list[GridColumn]
    more: tuple[int, ...]
    """Which of a line's `more` have a column."""


_MORE = (("", "  Channel"), ("  guitar", "  volume"))
_BEHIND = 8
"""Cells of a heading behind the loops."""
_LEAST_PEDALS = 16
_SHORT, _TALL = 16, 26
"""Lines of height below which headings take one line, and two."""


def columns_for(
    width: int, height: int, loops: list[tuple[int, list[str]]], lines: Sequence[PresetLine]
) -> Matrix:
    """The matrix's columns, as wide as what is in them; those with nothing in them go.

    Loops carry their pedals' names, in full where there is room. Channel and volume come behind
    them, out of sight where there is no room: the cursor goes there. Pedals come where there is
    room.
    """
    name = min(30, max([len("Preset"), *(cells(visible(row.name)) for row in lines)]) + 2)
    place = min(16, max([6, *(cells(row.place) for row in lines)]) + 1)
    role = max([4, *(cells(row.role) for row in lines)]) + 1
    names = tuple(" + ".join(pedals) if pedals else "-" for _, pedals in loops)
    room = width - name - place - role - _USES
    least = 4 if 4 * len(loops) <= room else 3
    most_lines = 1 if height < _SHORT else 2 if height < _TALL else 3
    heads = headings(names, room, least, short_names, most_lines)
    # More lines of headings, where that leaves the pedals in words their room.
    behind = max((sum(map(cells, row.more)) for row in lines), default=0) + 2 * _BEHIND
    if room - behind >= least * len(loops):
        tighter = headings(names, room - behind, least, short_names, most_lines)
        if all(" ".join(head.lines).split() == name.split() for head, name in zip(tighter, names)):
            heads = tighter
    columns = [
        GridColumn(("", " Preset"), name, frozen=True, pick=False),
        GridColumn(("bank/", "switch"), place, frozen=True, pick=False, look="grid--dim"),
    ]
    for (number, _), head in zip(loops, heads):
        columns.append(GridColumn((str(number), *head.lines), head.width))
    columns.append(GridColumn(("", "Role"), role, look="grid--dim"))
    columns.append(GridColumn(("", "Uses"), _USES, pick=False, align="right", look="grid--dim"))
    left = width - sum(column.width for column in columns)
    more = []
    for at, title in enumerate(_MORE):
        said = [cells(visible(row.more[at])) for row in lines if row.more[at] not in ("", "-")]
        wide = max([len(title[1]), *(most + 2 for most in said)])
        if said:
            columns.append(GridColumn(title, wide, look="grid--dim"))
            left -= columns[-1].width
            more.append(at)
    if left >= _LEAST_PEDALS:
        columns.append(GridColumn(("", "  Pedals"), left, pick=False, look="grid--dim"))
        more.append(2)
    return Matrix(columns, tuple(more))


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
    return preset.channel or "-", volume, pedals or "-"


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
        how = (
            "stored with the preset" if rig.amp.channel_switch == "preset" else "by its footswitch"
        )
        hands.append(f"amp channel {preset.channel} ({how})")
    if preset.guitar_volume is not None:
        hands.append(f"guitar volume {number_text(preset.guitar_volume)}")
    if preset.pickup:
        hands.append(f"{preset.pickup} pickup")
    if preset.hands:
        hands.append(preset.hands.replace("\n", " "))
    lines.append(plain("Amp and hands: " + (", ".join(hands) if hands else "nothing noted")))
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
