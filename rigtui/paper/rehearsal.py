"""The rehearsal sheet: what to practise and what to mend, with room to write."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from rigtui.model import Rig, Setlist
from rigtui.model.lookup import lookup
from rigtui.model.place_words import place_in_words
from rigtui.model.places import taken_apart
from rigtui.model.text import count
from rigtui.paper.causes import MOST_REHEARSED, ByCause, HardChange, Remark, by_cause, change_at
from rigtui.paper.cautions import HEARING
from rigtui.paper.content import BOX, Block, Column, Lines, Para, Part, Sheet, Table
from rigtui.paper.words import feet

ROOM = 12
"""Lines to write on."""
MOST_TO_MEND = 200
"""What can't be played is listed up to here: nobody ticks off more boxes than on a few pages."""
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
    caution = Part((Para(HEARING, "caution"),), "Before you turn up")
    parts = (*rehearsal_parts(rig, remarks), caution)
    return Sheet("rehearsal", f"Rehearsal: {setlist.label}", subtitle, parts, day)


def rehearsal_parts(rig: Rig, remarks: Sequence[Remark]) -> list[Part]:
    """Describe what can't be played, what to rehearse, the rest by cause, and room to write."""
    causes = by_cause(rig, remarks)
    parts = [_cannot(rig, causes)] if causes.cannot else []
    parts.append(_to_rehearse(rig, causes))
    if causes.rest:
        parts.append(_rest(causes))
    parts.append(Part((Lines(ROOM),), "What went wrong, where, and what we do about it"))
    return parts


def _cannot(rig: Rig, causes: ByCause[Remark]) -> Part:
    """What has to be mended before the rehearsal, each with a box."""
    remarks = [remark for cause in causes.cannot for remark in cause.remarks]
    rows = tuple(
        (place_in_words(rig, remark.where), remark.message, BOX)
        for remark in remarks[:MOST_TO_MEND]
    )
    blocks: list[Block] = [Table("Can't be played", CANNOT, rows)]
    rest = len(remarks) - len(rows)
    if rest:
        blocks.append(Para(f"{count(rest, 'more finding')} of this kind in the report.", "small"))
    return Part(tuple(blocks), "Can't be played: mend these first")


def _to_rehearse(rig: Rig, causes: ByCause[Remark]) -> Part:
    """The hardest changes, each with boxes for three clean runs."""
    title = "Rehearse these: play each three times"
    if not causes.rehearse:
        return Part((Para("No busy changes."),), title)
    shown = causes.rehearse[:MOST_REHEARSED]
    rows = tuple(_change_row(rig, change) for change in shown)
    blocks: list[Block] = [Table("Changes to rehearse", CHANGES, rows)]
    rest = len(causes.rehearse) - len(shown)
    if rest:
        blocks.append(Para(f"{count(rest, 'easier change')} not listed here.", "small"))
    return Part(tuple(blocks), title)


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


def _rest(causes: ByCause[Remark]) -> Part:
    """A line for each other cause, with how often it comes and why it matters."""
    rows = tuple((cause.rule, str(cause.times), cause.remarks[0].why, BOX) for cause in causes.rest)
    return Part((Table("Other findings by cause", CAUSES, rows),), "The rest, by cause")
