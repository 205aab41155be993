"""Making a sheet by its name."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import get_args

from rigtui.model import Rig, Set, Setlist
from rigtui.model.base import SheetKind
from rigtui.paper.content import Sheet
from rigtui.paper.deputy import deputy_pack
from rigtui.paper.floor import floor_sheet
from rigtui.paper.program import program_sheet
from rigtui.paper.rehearsal import Remark, rehearsal_sheet
from rigtui.paper.wiring import wiring_sheet

SHEETS: tuple[SheetKind, ...] = get_args(SheetKind)
OF_THE_RIG: tuple[SheetKind, ...] = ("program", "wiring")
"""Sheets that need no setlist; one may narrow them down."""
ALL_SONGS = "all-songs"
"""Id of the setlist that stands for all songs where the file has none."""


def setlist_for(rig: Rig, kind: SheetKind, setlist_id: str | None) -> Setlist | None:
    """Return the setlist that a sheet is of.

    Args:
        rig: The rig.
        kind: Which sheet.
        setlist_id: The setlist asked for; None leaves it to the sheet: the first one, all songs
            in the file's order where there is none, or no setlist where the sheet needs none.

    Returns:
        The setlist; None for a sheet of the whole rig.

    Raises:
        KeyError: the rig has no such setlist.
    """
    if setlist_id is not None:
        for setlist in rig.setlists:
            if setlist.id == setlist_id:
                return setlist
        raise KeyError(setlist_id)
    if kind in OF_THE_RIG:
        return None
    if rig.setlists:
        return rig.setlists[0]
    songs = tuple(song.id for song in rig.songs)
    sets = (Set(name="All songs", songs=songs),) if songs else ()
    return Setlist(id=ALL_SONGS, name="All songs", sets=sets)


def sheet_of(
    rig: Rig, kind: SheetKind, setlist: Setlist | None, remarks: Sequence[Remark], day: date
) -> Sheet:
    """Describe a sheet.

    Args:
        rig: The rig.
        kind: Which sheet.
        setlist: As `setlist_for` gives it.
        remarks: What the checks have to say, for those sheets that print it.
        day: The day it is made.
    """
    if kind == "program":
        return program_sheet(rig, setlist, day)
    if kind == "wiring":
        return wiring_sheet(rig, setlist, day)
    assert setlist is not None
    if kind == "floor":
        return floor_sheet(rig, setlist, day)
    describe = rehearsal_sheet if kind == "rehearsal" else deputy_pack
    return describe(rig, setlist, remarks, day)
