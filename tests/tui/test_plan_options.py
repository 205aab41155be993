"""The options of the plan view: chosen row by row, and handed to the planner as they stand."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import pytest
from patience import PATIENCE_SECONDS
from screens import DEMOS, SMALL, app_of, app_on, lines, on_screen, shown, until
from textual.pilot import Pilot
from tui.plan_screen import RIG, Fake, rig_of, switches, view_of

from rigtui.plan.ask.question import Question
from rigtui.tui import planner
from rigtui.tui.app import RigApp
from rigtui.tui.views.plan.options import KINDS, changed_since


async def stand_on(pilot: Pilot[Any], key: str, name: str) -> None:
    """Put the cursor on an option."""
    app = pilot.app
    assert isinstance(app, RigApp)
    view = view_of(app)
    at = next(at for at, row in enumerate(view._rows) if (row.key, row.name) == (key, name))
    view.grid.move_to(at)
    await pilot.pause()


async def test_options_reach_the_planner(tmp_path: Path) -> None:
    """Each option that is chosen is in the question, and marked in the list."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await stand_on(pilot, "pedal", "drive")
        await pilot.press("space", "space")
        await stand_on(pilot, "preset", "both")
        await pilot.press("enter")
        await stand_on(pilot, "setting", "sharing")
        await pilot.press("enter")
        await stand_on(pilot, "setting", "order")
        await pilot.press("enter")
        await pilot.pause()
        assert view_of(app).question.fitting(rig_of(app)) == Question(
            kind="all",
            seconds=60.0,
            pins={"drive": "out"},
            keep=("both",),
            sharing=False,
            keep_order=True,
        )
        drive = next(line for line in lines(app) if "Drive" in line)
        assert drive.split() == ["*", "Drive", "‹", "outside", "›"]
        for key, name in (("pedal", "drive"), ("preset", "both"), ("setting", "sharing")):
            await stand_on(pilot, key, name)
            await pilot.press("x")
        await stand_on(pilot, "setting", "order")
        await pilot.press("x")
        assert view_of(app).question == Question()


async def test_numbers_memories_and_pairs(tmp_path: Path) -> None:
    """Forms ask for loops and memories, for the memory of a preset, and for a pair of pedals."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await stand_on(pilot, "setting", "size")
        await pilot.press("enter", *"300", "enter")
        await pilot.pause()
        assert "0 to 99" in shown(app)
        await pilot.press(*("backspace",) * 3, "3", "down", "1", "enter")
        await stand_on(pilot, "memory", "dirt")
        await pilot.press("enter", "down", "down", "enter")
        await stand_on(pilot, "pedal", "drive")
        await pilot.press("a", "enter")
        await pilot.pause()
        wanted = view_of(app).question.fitting(rig_of(app))
        assert wanted.loops == {"front": 3, "fx": 1}
        assert wanted.memories is None
        assert wanted.pin_switch == {"dirt": 2}
        assert wanted.apart == (("drive", "chorus"),)
        assert "Drive and Chorus" in shown(app)
        await stand_on(pilot, "apart", "0")
        await pilot.press("x")
        assert view_of(app).question.apart == ()


async def test_all_setlists_count_unless_one_is_chosen(tmp_path: Path) -> None:
    """The plan is for all setlists, as on the command line; choosing one puts it at hand too."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await stand_on(pilot, "setting", "setlist")
        assert view_of(app).question.fitting(rig_of(app)).setlists == ()
        assert "all 2 setlists" in shown(app)
        await pilot.press("enter", *"sund", "enter")
        await pilot.pause()
        assert view_of(app).question.fitting(rig_of(app)).setlists == ("sunday",)
        assert app.setlist_id == "sunday"
        await pilot.press("2", "5")
        assert view_of(app).question.setlists == ("sunday",)
        await pilot.press("x")
        assert view_of(app).question.setlists == ()
        assert "all 2 setlists" in shown(app)


@pytest.mark.parametrize("kind", KINDS)
def test_options_without_meaning_are_left_out(kind: str) -> None:
    """A question holds only what its kind of plan has a use for, and only what the rig has."""
    from rigs_made import make_rig

    rig = make_rig(**RIG)
    question = Question(
        kind=kind, setlists=("gone",), pins={"drive": "in", "gone": "in"},
        keep=("x", "both"), apart=(("drive", "chorus"), ("drive", "gone")),
        sharing=False, keep_order=True,
        loops={"front": 1, "fx": 1}, memories=2, pin_switch={"dirt": 1, "gone": 2}, copies=2,
    )  # fmt: skip
    looping, sized = kind in ("loops", "all", "curve"), kind in ("loops", "all")
    assert question.fitting(rig) == Question(
        kind=kind,
        seconds=60.0,
        pins={"drive": "in"} if looping else {},
        keep=("both",) if looping else (),
        apart=(("drive", "chorus"),) if looping else (),
        sharing=not looping,
        keep_order=looping,
        loops={"front": 1, "fx": 1} if sized else None,
        memories=2 if sized or kind == "switches" else None,
        pin_switch={"dirt": 1} if kind in ("switches", "all") else {},
        copies=2 if kind in ("switches", "all") else None,
    )


