"""`/` in a list: rows that hold the words stay, keys act on what is in sight, Esc shows all."""

from __future__ import annotations

import shutil

import pytest
from screens import lines
from tui.setlist_screen import DEMOS, SIZES, setlist_screen


@pytest.fixture
def path(tmp_path):
    """The function band's rig, to be changed."""
    copy = tmp_path / "quay.toml"
    shutil.copy(DEMOS / "quay-street.toml", copy)
    return copy


@pytest.mark.parametrize("size", SIZES)
async def test_a_song_is_found_by_typing(path, size):
    """Letters narrow the list and are no commands; the song under the cursor is shown beside it."""
    async with setlist_screen(path, size) as screen:
        before = screen.rig
        await screen.press("slash", "type: xd", "backspace", "backspace", "type: UMBR")
        text = "\n".join(lines(screen.app))
        assert "Copper L" not in text
        assert "/UMBR" in text
        assert screen.view.songs.song.label == "Borrowed Umbrella"
        assert screen.rig == before
        await screen.press("enter", "escape")
        text = "\n".join(lines(screen.app))
        assert "Copper L" in text
        assert "/UMBR" not in text
        assert screen.view.songs.song.label == "Borrowed Umbrella"


async def test_keys_act_on_the_rows_that_are_left(path):
    """After Enter the cursor walks through them, and an edit keeps the search."""
    async with setlist_screen(path, (120, 40)) as screen:
        await screen.press("tab", "slash", "type: chorus", "enter")
        grid = screen.view.song.grid
        shown = [grid.rows[at].cells[0].split()[0] for at in grid.in_sight]
        assert set(shown) == {"Chorus"}
        assert "3 of 8" in "\n".join(lines(screen.app))
        await screen.press("t", "t")
        assert sorted(screen.view.song.ticked) == [2, 4]
        await screen.press("escape", "escape", "slash", "type: chorus", "enter", "ctrl+home")
        assert not screen.view.song.ticked
        await screen.press("down", "m", "type: solo", "enter")
        song = screen.rig.songs[0]
        changed = [row.name for row in song.sections if row.preset == "solo"]
        assert changed == ["Chorus 2", "Solo"]
        assert [grid.rows[at].cells[0].split()[0] for at in grid.in_sight] == shown


async def test_a_finding_is_found_by_words_that_its_row_has_no_room_for(path):
    """The whole message is looked through."""
    async with setlist_screen(path, (80, 24)) as screen:
        await screen.checked()
        await screen.press("4", "slash", "type: take the capo off", "enter")
        assert screen.app.view.key.rule == "guitar-conflict"


async def test_a_search_without_a_match_shows_nothing_and_ends_by_enter(path):
    """No row can be acted on unseen."""
    async with setlist_screen(path, (120, 40)) as screen:
        grid = screen.view.songs.grid
        await screen.press("slash", "type: zzz", "delete")
        assert list(grid.in_sight) == []
        assert "0 of" in "\n".join(lines(screen.app))
        await screen.press("enter")
        assert len(grid.in_sight) > 10


async def test_the_mouse_finds_the_row_it_points_at(path):
    """Also where rows above it are out of sight."""
    async with setlist_screen(path, (120, 40)) as screen:
        await screen.press("slash", "type: a", "enter", "ctrl+home")
        grid = screen.view.songs.grid
        third = grid.in_sight[2]
        await screen.pilot.click(grid, offset=(4, 1 + 2))
        await screen.pilot.pause()
        assert grid.cursor_row == third
