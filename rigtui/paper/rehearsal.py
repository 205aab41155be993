"""The rehearsal sheet: what to practise and what to mend, with room to write."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import NamedTuple

from rigtui.model import Rig, Setlist
from rigtui.model.lookup import lookup
from rigtui.model.place_words import place_in_words
from rigtui.model.places import taken_apart
from rigtui.model.text import count
from rigtui.paper.causes import MOST_REHEARSED, ByCause, HardChange, Remark, by_cause, change_at
from rigtui.paper.cautions import HEARING
from rigtui.paper.content import BOX, Column, Lines, Para, Part, Sheet, Table
from rigtui.paper.words import feet

ROOM = 4
"""Lines to write on."""
MOST_NAMED, MOST_CAUSES = 8, 6
"""How much of what can't be played and of the causes is named: two pages have no room for more."""
MOST_TO_MEND = 200
"""What can't be played is listed up to here where all is asked for: nobody ticks off more boxes
than on a few pages."""
CANNOT = (Column("where"), Column("what"), Column("done", "boxes"))
CHANGES = (
    Column("song"), Column("change"), Column("feet"), Column("on the beat"),
    Column("clean runs", "boxes"),
)  # fmt: skip
CAUSES = (Column("what"), Column("times"), Column("why"), Column("done", "boxes"))


def rehearsal_sheet(rig: Rig, setlist: Setlist, remarks: Sequence[Remark], day: date) -> Sheet:
    """Describe the rehearsal sheet of a setlist.

    Args:
        rig: The rig.
        setlist: The evening.
        remarks: What stands against it and against the rig, by weight.
        day: The day it is made.
    """
    subtitle = f"{rig.name}: {count(len(remarks), 'finding')} to look at"
    parts, rest = rehearsal_parts(rig, remarks)
    return Sheet("rehearsal", f"Rehearsal: {setlist.label}", subtitle, parts, day, rest)


def rehearsal_parts(
    rig: Rig, remarks: Sequence[Remark]
) -> tuple[tuple[Part, ...], tuple[Part, ...]]:
    """Describe what can't be played, what to rehearse, causes, and room to write; then the rest."""
    causes = by_cause(rig, remarks)
    cannot = [remark for cause in causes.cannot for remark in cause.remarks]
    lists = (
        _CutList("Can't be played: fix these first", _cannot(rig, cannot), MOST_NAMED, "finding"),
        _CutList(
            "Rehearse these: play each three times",
            Table("Changes to rehearse", CHANGES,
                  tuple(_change_row(rig, change) for change in causes.rehearse)),
            MOST_REHEARSED, "easier change",
        ),
        _CutList("The rest, by cause", _causes(causes), MOST_CAUSES, "cause"),
    )  # fmt: skip
    parts = [listed.first() for listed in lists if listed.table.rows]
    if not causes.rehearse:
        parts.insert(bool(cannot), Part((Para("No busy changes."),), lists[1].title))
    parts.append(Part((Lines(ROOM),), "What went wrong, where, and what we do about it"))
    parts.append(Part((Para(HEARING, "caution"),), "Before you turn up"))
    rest = [listed.more() for listed in lists if len(listed.table.rows) > listed.most]
    return tuple(parts), tuple(rest)


class _CutList(NamedTuple):
    """A table of which the first rows are printed, and the others on demand."""

    title: str
    table: Table
    most: int
    row: str
    """What a row is."""

    def first(self) -> Part:
        shown = replace(self.table, rows=self.table.rows[: self.most])
        left = len(self.table.rows) - len(shown.rows)
        said = f"{count(left, f'more {self.row}')}: `rigtui sheet rehearsal FILE --all` lists them."
        return Part((shown, *[Para(said, "small")] * bool(left)), self.title)

    def more(self) -> Part:
        others = self.table.rows[self.most :]
        shown = replace(self.table, rows=others[:MOST_TO_MEND])
        left = len(others) - len(shown.rows)
        said = f"{count(left, f'more {self.row}')} in the report."
        return Part((shown, *[Para(said, "small")] * bool(left)), f"More: {self.title}")


def _cannot(rig: Rig, remarks: Sequence[Remark]) -> Table:
    """What has to be mended before the rehearsal, each with a box."""
    rows = tuple((place_in_words(rig, remark.where), remark.message, BOX) for remark in remarks)
    return Table("Can't be played", CANNOT, rows)


def _change_row(rig: Rig, hard: HardChange[Remark]) -> tuple[str, ...]:
    """A change with what the feet do in it, and boxes for clean runs."""
    song = lookup(rig).songs[taken_apart(hard.where).row]
    change = change_at(rig, hard.where)
    assert change is not None
    pressed = feet(rig, song.sections[change.to_section], change.presses)
    boxes = f"{BOX} {BOX} {BOX}"
    return song.label, _change_words(rig, hard), pressed, str(change.on_the_beat), boxes


def _change_words(rig: Rig, change: HardChange[Remark]) -> str:
    """Name a change by its sections, and the others of the song that take the same presses."""
    place = taken_apart(change.where)
    at = place.section
    assert at is not None
    sections = lookup(rig).songs[place.row].sections
    words = f"{sections[at - 1].name} > {sections[at].name} (section {at + 1})"
    if change.again:
        words += f", also into {', '.join(str(section + 1) for section in change.again)}"
    return words


def _causes(causes: ByCause[Remark]) -> Table:
    """A line for each other cause, with how often it comes and why it matters."""
    rows = tuple((cause.rule, str(cause.times), cause.remarks[0].why, BOX) for cause in causes.rest)
    return Table("Other findings by cause", CAUSES, rows)