async def test_kind_is_picked(tmp_path: Path) -> None:
    """What may change is picked from a list that explains each kind; the rows go with it."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5", "enter")
        await pilot.pause()
        assert "switches (memories): which one holds which preset" in shown(app)
        await pilot.press(*"(memories)", "enter")
        await pilot.pause()
        assert view_of(app).question.kind == "switches"
        text = shown(app)
        assert "Memories:" in text
        assert "Pedals:" not in text


async def test_cursor_and_options_stay_through_edits(tmp_path: Path, fake: Fake) -> None:
    """After accepting, undo and redo, the list, the cursor and the options are where they were."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        fake("at-once", switches(rig_of(app)))
        await stand_on(pilot, "pedal", "chorus")
        await pilot.press("space", "p")
        await until(pilot, lambda: view_of(app).runs.plan)
        await pilot.press("tab", "tab", "down", "y", "u", "r", "u")
        await pilot.pause()
        view = view_of(app)
        assert "[Songs]" in shown(app)
        assert view.grid.cursor_row == 1
        assert view.grid.has_focus
        assert view.question.pins == {"chorus": "in"}
        await pilot.press("tab")
        await pilot.pause()
        assert view.option is not None
        assert view.option.name == "chorus"


async def test_nothing_that_matches_is_said(tmp_path: Path) -> None:
    """A list that was narrowed down to nothing says so, and enter then chooses nothing."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await stand_on(pilot, "memory", "dirt")
        await pilot.press("enter", *"999", "enter")
        await pilot.pause()
        assert 'Nothing matches "999".' in shown(app)
        await pilot.press(*("backspace",) * 3)
        await pilot.pause()
        assert "Nothing matches" not in shown(app)
        await pilot.press("escape")
        assert view_of(app).question == Question()


async def test_another_switcher_is_an_option(tmp_path: Path) -> None:
    """More memories than the rig's switcher has can be asked for; pins then go as far."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        await stand_on(pilot, "setting", "size")
        await pilot.press("enter", "down", "down", *("backspace",) * 3, *"12", "enter")
        await pilot.pause()
        assert view_of(app).question.memories == 12
        await stand_on(pilot, "memory", "dirt")
        await pilot.press("enter", *"memory 11", "enter")
        await pilot.pause()
        wanted = view_of(app).question.fitting(rig_of(app))
        assert (wanted.memories, wanted.pin_switch) == (12, {"dirt": 11})
        await pilot.press("p")
        await until(pilot, lambda: view_of(app).runs.plan)
        made = view_of(app).runs.plan.rig
        assert made.switcher.memories == 12
        assert {preset.id: preset.memory for preset in made.presets}["dirt"] == 11


async def test_way_out_with_another_switcher_goes_into_the_options() -> None:
    """Enter on more memories than there are takes them into the options, and there is a plan."""
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5")
        view = view_of(app)
        view.question = Question("switches")
        await pilot.press("p")
        await until(pilot, lambda: view.runs.plan)
        way = "10 memories instead of 8, which means another switcher"
        ways = view.runs.plan.conflict.relaxations
        view._relax([way.text for way in ways].index(way))
        assert view.question.memories == 10
        await pilot.press("p")
        await until(pilot, lambda: view.runs.plan and view.runs.plan.rig)
        assert view.runs.plan.rig.switcher.memories == 10


async def test_one_press_of_stop_gives_a_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    """However soon c comes, a rig that is no plan as it stands gets the first one there is.

    A player waits for it some seconds only; on a busy machine it may take longer.
    """
    monkeypatch.setattr(planner, "_FIRST_PLAN_SECONDS", PATIENCE_SECONDS)
    app = app_on(DEMOS / "quay-street.toml")
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("5", "p", "c")
        await until(pilot, lambda: not view_of(app).runs.running)
        made = view_of(app).runs.plan
        assert made is not None
        assert made.rig is not None
        assert "fewer than 0" not in shown(app)


@pytest.mark.parametrize("option", [row.name for row in fields(Question) if row.name != "seconds"])
def test_any_other_answer_to_a_question_is_noticed(option: str) -> None:
    """Whatever is asked otherwise since a plan was made has a name; time limits apart."""
    usual = Question()
    other = {"kind": "loops", "sharing": False, "keep_order": True}.get(option, (("x", "y"),))
    assert changed_since(usual, usual) == []
    assert len(changed_since(usual, replace(usual, **{option: other}))) == 1
