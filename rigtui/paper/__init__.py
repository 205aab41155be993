"""What each sheet says, described once; `rigtui.sheets` decides how it looks.

This room lies below the checks, so that a rule can tell whether a printed sheet is still what the
plan would print. What the checks find is handed in.
"""

from __future__ import annotations

from rigtui.paper.content import Sheet
from rigtui.paper.make import ALL_SONGS, SHEETS, setlist_for, sheet_of

__all__ = ["ALL_SONGS", "SHEETS", "Sheet", "setlist_for", "sheet_of"]
