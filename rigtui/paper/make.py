"""Making a sheet by its name."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

from rigtui.model import Rig, Set, Setlist
from rigtui.model.base import SheetKind
from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.paper.causes import Remark
from rigtui.paper.content import Sheet
from rigtui.paper.deputy import deputy_pack
from rigtui.paper.floor import floor_sheet
from rigtui.paper.packing import packing_list
from rigtui.paper.program import program_sheet
from rigtui.paper.rehearsal import rehearsal_sheet
from rigtui.paper.set_sheet import set_sheet
from rigtui.paper.soundcheck import soundcheck_card
from rigtui.paper.wiring import wiring_sheet

SHEETS: tuple[SheetKind, ...] = tuple(SHEET_KINDS)
Describe = Callable[[Rig, Setlist | None, Sequence[Remark], date], Sheet]
DESCRIBED: dict[SheetKind, Describe] = {
    "set": lambda rig, setlist, _, day: set_sheet(rig, _there(setlist), day),
    "floor": lambda rig, setlist, _, day: floor_sheet(rig, _there(setlist), day),
    "program": lambda rig, setlist, _, day: program_sheet(rig, setlist, day),
    "wiring": lambda rig, setlist, _, day: wiring_sheet(rig, setlist, day),
    "rehearsal": lambda rig, setlist, remarks, day: rehearsal_sheet(
        rig, _there(setlist), remarks, day
    ),
    "soundcheck": lambda rig, setlist, _, day: soundcheck_card(rig, _there(setlist), day),
    "packing": lambda rig, setlist, _, day: packing_list(rig, setlist, day),
    "deputy": lambda rig, setlist, _, day: deputy_pack(rig, _there(setlist), day),
}
"""What describes a sheet of each kind: of a rig, its setlist, what the checks say, and the day."""
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
    if not SHEET_KINDS[kind].of_a_setlist:
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
    return DESCRIBED[kind](rig, setlist, remarks, day)


def _there(setlist: Setlist | None) -> Setlist:
    """The setlist of a sheet that is of one; `setlist_for` has seen to it."""
    assert setlist is not None
    return setlist
