"""Edits of a whole song by its line: sections come, go and change, and what stays keeps its notes.

A line says name, bars, preset and pedals. Everything else of a section (cue, hands, rests, what is
switched early) stays with it for as long as the section stays in the song.
"""

from __future__ import annotations

from collections.abc import Sequence

from rigtui.model.edits.songs import mapped_to, set_song
from rigtui.model.edits.tables import changed, made, place_of
from rigtui.model.edits.waivers import with_waivers_placed
from rigtui.model.errors import EditError
from rigtui.model.limits import MAX_SECTIONS
from rigtui.model.places import place_at
from rigtui.model.rig import Rig, Section, Song
from rigtui.model.song_line import LinePart, line_of, line_parts, names_of, part_of
from rigtui.model.song_line.parts import base_and_number


def song_line(song: Song) -> str:
    """A song's sections in one line, in the form in which it always comes back."""
    return line_of(part_of(section) for section in song.sections)


def set_song_line(rig: Rig, song_id: str, line: str) -> Rig:
    """Make a song's sections those of a line.

    A section of the same name stays the same section, wherever it is now, and so do its waivers.

    Raises:
        EditError: the line cannot be read, with the column.
    """
    song = rig.songs[place_of(rig.songs, song_id, "song")]
    parts = line_parts(line, names_of(rig, song))
    from_old = stays(song.sections, parts)
    rows = tuple(
        new_section(part) if at is None else _kept(song.sections[at], part)
        for part, at in zip(parts, from_old)
    )
    new = set_song(rig, song_id, sections=rows)
    return with_waivers_placed(
        new,
        place_at("songs", song_id, "sections"),
        len(song.sections),
        lambda places: tuple("" if at is None else places[at] for at in from_old),
    )


def add_line(rig: Rig, song_id: str, line: str, at: int) -> Rig:
    """Put the sections of a line into a song at a place (from 0); those there stay as they are."""
    song = rig.songs[place_of(rig.songs, song_id, "song")]
    new = tuple(new_section(part) for part in line_parts(line, names_of(rig, song)))
    sections = song.sections
    if len(sections) + len(new) > MAX_SECTIONS:
        raise EditError(f"a song has at most {MAX_SECTIONS} sections")
    put = set_song(rig, song_id, sections=(*sections[:at], *new, *sections[at:]))
    return with_waivers_placed(
        put,
        place_at("songs", song_id, "sections"),
        len(sections),
        lambda places: (*places[:at], *("" for _ in new), *places[at:]),
    )


def new_section(part: LinePart) -> Section:
    """A section as a line says it."""
    keys = {key: value for key, value in part._asdict().items() if value not in (None, ())}
    return made(Section, **keys)


def _kept(section: Section, part: LinePart) -> Section:
    """A section with what the line says of it, and all else as it was."""
    said = part_of(section)
    if said == part:
        return section
    values = {
        key: value
        for key, value in part._asdict().items()
        if key != "preset" and value != getattr(said, key)
    }
    return changed(section, **values, **mapped_to(section, part.preset))


def stays(sections: Sequence[Section], parts: Sequence[LinePart]) -> list[int | None]:
    """For each part of a line the place of the section that it was before; None for a new one.

    Sections that keep their order are found first, those most alike before others; then those
    that went elsewhere. A number that came by itself counts for nothing: of three choruses the
    second may become the third.
    """
    said = [part_of(section) for section in sections]
    before = _in_order(said, parts)
    left = [at for at in range(len(said)) if at not in before]
    for at, part in enumerate(parts):
        if before[at] is None:
            place = next((old for old in left if _base(said[old]) == _base(part)), None)
            if place is not None:
                before[at] = place
                left.remove(place)
    return before


def _in_order(old: Sequence[LinePart], new: Sequence[LinePart]) -> list[int | None]:
    """The alignment that keeps most, by the usual table over both rows."""
    start = next(
        (at for at, (was, now) in enumerate(zip(old, new)) if was != now),
        min(len(old), len(new)),
    )
    rows, columns = len(old) - start, len(new) - start
    bases = [_base(part) for part in old], [_base(part) for part in new]

    def alike(i: int, j: int) -> int:
        same = bases[0][start + i] == bases[1][start + j]
        return _likeness(old[start + i], new[start + j]) if same else 0

    best = [[0] * (columns + 1) for _ in range(rows + 1)]
    for i in range(rows - 1, -1, -1):
        for j in range(columns - 1, -1, -1):
            gain = alike(i, j)
            both = gain + best[i + 1][j + 1] if gain else 0
            best[i][j] = max(both, best[i + 1][j], best[i][j + 1])
    before: list[int | None] = [*range(start), *(None for _ in range(columns))]
    i = j = 0
    while i < rows and j < columns:
        gain = alike(i, j)
        if gain and best[i][j] == gain + best[i + 1][j + 1]:
            before[start + j] = start + i
            i, j = i + 1, j + 1
        elif best[i][j] == best[i + 1][j]:
            i += 1
        else:
            j += 1
    return before


def _likeness(old: LinePart, new: LinePart) -> int:
    """How much speaks for two of one name being the same section."""
    return 8 + sum(a == b for a, b in zip(old, new))


def _base(part: LinePart) -> str:
    return base_and_number(part.name)[0].casefold()
