"""The rehearsal sheet: what to practise and what to mend, with room to write."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Protocol, TypeVar

from rigtui.model import Rig, Setlist
from rigtui.model.lookup import lookup
from rigtui.model.place_words import place_in_words
from rigtui.model.text import count
from rigtui.moves import count_song
from rigtui.paper.content import BOX, Block, Column, Heading, Lines, Para, Part, Sheet, Table
from rigtui.paper.words import feet

BUSIEST = 12
"""Changes that the sheet lists."""
ROOM = 12
"""Lines to write on."""
TITLES = {"error": "Errors", "warning": "Warnings", "advice": "Advice"}
CHANGES = (
    Column("song"), Column("change"), Column("feet"), Column("on the beat"),
    Column("clean runs", "boxes"),
)  # fmt: skip
FINDINGS = (Column("where"), Column("what"), Column("done", "boxes"))


class Remark(Protocol):
    """A finding, as far as paper needs to know it."""

    @property
    def rule(self) -> str:
        """Id of the rule."""
        ...

    @property
    def severity(self) -> str:
        """error, warning or advice."""
        ...

    @property
    def where(self) -> str:
        """Dotted path of table and ids."""
        ...

    @property
    def message(self) -> str:
        """What is wrong."""
        ...

    @property
    def why(self) -> str:
        """Why it matters."""
        ...


RemarkT = TypeVar("RemarkT", bound=Remark)


def rehearsal_sheet(rig: Rig, setlist: Setlist, remarks: Sequence[Remark], day: date) -> Sheet:
    """Describe the rehearsal sheet of a setlist.

    Args:
        rig: The rig.
        setlist: The evening.
        remarks: What stands against it and against the rig, by weight.
        day: The day it is made.
    """
    subtitle = f"{rig.name}: {count(len(remarks), 'finding')} to look at"
    parts = tuple(rehearsal_parts(rig, setlist, remarks))
    return Sheet("rehearsal", f"Rehearsal: {setlist.label}", subtitle, parts, day)


def rehearsal_parts(rig: Rig, setlist: Setlist, remarks: Sequence[Remark]) -> list[Part]:
    """Describe the busiest changes, the findings by weight and rule, and room to write."""
    parts = [_busiest(rig, setlist)]
    for severity, title in TITLES.items():
        some = [one for one in remarks if one.severity == severity]
        parts += _findings(rig, title, some) if some else []
    parts.append(Part((Lines(ROOM),), "What went wrong, where, and what we do about it"))
    return parts


def _busiest(rig: Rig, setlist: Setlist) -> Part:
    """The busiest changes, each with boxes for three clean runs; like ones of a song are one."""
    found = lookup(rig)
    alike: dict[tuple[str, str], list[int]] = {}
    weight: dict[tuple[str, str], tuple[int, int]] = {}
    for song_id in dict.fromkeys(setlist.song_ids):
        song = found.songs.get(song_id)
        for change in count_song(rig, song).changes if song else ():
            if change.moves:
                assert song is not None
                key = (song_id, feet(rig, song.sections[change.to_section], change.presses))
                alike.setdefault(key, []).append(change.to_section)
                weight[key] = (change.on_the_beat, change.moves)
    busiest = sorted(alike, key=lambda key: weight[key], reverse=True)[:BUSIEST]
    rows = tuple(
        (
            found.songs[song_id].label,
            _change_words(rig, song_id, alike[song_id, pressed]),
            pressed,
            str(weight[song_id, pressed][0]),
            f"{BOX} {BOX} {BOX}",
        )
        for song_id, pressed in busiest
    )
    block: Block = Table("Busiest changes", CHANGES, rows) if rows else Para("Your feet rest.")
    return Part((block,), "Busiest changes: play each three times")


def _change_words(rig: Rig, song_id: str, into: list[int]) -> str:
    """Name a change by its sections, and the others of the song that take the same presses."""
    sections = lookup(rig).songs[song_id].sections
    first, *rest = into
    words = f"{sections[first - 1].name} > {sections[first].name} (section {first + 1})"
    return words + (f", also into {', '.join(str(one + 1) for one in rest)}" if rest else "")


def _findings(rig: Rig, title: str, remarks: Sequence[Remark]) -> list[Part]:
    """A part for each rule, the first of them under the title of their weight."""
    parts: list[Part] = []
    for rule, rows in _by_rule(remarks).items():
        cells = tuple((place_in_words(rig, one.where), one.message, BOX) for one in rows)
        blocks = (
            Heading(rule),
            Para(rows[0].why, "small"),
            Table(f"Findings of {rule}", FINDINGS, cells),
        )
        parts.append(Part(blocks, "" if parts else title))
    return parts


def _by_rule(remarks: Iterable[RemarkT]) -> dict[str, list[RemarkT]]:
    grouped: dict[str, list[RemarkT]] = {}
    for one in remarks:
        grouped.setdefault(one.rule, []).append(one)
    return grouped
