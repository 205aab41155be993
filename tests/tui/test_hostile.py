"""A rig file whose every text tries to be markup, a link, or a terminal command."""

from __future__ import annotations

import unicodedata
from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop
from screens import LARGE, SMALL, app_of, checked, lines, on_screen, shown
from textual.widgets import Input

from rigtui.store.kept import remember_file
from rigtui.tui.app import RigApp

EVIL = "[/] [@click=app.quit]x[/] \u001b[41m \u202e تجربة 漢字"
FORBIDDEN = {"Cc", "Cs"}
BIDI = set(range(0x202A, 0x202F)) | set(range(0x2066, 0x206A))

RIG: dict[str, Any] = {
    "name": EVIL,
    "note": EVIL,
    "amp": {"name": EVIL, "channels": [EVIL, f"{EVIL} 2"], "drive_channels": [EVIL]},
    "switcher": {"name": EVIL, "memories": 4, "bank_size": 2, "bank_buttons": "up-down"},
    "pedals": [
        {"id": "wah", "name": EVIL, "kind": "wah", "side": "front", "note": EVIL},
        {"id": "gate", "name": EVIL, "kind": "gate", "side": "front", "note": EVIL},
    ],
    "loops": [loop(1, "gate"), loop(2, EVIL)],
    "chain": {"front": ["wah", 1, 2, EVIL], "fx": [EVIL]},
    "presets": [
        {"id": "one", "name": EVIL, "role": "clean", "loops": [1], "memory": 1, "channel": EVIL,
         "pickup": EVIL, "hands": EVIL, "note": EVIL},
        {"id": "two", "name": EVIL, "loops": [2, 9], "memory": 3, "channel": "no [such]"},
        {"id": "three", "name": EVIL, "memory": 99},
    ],
    "songs": [
        {"id": "song", "title": EVIL, "tempo": 200, "guitar": EVIL, "tuning": EVIL, "note": EVIL,
         "sections": [
             {"name": EVIL, "bars": 1, "preset": "one", "hands": EVIL, "cue": EVIL, "pickup": EVIL},
             {"name": EVIL, "bars": 1, "preset": "two", "plus": ["wah", EVIL], "minus": [EVIL],
              "may": [EVIL], "until": EVIL, "hands": "other"},
             {"name": EVIL, "bars": 1, "preset": EVIL},
         ]},
        {"id": "other", "title": EVIL, "tempo": 90, "guitar": "x", "sections": []},
    ],
    "setlists": [
        {"id": "night", "name": EVIL, "note": EVIL,
         "sets": [{"name": EVIL, "songs": ["song", EVIL, "other", "song"]}]},
    ],
    "waivers": [
        {"rule": "memory-out-of-range", "where": "presets.three", "reason": EVIL},
        {"rule": EVIL, "where": EVIL, "reason": EVIL},
        {"rule": "gate-on-clean", "where": f"presets.{EVIL}", "reason": EVIL},
    ],
}  # fmt: skip


def harmful(app: RigApp) -> list[str]:
    """Lines of the screen that hold what a terminal would act on, or a link."""
    harm = [
        line
        for line in lines(app)
        if any(unicodedata.category(char) in FORBIDDEN or ord(char) in BIDI for char in line)
    ]
    for strip in app.screen._compositor.render_strips():
        for segment in strip:
            meta = segment.style.meta if segment.style is not None else {}
            if "@click" in meta or (segment.style is not None and segment.style.link):
                harm.append(f"link: {segment.text}")
    return harm


KEYS = (
    "2", "e", "escape", "a", "escape", "m", "escape", "x", "escape", "o", "c", "d", "question_mark",
    "escape", "4", "tab", "tab", "down", "F", "escape", "w", "escape", "G", "question_mark",
    "escape", "S", "escape", "O", "escape", "V", "escape",
)  # fmt: skip
SETLIST_KEYS = (
    "3", "question_mark", "escape", "enter", "e", "escape", "a", "escape", "down", "e", "escape",
    "x", "escape", "tab", "e", "escape", "a", "escape", "m", "escape", "p", "escape", "x", "escape",
    "t", "escape", "n", "escape", "4", "tab", "tab", "w", "escape",
)  # fmt: skip


@pytest.mark.parametrize(("keys", "size"), [(KEYS, SMALL), (SETLIST_KEYS, LARGE)])
async def test_every_screen_shows_it_as_text(
    tmp_path: Path, keys: tuple[str, ...], size: tuple[int, int]
) -> None:
    """Each view, question and help shows such texts literally: no crash, no link, no control."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, size) as pilot:
        await checked(pilot)
        seen = shown(app)
        for key in keys:
            await pilot.press(key)
            assert harmful(app) == [], key
            seen += shown(app)
        assert app.is_running
        assert "[/] [@click=app.quit]x[/]" in seen
        assert "漢字" in seen


async def test_no_place_of_a_screen_is_a_link(tmp_path: Path) -> None:
    """A click anywhere on the text does not run what the file asks for."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        for view in ("2", "4"):
            await pilot.press(view)
            await checked(pilot)
            for y, line in enumerate(lines(app)):
                at = line.find("x[/]")
                if at >= 0:
                    await pilot.click(offset=(at, y))
            assert app.is_running
            assert app.return_value is None


async def test_palette_and_notices(tmp_path: Path) -> None:
    """The palette finds such names as text, and what is said below the views is text."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, LARGE) as pilot:
        await pilot.press("ctrl+p")
        app.screen.query_one(Input).value = "click"
        await pilot.pause()
        assert harmful(app) == []
        assert "Go to preset: [/] [@click=app.quit]x[/]" in shown(app)
        await pilot.press("enter")
        app.say(EVIL, "error")
        await app.go_to(f"pedals.{EVIL}")
        await app.go_to("waivers.1")
        await app.go_to("chain.front")
        await pilot.pause()
        assert harmful(app) == []
        assert "[/] [@click=app.quit]x[/]" in shown(app)


async def test_start_screen(tmp_path: Path) -> None:
    """A file name can be as hostile as a text in it."""
    path = tmp_path / "[@click=app.quit]x[] \u202e.toml"
    path.write_text("format = 1\nname = 3\n")
    remember_file(path)
    app = RigApp(None)
    async with on_screen(app, LARGE) as pilot:
        assert "[@click=app.quit]x[]" in shown(app)
        assert harmful(app) == []
        await pilot.press("enter")
        await pilot.pause()
        assert "can't be opened" in shown(app)
        assert harmful(app) == []


async def test_what_is_typed_is_text_too(tmp_path: Path) -> None:
    """Such a text typed into a form is kept as it is and shown as text."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("e")
        app.screen.query_one("#field-name", Input).value = f"new {EVIL}"
        await pilot.press("enter")
        await pilot.pause()
        assert app.document.rig.presets[0].name == f"new {EVIL}"
        assert harmful(app) == []
        await pilot.press("u")
        await pilot.pause()
        assert harmful(app) == []
