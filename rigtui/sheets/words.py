"""What every format says about a sheet besides its content."""

from __future__ import annotations

from rigtui.paper.content import Sheet, day_in_words


def made_on(sheet: Sheet) -> str:
    """Revision and day, by which an old sheet is told from a new one."""
    return f"Revision {sheet.revision}, made on {day_in_words(sheet.day)}"
