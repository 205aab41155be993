"""The record of sheets that are on paper."""

from __future__ import annotations

from datetime import date

from rigtui.model.base import SheetKind
from rigtui.model.edits.tables import made, with_table
from rigtui.model.rig import Printed, Rig


def record_printed(
    rig: Rig, sheet: SheetKind, setlist_id: str | None, revision: str, day: date
) -> Rig:
    """Note that a sheet was printed; what was noted of an older print of it is replaced.

    Args:
        rig: The rig.
        sheet: Which sheet.
        setlist_id: The setlist that it is of; None where it is of the whole rig.
        revision: The revision printed on it.
        day: The day printed on it.
    """
    of_setlist = {} if setlist_id is None else {"setlist": setlist_id}
    row = made(Printed, sheet=sheet, **of_setlist, revision=revision, date=day)
    rows = [row if _same(printed, sheet, setlist_id) else printed for printed in rig.printed]
    return with_table(rig, "printed", tuple(dict.fromkeys(rows if row in rows else [*rows, row])))


def forget_printed(rig: Rig, sheet: SheetKind, setlist_id: str | None) -> Rig:
    """Take a sheet off the record: it is on paper no more."""
    rows = [printed for printed in rig.printed if not _same(printed, sheet, setlist_id)]
    return with_table(rig, "printed", rows)


def _same(row: Printed, sheet: SheetKind, setlist_id: str | None) -> bool:
    return (row.sheet, row.setlist) == (sheet, setlist_id)
