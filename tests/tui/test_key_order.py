"""Keys that come in all at once do what they would have done one by one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, pedal, preset, section, setlist, song, switcher
from screens import SMALL, app_of, burst, on_screen
from textual import events
from textual.app import ComposeResult
from textual.screen import ModalScreen
from textual.widgets import Input

from rigtui.tui.key_order import OneKeyAtATime
from rigtui.tui.views.setlist.view import SetlistView

RIG: dict[str, Any] = {
    "switcher": switcher(),
    "pedals": [pedal("drive", "overdrive")],
    "loops": [loop(1, "drive")],
    "presets": [
        preset("dry", name="Dry", memory=1),
        preset("lead", 1, name="Lead", memory=5),
        preset("wide", name="Wide", memory=2),
    ],
    "songs": [
        song("low", section("dry"), section("dry"), section("dry"), title="Low Fen"),
        song("tin", "dry", title="Tin Moth"),
    ],
    "setlists": [setlist("gig", "low", "tin", name="Gig")],
}


async def test_a_burst_fills_in_a_question_that_is_still_opening(tmp_path: Path) -> None:
    """A whole new song typed in one go lands in its form, not on the view below it."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(
            pilot, "3", "a", "enter", "type: Fast One", "tab", "type: 120", "tab", "tab",
            "type: Verse 8, Chorus 8", "enter", "enter", "right", "enter", "s",
        )  # fmt: skip
        new = app.document.rig.songs[-1]
        assert (new.id, new.tempo) == ("fast-one", 120)
        assert [(section.name, section.preset) for section in new.sections] == [
            ("Verse", "dry"),
            ("Chorus", "lead"),
        ]
        assert app.document.rig.setlists[0].sets[0].songs == ("low", "fast-one", "tin")
        assert not app.document.dirty


async def test_a_burst_goes_through_questions_one_after_another(tmp_path: Path) -> None:
    """Each question of a burst gets its own answer, and the keys after it go to the view again."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(pilot, "3", "x", "x", "u", "a", "type: tin", "enter", "x", "escape", "J")
        assert app.document.rig.setlists[0].sets[0].songs == ("low", "tin", "tin")
        assert len(app.screen_stack) == 1


async def test_text_with_letters_of_actions_stays_text(tmp_path: Path) -> None:
    """Words typed right behind the key of a form go into it, whatever their letters do outside."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        before = app.document.rig
        await burst(pilot, "a", "type: quads xKJ?")
        assert app.screen.query_one("#field-name", Input).value == "quads xKJ?"
        await burst(pilot, "escape")
        assert app.document.rig is before


async def test_an_arrow_is_not_lost_when_an_edit_is_shown_right_behind_it(tmp_path: Path) -> None:
    """The cursor stays where the arrow brought it, also when a redraw overtakes its message."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(pilot, "3", "tab")
        view = app.query_one(SetlistView)
        view.song.grid.action_move(1, 0)
        view.song.grid.action_move(0, 1)
        view.show_rig(app.document.rig)
        assert view.song.section_at == 1
        assert view.song.preset.id == "lead"
        await burst(pilot, "tab")
        view.songs.grid.action_move(1, 0)
        view.show_rig(app.document.rig)
        assert view.songs.song.id == "tin"


class _Slow(ModalScreen[None]):
    """A question that takes its time, and is taken down under the key that leaves it."""

    BINDINGS = [("escape", "dismiss(None)", "Leave")]  # noqa: RUF012

    def compose(self) -> ComposeResult:
        yield Input()


class _Plain(OneKeyAtATime):
    """An app with one such question."""

    BINDINGS = [("a", "ask", "Ask"), ("z", "count", "Count")]  # noqa: RUF012
    counted = 0

    def action_ask(self) -> None:
        self.push_screen(_Slow())

    def action_count(self) -> None:
        self.counted += 1


@pytest.mark.parametrize("times", [1, 5])
async def test_keys_after_a_question_was_left_are_not_held_for_good(times: int) -> None:
    """The screen under a question gets its keys again, however often one is opened and left."""
    app = _Plain()
    async with app.run_test() as pilot:
        for _ in range(times):
            for key in ("a", "z", "escape", "z"):
                app.post_message(events.Key(key, key if len(key) == 1 else None))
        await pilot.pause()
        while app.keys_waiting:
            await pilot.pause()
        assert app.counted == times
