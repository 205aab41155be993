"""Any keys in any order leave the setlist screen standing, and undo leads all the way back."""

from __future__ import annotations

import shutil
from random import Random

import pytest
from tui.setlist_screen import DEMOS, SIZES, setlist_screen

from rigtui.model import rig_from_data, rig_to_data

KEYS = [
    *["up", "down", "left", "right", "tab", "enter", "space", "escape"] * 3,
    *"aAedxmpPnNKJuruxfg",
    *["G", "plus", "minus", "left_square_bracket", "right_square_bracket", "home", "end"],
    *["shift+up", "shift+down", "pageup", "pagedown", "delete", "comma", "W"],
]  # fmt: skip


@pytest.mark.parametrize(("seed", "size"), [(1, SIZES[0]), (2, SIZES[1]), (3, (60, 20))])
async def test_any_keys_leave_a_valid_rig(tmp_path, seed, size):
    """After two hundred keys at random the rig is still one that a file may hold."""
    path = tmp_path / "rig.toml"
    shutil.copy(DEMOS / "quay-street.toml", path)
    keys = Random(seed)
    async with setlist_screen(path, size) as screen:
        first = screen.rig
        for _ in range(25):
            # 4 leads to another screen, but is a figure like any other where something is typed.
            typing = len(screen.app.screen_stack) > 1
            await screen.press(*keys.choices(KEYS + ["4"] * typing, k=8))
        while len(screen.app.screen_stack) > 1:
            await screen.press("escape")
        now = screen.rig
        assert rig_from_data(rig_to_data(now)) == now
        assert screen.app.is_running
        while screen.app.document.history.past:
            await screen.press("u")
        assert screen.rig == first
