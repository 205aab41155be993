"""The rehearsal sheet: what to practise and what to mend, with room to write."""

from __future__ import annotations

from datetime import date
from itertools import groupby

from rigtui.checks import Finding
from rigtui.model import Rig, Setlist
from rigtui.model.lookup import lookup
from rigtui.model.places import place_in_words
from rigtui.model.text import count
from rigtui.moves import Change, count_song
from rigtui.sheets.content import Block, Heading, Lines, Para, Part, Sheet, Table
from rigtui.sheets.words import feet

BUSIEST = 12
"""Changes that the sheet lists."""


def rehearsal_sheet(rig: Rig, setlist: Setlist, findings: tuple[Finding, ...], day: date) -> Sheet:
    """Describe the rehearsal sheet of a setlist.

    Args:
        rig: The rig.
        setlist: The evening.
        findings: What the checks say of it and of the rig, by weight.
        day: The day it is made.
    """
    standing = [one for one in findings if one.waived is None]
    parts = [busiest_part(rig, setlist)]
    for severity, group in groupby(standing, key=lambda one: one.severity):
        parts.append(_findings_part(rig, severity, list(group)))
    parts.append(Part((Lines(8),), "What went wrong, where, and what we do about it"))
    subtitle = f"{rig.name}: {count(len(standing), 'finding')} to look at"
    return Sheet("rehearsal", f"Rehearsal: {setlist.label}", subtitle, tuple(parts), day)


def busiest_part(rig: Rig, setlist: Setlist) -> Part:
    """Describe the busiest changes, each with boxes for three clean runs."""
    found = lookup(rig)
    changes: list[tuple[int, int, Change, str]] = []
    for song_id in dict.fromkeys(setlist.song_ids):
        if song_id in found.songs:
            for change in count_song(rig, found.songs[song_id]).changes:
                if change.moves:
                    changes.append((-change.on_the_beat, -change.moves, change, song_id))
    changes.sort(key=lambda one: one[:2])
    rows = []
    for _, _, change, song_id in changes[:BUSIEST]:
        song = found.songs[song_id]
        before, after = song.sections[change.from_section], song.sections[change.to_section]
        rows.append(
            (
                song.label,
                f"{before.name} > {after.name} ({change.to_section + 1})",
                feet(rig, after, change),
                "[ ] [ ] [ ]",
            )
        )
    blocks: tuple[Block, ...] = (Para("No change needs a foot."),)
    if rows:
        head = ("song", "change", "feet", "clean runs")
        blocks = (Table("Busiest changes", head, tuple(rows), (0.25, 0.27, 0.34, 0.14)),)
    return Part(blocks, "Busiest changes: play each three times")


def _findings_part(rig: Rig, severity: str, group: list[Finding]) -> Part:
    blocks: list[Block] = []
    for rule, some in groupby(group, key=lambda one: one.rule):
        rows = list(some)
        blocks.append(Heading(rule, 3))
        blocks.append(Para(rows[0].why, "small"))
        table = tuple((place_in_words(rig, one.where), one.message, "[ ]") for one in rows)
        head = ("where", "what", "done")
        blocks.append(Table(f"Findings of {rule}", head, table, (0.3, 0.62, 0.08)))
    titles = {"error": "Errors", "warning": "Warnings", "advice": "Advice"}
    return Part(tuple(blocks), titles[severity])
