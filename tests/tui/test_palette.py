"""The command palette: every action, every preset, song and setlist by name, and the colours."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import preset, section, setlist, song, switcher
from screens import SMALL, app_of, on_screen, shown
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from rigtui.store.kept import read_settings, settings_path
from rigtui.tui.app import RigApp
from rigtui.tui.palette import Palette
from rigtui.tui.settings import THEMES
from rigtui.tui.views.presets.view import PresetsView

RIG: dict[str, Any] = {
    "switcher": switcher(),
    "presets": [preset("one", name="One"), preset("bad", name="[/foo]"), preset("third")],
    "songs": [song("low", section("one", name="A"), title="[@click=app.quit]Low[/]")],
    "setlists": [setlist("friday", "low", name="Friday [b]night"), setlist("late", "low")],
}


async def search(pilot: Pilot[Any], words: str) -> list[str]:
    """Open the palette, type, and return what it lists."""
    await pilot.press("ctrl+p")
    pilot.app.screen.query_one(Input).value = words
    await pilot.pause()
    options = pilot.app.screen.query_one(OptionList)
    return [str(option.prompt) for option in options.options]


async def choose(pilot: Pilot[Any], words: str) -> None:
    """Open the palette, type, and take the first that it lists."""
    await search(pilot, words)
    await pilot.press("enter")
    await pilot.pause()


async def test_every_action_is_listed(tmp_path: Path) -> None:
    """Before anything is typed, all actions of the view and of the program stand there."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        listed = await search(pilot, "")
        words = {row.split("  (")[0] for row in listed}
        view = {binding.description for binding in PresetsView.BINDINGS}  # type: ignore[union-attr]
        program = {binding.description for binding in RigApp.BINDINGS}  # type: ignore[union-attr]
        assert view | program - {"Find anything"} <= words
        assert "Save a picture of the screen" in words
        assert {f"Theme: colours {name.replace('-', ' ')}" for name in THEMES} <= {
            word.removesuffix(" (now)") for word in words
        }
        assert not {"Theme", "Keys", "Maximize", "Minimize"} & words, "nothing of the library's own"
        assert "Undo  (u, ^z)" in listed


async def test_a_preset_named_like_markup_is_found(tmp_path: Path) -> None:
    """A preset called [/foo] neither crashes the palette nor vanishes, and is gone to."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        assert await search(pilot, "[/foo]") == ["Go to preset: [/foo]"]
        assert "Go to preset: [/foo]" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert not isinstance(app.screen, Palette)
        assert app.query_one("#matrix").cursor_row == 1


@pytest.mark.parametrize(
    ("words", "where"),
    [
        ("click", "songs.low"),
        ("song low", "songs.low"),
        ("friday", "setlists.friday"),
        ("late", "setlists.late"),
        ("THIRD", "presets.third"),
    ],
)
async def test_places_by_name(tmp_path: Path, words: str, where: str) -> None:
    """Part of a name, in any case and with other words, finds the place."""
    app = app_of(tmp_path, **RIG)
    seen: list[str] = []

    async def go_to(place: str) -> None:
        seen.append(place)

    app.go_to = go_to  # type: ignore[method-assign]
    async with on_screen(app, SMALL) as pilot:
        await choose(pilot, words)
    assert seen == [where]


async def test_an_action_of_the_view_is_done(tmp_path: Path) -> None:
    """Choosing an action does what its key does, at the cursor where it was."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("down")
        await choose(pilot, "copy")
        assert [preset.label for preset in app.document.rig.presets][1:3] == [
            "[/foo]",
            "[/foo] copy",
        ]
        assert app.focused is app.query_one("#matrix")


async def test_nothing_found(tmp_path: Path) -> None:
    """Words that fit nothing list nothing to choose, and Esc closes the palette."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        assert not await search(pilot, "no such [thing")
        assert 'Nothing matches "no such [thing".' in shown(app)
        await pilot.press("enter", "pageup", "down")
        await pilot.press("escape")
        assert not isinstance(app.screen, Palette)


async def test_no_palette_over_a_question(tmp_path: Path) -> None:
    """While a form waits, ctrl+p does not leave it behind."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("e", "ctrl+p")
        await pilot.pause()
        assert not isinstance(app.screen, Palette)


async def test_colours_are_kept(tmp_path: Path) -> None:
    """A theme chosen is there at the next start too."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        assert app.theme == "dark"
        await choose(pilot, "colours light")
        assert app.theme == "light"
    assert read_settings() == {"theme": "light"}
    assert app_of(tmp_path, **RIG).theme == "light"


@pytest.mark.parametrize("text", ['theme = "no such"', "theme = 3", "theme", "[keys]\n3 = 4"])
async def test_bad_settings_do_no_harm(tmp_path: Path, text: str) -> None:
    """Settings that make no sense are passed over."""
    path = settings_path()
    path.parent.mkdir(parents=True)
    path.write_text(text)
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL):
        assert app.theme == "dark"


async def test_other_keys(tmp_path: Path) -> None:
    """The settings file may give an action another key, by the action's id."""
    path = settings_path()
    path.parent.mkdir(parents=True)
    path.write_text('[keys]\n"presets.duplicate" = "z"\n"app.undo" = ""\n"no.such" = "+,+"\n')
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("d")
        assert len(app.document.rig.presets) == 3
        await pilot.press("z")
        await pilot.pause()
        assert len(app.document.rig.presets) == 4


async def test_picture_of_the_screen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A picture of the screen is saved as SVG where the program was started."""
    monkeypatch.chdir(tmp_path)
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await choose(pilot, "picture")
    assert [path.read_text()[:4] for path in tmp_path.glob("*.svg")] == ["<svg"]
