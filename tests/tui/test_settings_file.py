"""The settings file: what it may say, what is said of the rest, and what it does."""

from __future__ import annotations

import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
from screens import DEMOS, SMALL, app_on, on_screen

from rigtui.store import kept
from rigtui.store.kept import settings_path
from rigtui.tui.settings_file import key_commands, settings_faults, starter_text


def settings(text: str) -> Path:
    """Write the settings of this test's user."""
    path = settings_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def test_the_first_file_sets_nothing_and_holds_no_fault() -> None:
    """It says everything in comments; with the marks taken away it says what holds anyway."""
    text = starter_text()
    assert tomllib.loads(text) == {"keys": {}}
    assert settings_faults(text) == []
    said = "\n".join(
        line.removeprefix("# ") if line.startswith(('# "', "# theme", "# start")) else line
        for line in text.splitlines()
    )
    assert settings_faults(said) == []
    assert set(tomllib.loads(said)["keys"]) == set(key_commands())


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("theme = 3", 1, "theme must be dark, light or high-contrast, not 3"),
        ("\ntheme = [1]", 2, "theme must be"),
        ('start = "setlst"', 1, "setlist, report, plan"),
        ("tehme = 1", 1, "tehme is not a setting; did you mean theme?"),
        ("keys = 4", 1, "keys must be a table"),
        (
            '[keys]\n"app.sve" = "x"',
            2,
            "app.sve is not a command; did you mean app.save?",
        ),
        ('[keys]\n"app.save" = 2', 2, "must be text"),
        ('[keys]\n"app.save" = "f2,"', 2, "nothing is not a key"),
        ('[keys]\n"app.save" = "ctrl+sx"', 2, "ctrl+sx is not a key"),
        ('[keys]\n"app.save" = "u"', 2, "app.undo has u too"),
        ('[keys]\n"presets.add" = "?"', 2, "app.help has question_mark too"),
        ("[keys", None, "not TOML"),
    ],
)
def test_what_makes_no_sense_is_said_with_its_line(text: str, line: int | None, said: str) -> None:
    """Each fault has a line, says what is wrong and what would be right."""
    faults = settings_faults(text)
    assert len(faults) == 1, faults
    assert faults[0][0] == line
    assert said in faults[0][1]


@pytest.mark.parametrize("key", ["f2", "ctrl+t", "shift+f3", "tilde", "é", "?", "question_mark"])
def test_keys_that_are_keys(key: str) -> None:
    """Characters, named keys, and keys with others held."""
    assert settings_faults(f'[keys]\n"app.plan" = "{key}"\n"app.help" = "f12"') == []


def test_a_key_that_moved_leaves_its_old_place_free() -> None:
    """Two commands may change keys."""
    assert settings_faults('[keys]\n"app.save" = "u"\n"app.undo" = "s"') == []


async def test_settings_that_make_no_sense_are_said_on_the_screen(tmp_path: Path) -> None:
    """They are passed over, and the player hears of it."""
    settings('start = ["[b]"]\n[keys]\n"app.sve" = "x"')
    async with on_screen(app_on(DEMOS / "first-rig.toml"), SMALL) as pilot:
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        said = [notice.message for notice in pilot.app._notifications]
        assert len(said) == 1
        assert said[0].startswith("Settings, line 1: start must be board, presets")
        assert said[0].endswith("not ['[b]'] (and 1 more: rigtui settings --check)")


@pytest.mark.parametrize("text", [b"[keys", b"theme = \xff"])
async def test_a_settings_file_that_cannot_be_read_is_said_on_the_screen(text: bytes) -> None:
    """It sets nothing, and the player hears why."""
    settings("").write_bytes(text)
    async with on_screen(app_on(DEMOS / "first-rig.toml"), SMALL) as pilot:
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()
        (notice,) = pilot.app._notifications
        assert "ettings" in notice.message
        assert ("not TOML" in notice.message) == (text == b"[keys")


@pytest.mark.parametrize(("start", "view"), [("setlist", "setlist"), ("last", "presets")])
async def test_the_screen_to_start_in(start: str, view: str) -> None:
    """A rig opens in the view that is set, or where nothing was left, in the first."""
    settings(f'start = "{start}"')
    async with on_screen(app_on(DEMOS / "first-rig.toml"), SMALL) as pilot:
        assert pilot.app.view_id == view


@pytest.mark.parametrize(
    ("view", "keys", "where"),
    [
        ("setlist", ["tab", "down", "down"], "songs.window-peg.sections.2"),
        ("setlist", ["down", "down"], "setlists.open-mic.sets.0.songs.2"),
        ("presets", ["down"], None),
        ("board", ["down", "down"], None),
        ("report", [], ""),
    ],
)
async def test_a_rig_opens_where_it_was_left(
    tmp_path: Path, view: str, keys: list[str], where: str | None
) -> None:
    """Same view, same row; a row that is gone does no harm."""
    path = tmp_path / "rig.toml"
    shutil.copy(DEMOS / "first-rig.toml", path)
    async with on_screen(app_on(path), SMALL) as pilot:
        await pilot.app.action_view(view)
        await pilot.press(*keys)
        left = pilot.app.view.here
        assert where in (None, left)
        await pilot.press("q")
    async with on_screen(app_on(path), SMALL) as pilot:
        await pilot.pause()
        assert (pilot.app.view_id, pilot.app.view.here) == (view, left)
        await pilot.press("q")
    path.write_text('format = 1\nname = "Bare"\n')
    async with on_screen(app_on(path), SMALL) as pilot:
        await pilot.pause()
        assert pilot.app.view_id == view


def test_a_theme_alone_needs_no_screen_to_be_loaded() -> None:
    """The settings are looked at at every start: without keys the keys need not be known."""
    code = (
        "import sys\n"
        "from rigtui.tui.settings_file import settings_faults\n"
        "assert settings_faults('theme = \"light\"') == []\n"
        "print('rigtui.tui.views.plan.view' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


async def test_what_is_kept_is_read_once_at_the_start(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The settings once, the files opened last once to begin and once to put this one first."""
    settings_path().parent.mkdir(parents=True, exist_ok=True)
    settings_path().write_text('theme = "light"\n')
    path = tmp_path / "bare.toml"
    path.write_text('format = 1\nname = "Bare"\n')
    read: list[str] = []
    real = kept._read

    def counted(path: Path) -> dict[str, Any]:
        read.append(path.name)
        return real(path)

    monkeypatch.setattr(kept, "_read", counted)
    async with on_screen(app_on(path), SMALL) as pilot:
        await pilot.pause()
        assert pilot.app.theme == "light"
        assert sorted(read) == ["recent.toml", "recent.toml", "settings.toml"]
