"""The sheets of the small rig, and the files that hold what they look like.

After a change that is meant to change them: `python -m pytest tests/sheets/test_golden.py` says
which, and `PYTHONPATH=. python tests/sheets/golden/sheets.py` writes them anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from rigtui.checks import Finding
from rigtui.paper import SHEETS, Sheet, setlist_for
from rigtui.sheets.make import make_sheet, render
from rigtui.store.load import load

FOLDER = Path(__file__).parent
DAY = date(2027, 3, 1)
WHERE = ("songs.tin.sections.3", "presets.wish", "songs.waltz.sections.1", "setlists.sunday")
FINDINGS = tuple(
    Finding(rule, severity, where, f"What is wrong at {where}, in a sentence of its own", why)
    for rule, severity, where, why in (
        ("crowded-change", "warning", WHERE[0], "One foot does one thing on a beat."),
        ("unused-preset", "advice", WHERE[1], "It takes up room."),
        ("crowded-change", "warning", WHERE[2], "One foot does one thing on a beat."),
        ("set-time", "warning", WHERE[3], "Not of this evening."),
        ("unmapped", "error", "songs.tin.sections.6", "Waived in the file."),
    )
)
"""Fixed, so that the words of the rules do not change what the sheets look like."""


def golden_sheets() -> Iterator[tuple[str, Sheet, str]]:
    """File names, sheets and formats."""
    _, rig = load(FOLDER / "small.toml")
    for kind in SHEETS:
        setlist = setlist_for(rig, kind, None)
        yield f"{kind}.txt", make_sheet(rig, kind, setlist, FINDINGS, DAY), "text"
    for kind in ("program", "wiring"):
        setlist = setlist_for(rig, kind, "sunday")
        yield f"{kind}-sunday.txt", make_sheet(rig, kind, setlist, FINDINGS, DAY), "text"
    setlist = setlist_for(rig, "floor", None)
    for format, suffix in (("md", "md"), ("html", "html")):
        yield f"floor.{suffix}", make_sheet(rig, "floor", setlist, FINDINGS, DAY), format


if __name__ == "__main__":
    for name, sheet, format in golden_sheets():
        (FOLDER / name).write_bytes(render(sheet, format).content)
