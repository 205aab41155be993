"""Paths that people type: whatever is typed into a form, it stays open and says what is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from rigs_made import preset, song
from screens import LARGE, app_of, on_screen
from textual.pilot import Pilot
from textual.widgets import Input, Static

from rigtui.tui.app import RigApp
from rigtui.tui.importing import ask_file
from rigtui.tui.sheet_preview import sheet_commands
from rigtui.tui.typed_path import PathFault, typed_path
from rigtui.tui.widgets.dialogs import Form


async def _save_as(app: RigApp, pilot: Pilot) -> None:
    await pilot.press("S")


async def _open_other(app: RigApp, pilot: Pilot) -> None:
    await pilot.press("O", "o")


async def _import(app: RigApp, pilot: Pilot) -> None:
    ask_file(app)


async def _write_sheet(app: RigApp, pilot: Pilot) -> None:
    _, show = next(iter(sheet_commands(app)))
    show()
    await pilot.pause()
    await pilot.press("w")


FORMS = {
    "save as": (_save_as, ""),
    "open": (_open_other, ""),
    "import": (_import, ".cho"),
    "sheet": (_write_sheet, ".txt"),
}
BAD = {
    "the home of nobody": ("~nosuch/x", "~nosuch"),
    "a NUL": ("a\0b", "NUL"),
    "half a pair": ("a\ud800b", "character"),
    "a name too long": ("n" * 5000, "too long"),
    "below a file": ("rig.toml/x", ""),
    "a circle of links": ("circle/x", ""),
}


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("bad", BAD)
async def test_the_form_says_what_is_wrong(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, form: str, bad: str
) -> None:
    """Each form that takes a path refuses a bad one in words, writes nothing and stays open."""
    monkeypatch.chdir(tmp_path)
    app = app_of(tmp_path, presets=[preset("one")], songs=[song("low", "one")])
    (tmp_path / "circle").symlink_to("circle")
    before = sorted(tmp_path.iterdir())
    (fill, ending), (typed, says) = FORMS[form], BAD[bad]
    async with on_screen(app, LARGE) as pilot:
        await fill(app, pilot)
        await pilot.pause()
        assert isinstance(app.screen, Form)
        app.screen.query(Input).first().value = f"{typed}{ending}"
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, Form)
        fault = str(app.screen.query_one("#fault", Static).render())
        assert fault
        assert says.casefold() in fault.casefold()
        assert app.is_running
    assert sorted(tmp_path.iterdir()) == before


def test_home(monkeypatch: pytest.MonkeyPatch) -> None:
    """`~` is the home folder, spaces around what was typed do not count."""
    monkeypatch.setenv("HOME", "/home/of/somebody")
    assert typed_path("  ~/my rig.toml ") == Path("/home/of/somebody/my rig.toml")
    assert typed_path("rig.toml") == Path("rig.toml")


def test_a_tilde_that_is_no_home() -> None:
    """What is said of a home that nobody has offers the way to a file that is really called so."""
    with pytest.raises(PathFault, match=r"^~nosuch: .* type \./~nosuch/x$"):
        typed_path("~nosuch/x")
    assert typed_path("./~nosuch/x") == Path("~nosuch/x")


@pytest.mark.parametrize("typed", ["", "   "])
def test_nothing_typed(typed: str) -> None:
    """Nothing typed is told as such."""
    with pytest.raises(PathFault, match="needs a name"):
        typed_path(typed)
