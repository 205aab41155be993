"""The command that saves what the screen shows as a picture."""

from __future__ import annotations

from pathlib import Path

import pytest
from screens import DEMOS, SMALL, app_on, on_screen


async def test_a_picture_stands_where_the_program_was_started(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is named after the view and the time, and is an SVG of what is shown."""
    monkeypatch.chdir(tmp_path)
    app = app_on(DEMOS / "first-rig.toml")
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("2")
        app.action_picture()
        await pilot.pause()
        (picture,) = tmp_path.iterdir()
        assert picture.name.startswith("rigtui-presets-")
        assert picture.suffix == ".svg"
        text = picture.read_text(encoding="utf-8")
        assert text.startswith("<svg")
        assert "Crunch" in text
        assert [note.message for note in app._notifications] == [f"Saved {picture.name}"]


async def test_a_folder_that_takes_no_file_is_said(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is saved, and the program goes on."""
    monkeypatch.setattr("time.strftime", lambda _: "../missing/x")
    monkeypatch.chdir(tmp_path)
    app = app_on(DEMOS / "first-rig.toml")
    async with on_screen(app, SMALL) as pilot:
        app.action_picture()
        await pilot.pause()
        assert list(tmp_path.iterdir()) == []
        (note,) = app._notifications
        assert note.message.startswith("No picture was saved: ")
