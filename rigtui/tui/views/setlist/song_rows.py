"""A song as rows: its sections down the side, presets across, moves between the rows."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from rigtui.model.banks import recalled_at
from rigtui.model.cells import cells, wrap
from rigtui.model.lookup import lookup
from rigtui.model.places import section_place
from rigtui.model.text import count, number_text, visible
from rigtui.moves import count_song
from rigtui.moves.words import BREVITIES, presses_in_words, unplayable_in_words
from rigtui.tui.views.setlist.running_order import ERROR
from rigtui.tui.views.setlist.ticks import TICK
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.headings import ColumnHeading, begun_before, headings
from rigtui.tui.widgets.lazy_rows import GridRow

if TYPE_CHECKING:
    from rigtui.model.rig import Preset, Rig, Section, Song
    from rigtui.moves import Change, Presses

ON, OFF = "on", "."
_LETTERS = 5
"""Cells of the column of more things in which letters stand for them."""
_SECTION, _BARS, _PRESET, _MORE = "  Section", "bars ", "Preset", "more "
"""Headings of the columns before the presets."""
WIDE = 64
"""From this many cells on, there is room for words where letters have to do."""


@dataclass(frozen=True, slots=True)
class SongRows:
    """What the grid shows of a song."""

    columns: tuple[GridColumn, ...]
    rows: tuple[GridRow, ...]
    section_rows: tuple[int, ...]
    """The row of each section."""
    frozen: int
    """Columns before the presets: section, bars, preset in words, and more where there is more."""
    presets: tuple[Preset, ...]
    """The presets across."""


def song_rows(
    rig: Rig,
    song: Song,
    width: int,
    marks: Mapping[str, str],
    set_up: Presses | None,
    ticked: Collection[int] = (),
    first: Collection[str | None] = (),
) -> SongRows:
    """Lay a song out in rows.

    Args:
        rig: The rig.
        song: One of its songs.
        width: Cells that there are.
        marks: Marks of sections, by place.
        set_up: Presses that lead to the song where it stands in the evening; None if it does not.
        ticked: Places of sections that a key acts on together.
        first: Ids of presets that come first: the song's own.
    """
    from rigtui.advice.stages import stages

    rows, at_rows = [], []
    presets = tuple(sorted(rig.presets, key=lambda preset: preset.id not in first))
    more_of = more_words if width >= WIDE else more_letters
    layout = _layout(rig, song, width, more_of)
    changes = {change.to_section: change for change in count_song(rig, song).changes}
    if set_up and song.sections:
        head = f"set-up, {count(len(set_up), 'move')}"
        lines = _lines(rig, song.sections[0], set_up, "    ", (head,), width, timed=False)
        rows += [GridRow(note=line) for line in lines]
    could_be_early = {stage.at for stage in stages(rig, song) if stage.fits}
    for at, section in enumerate(song.sections):
        if at in changes:
            rows += change_rows(rig, section, changes[at], width, at in could_be_early)
        at_rows.append(len(rows))
        mark = marks.get(section_place(song.id, at), "")
        rows.append(_section_row(rig, section, mark, at in ticked, layout, presets, more_of))
        cannot = unplayable_in_words(rig, section)
        if cannot is not None:
            rows += [GridRow(note=line, look="grid--error") for line in wrap(cannot, width, "    ")]
    columns = _columns(rig, presets, layout, width)
    return SongRows(columns, tuple(rows), tuple(at_rows), len(layout) - (not layout.more), presets)


class _RowLayout(NamedTuple):
    """Cells of the columns before the presets, by what is in them."""

    name: int
    bars: int
    preset: int
    more: int
    """0 where no section has more: the column goes."""


def _layout(rig: Rig, song: Song, width: int, more_of: Callable[[Section], str]) -> _RowLayout:
    """As wide as what is in them, within a share of the room that leaves some for presets."""
    wide = width >= WIDE
    known = lookup(rig).presets
    sections = song.sections
    names = max((cells(visible(row.name)) for row in sections), default=0) + 3
    words = [preset_words(row, known.get(row.preset or "")) for row in sections]
    presets = max((cells(visible(text)) for text in words), default=0) + 1
    more = max((cells(visible(more_of(row))) for row in sections), default=0)
    most = (width // 4, width // 5, width // 6) if wide else (15, 13, _LETTERS)
    bars = max((cells(_bars(row)) for row in sections), default=0)
    bars, more = max(3, bars + 1), min(more + 1, most[2]) if more else 0
    return _RowLayout(
        max(cells(_SECTION) + 1 + _over(_BARS, bars), min(names, most[0])),
        bars,
        max(cells(_PRESET) + 1 + (more and _over(_MORE, more)), min(presets, most[1])),
        more,
    )


def _over(heading: str, width: int) -> int:
    """Cells of a heading that its column has no room for."""
    return max(0, cells(heading) - width)


def _columns(
    rig: Rig, presets: Sequence[Preset], layout: _RowLayout, width: int
) -> tuple[GridColumn, ...]:
    size = rig.switcher.bank_size if rig.switcher else 0
    room = width - sum(layout)
    labels = tuple(row.label for row in presets)
    heads = headings(labels, room, 4, short_names, 2)
    if sum(head.width for head in heads) > room:
        # Some columns are out of sight: as many as can be in it, with names of one line.
        heads = tuple(ColumnHeading((name,), 4) for name in short_names(labels, 3))
    name, bars = begun_before(_SECTION, layout.name, _BARS, layout.bars)
    preset, more_head = begun_before(_PRESET, layout.preset, _MORE, layout.more or _LETTERS)
    more = GridColumn(("", more_head), layout.more, frozen=True, pick=False, look="grid--dim")
    return (
        GridColumn(("", name), layout.name, frozen=True, pick=False),
        GridColumn(
            ("", bars), layout.bars, frozen=True, pick=False, align="right", look="grid--dim"
        ),
        GridColumn(("", preset), layout.preset, frozen=True, pick=False),
        *((more,) if layout.more else ()),
        *(
            GridColumn(
                (recalled_at(next(iter(preset.memories), None), size), *head.lines), head.width
            )
            for preset, head in zip(presets, heads)
        ),
    )


def _section_row(
    rig: Rig,
    section: Section,
    mark: str,
    ticked: bool,
    layout: _RowLayout,
    presets: Sequence[Preset],
    more_of: Callable[[Section], str],
) -> GridRow:
    preset = lookup(rig).presets.get(section.preset or "")
    on = [row.id == section.preset for row in presets]
    marks = [ON if is_on else OFF for is_on in on]
    tick = TICK if ticked else " "
    look = "" if not mark else "grid--error" if mark == ERROR else "grid--warn"
    more = more_of(section)
    return GridRow(
        (
            f"{mark or ' '}{tick}{section.name}",
            _bars(section),
            preset_words(section, preset),
            *((more,) if layout.more else ()),
            *marks,
        ),
        (
            look or "grid--strong",
            "",
            "" if preset else "grid--warn",
            *(("",) if layout.more else ()),
            *("grid--on" if is_on else "grid--dim" for is_on in on),
        ),
        also=preset_words(section, preset),
    )


def _bars(section: Section) -> str:
    """A section's bars; a ? where they are a guess."""
    return number_text(section.bars) + ("? " if section.until else " ")


