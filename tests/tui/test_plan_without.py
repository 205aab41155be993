"""A pedal died: w on the plan takes it out of the rig, says what that costs, and plans again."""

from __future__ import annotations

from pathlib import Path

from screens import app_of, on_screen, shown, until
from tui.plan_screen import RIG, Fake, planned, rig_of, switches, view_of

from rigtui.tui.app import RigApp
from rigtui.tui.palette import Palette


def pedals(app: RigApp) -> list[str]:
    """Ids of the pedals that there are."""
    return [row.id for row in rig_of(app).pedals]


async def test_the_pedal_goes_and_the_rest_is_planned(tmp_path: Path, fake: Fake) -> None:
    """It says what sections lose first; y does it and plans; u brings the pedal back."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await pilot.press("5")
        await planned(app, pilot, fake, switches(rig_of(app)))
        await pilot.press("w", *"chor", "enter")
        assert "Play without Chorus?" in shown(app)
        assert "1 section of 1 song loses Chorus" in shown(app)
        assert pedals(app) == ["drive", "chorus"]
        await pilot.press("y")
        runs = view_of(app).runs
        await until(pilot, lambda: pedals(app) == ["drive"] and runs.fits(rig_of(app)))
        await until(pilot, lambda: runs.plan is not None and not runs.running)
        await pilot.press("u")
        await pilot.pause()
        assert pedals(app) == ["drive", "chorus"]
        assert not runs.running  # only the edit that takes a pedal out has it plan


async def test_who_leaves_keeps_the_pedal(tmp_path: Path, fake: Fake) -> None:
    """Esc in the list, and Esc at what it costs, change nothing and plan nothing."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await pilot.press("5")
        await planned(app, pilot, fake, switches(rig_of(app)))
        plan = view_of(app).runs.plan
        for leave in (("w", "escape"), ("w", "enter", "escape")):
            await pilot.press(*leave)
            await pilot.pause()
            assert pedals(app) == ["drive", "chorus"]
            assert view_of(app).runs.plan is plan


async def test_without_pedals_it_says_so(tmp_path: Path) -> None:
    """There is nothing to choose from."""
    app = app_of(tmp_path)
    async with on_screen(app) as pilot:
        await pilot.press("5", "w")
        await pilot.pause()
        said = [note.message for note in app._notifications]
        assert said == ["There is no pedal to do without"]


async def test_whoever_looks_for_it_finds_it(tmp_path: Path, fake: Fake) -> None:
    """The palette leads to it from the plan by the word that a player would type."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app) as pilot:
        await pilot.press("5")
        await planned(app, pilot, fake, switches(rig_of(app)))
        await pilot.press("ctrl+p", *"died")
        await pilot.pause()
        assert isinstance(app.screen, Palette)
        assert "Play without a pedal" in shown(app)
