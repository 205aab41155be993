"""A sheet that is on record is current until something that is printed on it changes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from rigs_made import make_rig, pedal, preset, section, setlist, song, switcher
from sheets.golden.sheets import FOLDER
from sheets.sheets_made import DAY, DEMOS, sheet

from rigtui.checks import check, touching
from rigtui.model import Rig
from rigtui.model.edits import (
    record_printed,
    set_pedal,
    set_preset,
    set_section,
    set_setlist,
    set_song,
    waive,
)
from rigtui.paper import SHEETS
from rigtui.store.load import load

NIGHT = "friday"


def rig() -> Rig:
    """Two songs, of which one is played; a wah, and a change that is crowded."""
    return make_rig(
        switcher=switcher(),
        pedals=[pedal("wah", "wah")],
        chain={"front": ["wah"]},
        presets=[preset("one", memory=1), preset("two", memory=2)],
        songs=[song("played", "one", section("two", plus=["wah"])), song("other", "one")],
        setlists=[setlist(NIGHT, "played"), setlist("late", "other")],
    )


def recorded(rig_: Rig, kind: Any, setlist_id: str | None = NIGHT) -> Rig:
    """The rig with a sheet of today on record."""
    made = sheet(rig_, kind, setlist_id)
    return record_printed(rig_, kind, setlist_id, made.revision, made.day)


def stale(rig_: Rig) -> list[str]:
    """Places of old sheets."""
    return [finding.where for finding in check(rig_) if finding.rule == "stale-sheet"]


@pytest.mark.parametrize("path", [*DEMOS, FOLDER / "small.toml"], ids=lambda path: path.stem)
@pytest.mark.parametrize("kind", SHEETS)
def test_a_sheet_just_printed_is_current(path: Any, kind: Any) -> None:
    """Recording it, and the day going by, make it no older; nor do the other sheets on record."""
    _, loaded = load(path)
    noted = loaded
    for setlist_id in (loaded.setlists[0].id, None):
        for each in (kind, "rehearsal"):
            noted = recorded(noted, each, setlist_id)
    assert stale(noted) == []
    first = loaded.setlists[0].id
    another = sheet(noted, kind, first, date(2030, 1, 1)).revision
    assert sheet(loaded, kind, first).revision == another


CHANGES: tuple[tuple[str, Callable[[Rig], Rig], tuple[str, ...]], ...] = (
    ("tempo", lambda r: set_song(r, "played", tempo=90), ("set", "floor")),
    ("loops of a preset", lambda r: set_preset(r, "one", memory=4), ("floor", "program", "deputy")),
    ("name of a pedal", lambda r: set_pedal(r, "wah", name="Rocking chair"),
     ("floor", "wiring", "rehearsal", "deputy")),
    ("another song", lambda r: set_song(r, "other", tempo=77), ()),
    ("another setlist", lambda r: set_setlist(r, "late", name="Very late"), ()),
    ("a preset that is not printed", lambda r: set_section(r, "other", 0, hands="x"), ()),
    ("a change accepted", lambda r: waive(waive(r, "crowded-change", "songs.played", "so"),
                                          "late-change", "songs.played", "so"),
     ("rehearsal",)),
)  # fmt: skip


@pytest.mark.parametrize(("what", "edit", "kinds"), CHANGES, ids=[what for what, _, _ in CHANGES])
def test_a_change_makes_those_sheets_old_that_print_it(
    what: str, edit: Callable[[Rig], Rig], kinds: tuple[str, ...]
) -> None:
    """Each sheet on record is found old if, and only if, it would print something else."""
    noted = rig()
    for kind in SHEETS:
        noted = recorded(noted, kind)
    assert stale(noted) == []
    old = {noted.printed[int(where.partition(".")[2])].sheet for where in stale(edit(noted))}
    assert set(kinds) <= old
    if not kinds:
        assert old == set()


def test_the_fix_takes_the_old_sheet_off_the_record() -> None:
    """The finding names sheet, day and revision, and its fix forgets that sheet alone."""
    noted = recorded(recorded(rig(), "floor"), "wiring", None)
    changed = set_song(noted, "played", tempo=90)
    (finding,) = [finding for finding in check(changed) if finding.rule == "stale-sheet"]
    revision = noted.printed[0].revision
    assert finding.message == (
        f"The floor sheet of friday that you printed on 1 March 2027 (revision {revision}) is "
        "older than the plan; print it again"
    )
    assert finding.fix is not None
    assert [row.sheet for row in finding.fix.edit(changed).printed] == ["wiring"]


def test_a_waived_old_sheet_stays_waived() -> None:
    """A waiver of the finding is not itself reported as having nothing to waive."""
    changed = set_song(recorded(rig(), "floor"), "played", tempo=90)
    waived = waive(changed, "stale-sheet", "printed.0", "only the tempo")
    waivers = {finding.rule: finding.waived for finding in check(waived)}
    assert waivers["stale-sheet"] == "only the tempo"
    assert "stale-waiver" not in waivers


def test_a_report_of_one_setlist_names_its_own_sheets() -> None:
    """Old sheets of another evening are left out; those of the whole rig are not."""
    noted = rig()
    for kind, night in (("floor", NIGHT), ("floor", "late"), ("wiring", None)):
        noted = record_printed(noted, kind, night, "0000000", DAY)  # type: ignore[arg-type]
    seen = touching(noted, check(noted), {"played"}, NIGHT)
    assert [finding.where for finding in seen if finding.rule == "stale-sheet"] == [
        "printed.0",
        "printed.2",
    ]