def preset_words(section: Section, preset: Preset | None) -> str:
    """A section's preset by name, or what is the matter with it."""
    if preset is not None:
        return preset.label
    return "unmapped" if section.preset is None else f'"{section.preset}"?'


def more_letters(section: Section) -> str:
    """What a section has besides its preset, a mark each: + - pedals, t tempo, h hands.

    A single pedal is named if its id is as short as three marks.
    """
    letters = "t" * bool(section.tempo or section.meter or section.beat)
    letters += "h" * _has_hands(section)
    if len(section.plus) == 1 and not section.minus and not letters and len(section.plus[0]) < 4:
        return f"+{section.plus[0]}"
    return "+" * bool(section.plus) + "-" * bool(section.minus) + letters


def _has_hands(section: Section) -> bool:
    own = (section.hands, section.pickup, section.preset_hands, section.ignores)
    return any(own) or section.guitar_volume is not None


def more_words(section: Section) -> str:
    """What a section has besides its preset, in words as short as can be."""
    words = [f"+{pedal}" for pedal in section.plus] + [f"-{pedal}" for pedal in section.minus]
    words += [number_text(section.tempo)] if section.tempo else []
    words += [word for word in (section.meter, section.beat and f"{section.beat}=1") if word]
    return " ".join(words + ["hands"] * _has_hands(section))


def change_rows(
    rig: Rig, section: Section, change: Change, width: int, could_be_early: bool = False
) -> list[GridRow]:
    """What stands between two sections: moves, how many of them on the beat, and which.

    An E stands before a crowded one where that key takes a press off the beat.
    """
    if not change.moves:
        return []
    beat = change.on_the_beat
    crowded = beat > rig.player.moves_allowed
    moves = count(change.moves, "move")
    heads: tuple[str, ...] = (moves,)
    if beat < change.moves:
        heads = (f"{moves}, {beat} on the beat", f"{moves}, {beat} on beat")
    elif crowded:
        heads = (f"{moves} on the beat", f"{moves} on beat")
    indent = f" {'E' if could_be_early and crowded else ' '}{'!' if crowded else ' '} "
    look = "grid--warn" * crowded
    lines = _lines(rig, section, change.presses, indent, heads, width)
    return [GridRow(note=line, look=look) for line in lines]


def _lines(
    rig: Rig,
    section: Section,
    presses: Presses,
    indent: str,
    heads: tuple[str, ...],
    width: int,
    *,
    timed: bool = True,
) -> list[str]:
    """Presses with what is said ahead of them: as full as one line allows, else in several."""
    words = {
        brevity: ", ".join(presses_in_words(rig, section, presses, brevity, timed=timed))
        for brevity in BREVITIES
    }
    for head, said in ((heads[0], words["full"]), *((heads[-1], text) for text in words.values())):
        line = f"{indent}{head}: {said}"
        if cells(line) <= width:
            return [line]
    return wrap(f"{heads[-1]}: {words['short']}", width, indent, " " * (len(indent) + 2))


def short_names(labels: Sequence[str], width: int) -> list[str]:
    """Names of at most `width` characters, different from each other as far as that goes.

    A name that fits stays. Else of several words each gives its first letter and the last one
    fills up: Clean Wide is CWi in three; where that is taken, the first word gives more: ClW.
    """
    taken: set[str] = set()
    short = []
    for label in labels:
        choices = _shortened(label, width)
        name = next((choice for choice in choices if choice not in taken), choices[0])
        taken.add(name)
        short.append(name)
    return short


def _shortened(label: str, width: int) -> list[str]:
    words = label.split()
    if len(label) <= width:
        return [label]
    if len(words) < 2:
        word = label.strip()
        return [word[:width], *(word[: width - 1] + letter for letter in word[width:])]
    choices = []
    for first in range(1, width):
        rest = "".join(word[0] for word in words[1:-1])[: width - first - 1]
        head = words[0][:first] + rest
        choices.append(head + words[-1][: width - len(head)])
    return choices
