"""How much one file may hold, and whether a rig that was edited still fits one."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from rigtui.model.base import RigTable
from rigtui.model.rig import Loop, Rig, Set, Song

# The most that one file may hold; far above any evening, low enough that nothing hangs.
LIMITS = {"pedals": 200, "loops": 99, "presets": 1000, "songs": 3000, "setlists": 1000,
          "waivers": 5000, "printed": 1000, "midi": 64, "places": 300, "holes": 100, "plugs": 3,
          "reels": 200, "patch_leads": 1000}  # fmt: skip
MAX_SECTIONS = 1000
MAX_ALL_SECTIONS = 15_000
MAX_LIST = 10_000
MAX_IN_LOOP = 20
MAX_ENTRIES = 300
"""In any list inside a table: all pedals and all loops in a chain."""
MAX_ALL_ENTRIES = 110_000
"""In all lists together: each can be a finding, and takes a line of the report."""
MAX_PAIRS = 3_500_000
"""Sections times presets: how long counting takes grows with that on the worst of boards, ..."""
MAX_LOOP_PAIRS = 150_000
"""... and trying each loop's pedal outside with sections times loops."""


class FileTotals(NamedTuple):
    """How much there is of what may be only so much in a whole file."""

    sections: int
    presets: int
    loops: int
    played: int
    """Songs to play in all setlists together."""
    entries: int
    """Entries of all lists together."""


def too_much_in_all(totals: FileTotals) -> Iterator[tuple[tuple[str, ...], str]]:
    """Where a whole file holds too much, and a sentence about it."""
    sections = totals.sections
    if sections > MAX_ALL_SECTIONS:
        yield (
            ("songs",),
            f"{sections} sections are too many: at most {MAX_ALL_SECTIONS} in all",
        )
    for table, rows, most in (
        ("presets", totals.presets, MAX_PAIRS),
        ("loops", totals.loops, MAX_LOOP_PAIRS),
    ):
        if sections * rows > most:
            yield (
                ("songs",),
                f"{sections} sections are too many with so many {table}: sections times {table} "
                f"may be at most {most}",
            )
    if totals.played > MAX_LIST:
        yield (
            ("setlists",),
            f"{totals.played} songs to play are too many: at most {MAX_LIST} in all",
        )
    if totals.entries > MAX_ALL_ENTRIES:
        yield (
            (),
            f"{totals.entries} entries are too many: all lists together have at most "
            f"{MAX_ALL_ENTRIES}",
        )


def too_long(entries: int, in_loop: bool) -> str | None:
    """Say that a list inside a table has more entries than any board could fill; None if not."""
    most, place = (MAX_IN_LOOP, "loop") if in_loop else (MAX_ENTRIES, "list")
    return (
        f"{entries} entries are too many: at most {most} fit a {place}" if entries > most else None
    )


class Fits:
    """Whether rigs fit a file, one after another; songs that were looked at are remembered."""

    def __init__(self) -> None:
        """Know no song yet."""
        self._songs: dict[int, tuple[Song, int, str | None]] = {}

    def reason_not(self, rig: Rig) -> str | None:
        """Return why a rig is too large for a file; None if it fits one.

        `rig_from_data` refuses the same of plain data; rows of a table are counted by the edits.
        """
        known = self._songs
        self._songs = {id(song): known.get(id(song)) or (song, *_lists(song)) for song in rig.songs}
        rest, long = _lists(rig, "songs")
        totals = FileTotals(
            sum(len(song.sections) for song in rig.songs),
            len(rig.presets),
            len(rig.loops),
            sum(len(part.songs) for setlist in rig.setlists for part in setlist.sets),
            rest + len(rig.songs) + sum(entries for _, entries, _ in self._songs.values()),
        )
        reasons = [long, *(reason for _, _, reason in self._songs.values())]
        reasons += [message for _, message in too_much_in_all(totals)]
        return next((reason for reason in reasons if reason is not None), None)


def _lists(table: RigTable, but: str | None = None) -> tuple[int, str | None]:
    """Entries of all lists in a table, and what is wrong with one that is too long."""
    entries, long = 0, None
    for key in table.model_fields_set - {but}:
        value = getattr(table, key)
        if isinstance(value, tuple):
            entries += len(value)
            if not isinstance(table, Rig) and (type(table), key) not in _COUNTED_IN_ALL:
                long = long or too_long(len(value), isinstance(table, Loop))
        for row in value if isinstance(value, tuple) else (value,):
            if isinstance(row, RigTable):
                more, too = _lists(row)
                entries, long = entries + more, long or too
    return entries, long


_COUNTED_IN_ALL = {(Song, "sections"), (Set, "songs")}
