"""Printed sheets: whether they still match the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from functools import partial

from rigtui.checks.finding import Finding, Fix, Hit, RigView, Rule, touching
from rigtui.model import Printed, Rig, Setlist
from rigtui.model.edits import forget_printed
from rigtui.model.places import place_at
from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.model.text import visible
from rigtui.model.waived import waiver_over, waivers_by_rule
from rigtui.paper import setlist_for, sheet_of
from rigtui.paper.content import day_in_words

_ANY_DAY = date.min
NOT_FOR_PAPER = ("stale-sheet", "stale-waiver")
"""Rules that look after the file: what they find would age a sheet as soon as it is printed."""


def for_paper(
    rig: Rig, findings: Iterable[Finding], setlist: Setlist | None
) -> tuple[Finding, ...]:
    """Return the findings that a sheet of a setlist prints: those that stand and touch it."""
    waivers = waivers_by_rule(rig)
    songs = set(setlist.song_ids) if setlist is not None else {song.id for song in rig.songs}
    return tuple(
        finding
        for finding in touching(rig, findings, songs, setlist.id if setlist is not None else None)
        if finding.rule not in NOT_FOR_PAPER
        and waiver_over(waivers, finding.rule, finding.where) is None
    )


def _stale_sheet(view: RigView, findings: tuple[Finding, ...]) -> Iterator[Hit | None]:
    for at, row in enumerate(view.rig.printed):
        yield None
        problem = _problem(view.rig, row, findings)
        if problem:
            day = f" on {day_in_words(row.date)}" if row.date else ""
            yield Hit(
                place_at("printed", at),
                f"The {SHEET_KINDS[row.sheet].name}{_of(view.rig, row)} that you "
                f"printed{day} (revision {visible(row.revision)}) {problem}",
                Fix(
                    "delete the old sheet's record",
                    partial(forget_printed, sheet=row.sheet, setlist_id=row.setlist),
                ),
            )


def _problem(rig: Rig, row: Printed, findings: tuple[Finding, ...]) -> str | None:
    try:
        setlist = setlist_for(rig, row.sheet, row.setlist)
    except KeyError:
        return f'is for setlist "{visible(row.setlist or "")}", but there is no such setlist'
    # The revision is of what is printed, whatever the day.
    remarks = for_paper(rig, findings, setlist)
    now = sheet_of(rig, row.sheet, setlist, remarks, row.date or _ANY_DAY).revision
    return None if row.revision == now else "is older than the plan; print it again"


def _of(rig: Rig, row: Printed) -> str:
    names = {setlist.id: setlist.label for setlist in rig.setlists}
    return f" of {visible(names[row.setlist])}" if row.setlist in names else ""


RULES = (
    Rule(
        id="stale-sheet",
        severity="error",
        scope="findings",
        summary="A printed sheet no longer matches the plan.",
        why="You or your deputy will follow old paper as faithfully as new paper.",
        source="common practice: print revision and date on every sheet, and reprint after changes",
        check=_stale_sheet,
    ),
)
