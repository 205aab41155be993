"""The rehearsal sheet opens with what to do first."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from rigtui.advice.first import do_first
from rigtui.checks import check
from rigtui.paper import setlist_for
from rigtui.sheets.make import make_sheet, render
from rigtui.store.load import load

RIG = load(Path(__file__).parents[2] / "rigs" / "first-rig.toml")[1]
DAY = date(2027, 3, 5)


def test_the_rehearsal_sheet_opens_with_what_to_do_first() -> None:
    """Each remedy has its box; the revision is that of the plan, with advice or without."""
    setlist, findings = setlist_for(RIG, "rehearsal", None), check(RIG)
    remedies = do_first(RIG).remedies
    plain = make_sheet(RIG, "rehearsal", setlist, findings, DAY)
    sheet = make_sheet(RIG, "rehearsal", setlist, findings, DAY, remedies)
    assert sheet.parts[0].title == "Do these first"
    assert sheet.parts[1:] == plain.parts
    assert sheet.revision == plain.revision
    text = render(sheet, "text").content.decode()
    assert text.index("Do these first") < text.index("Rehearse these")
    assert "Leave Rocker wah off in 1 section" in " ".join(text.split())


def test_no_other_sheet_has_them() -> None:
    """A floor sheet is read while playing."""
    setlist = setlist_for(RIG, "floor", None)
    remedies = do_first(RIG).remedies
    assert make_sheet(RIG, "floor", setlist, (), DAY, remedies) == make_sheet(
        RIG, "floor", setlist, (), DAY
    )
