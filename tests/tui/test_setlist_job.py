"""The whole job on the setlist screen: a new song, its sections mapped, saved and read again."""

from __future__ import annotations

import shutil

import pytest
from tui.setlist_screen import DEMOS, SIZES, setlist_screen

from rigtui.store.load import read_plain, rig_of

LINE = "Intro 4, Verse 16, Chorus 8, Verse 16, Chorus 8, Solo 16, Chorus 8, Outro 4"
SOUNDS = ["clean-chop", "clean-chop", "crunch", "clean-chop", "crunch", "solo", "crunch",
          "clean-chop"]  # fmt: skip


@pytest.mark.parametrize("size", SIZES)
async def test_a_song_is_added_mapped_saved_and_read_again(tmp_path, size):
    """Every step of the job changes the totals in sight, undo and redo retrace it, and it is saved.

    Worked by hand: Clean Chop is bank 1 switch 1, Crunch bank 1 switch 3, Solo bank 2 switch 1.
    The eight sections take 0 + 1 + 1 + 1 + 2 + 2 + 1 = 8 moves; the wah in the solo one more on
    and one more off.
    """
    path = tmp_path / "quay.toml"
    shutil.copy(DEMOS / "quay-street.toml", path)
    async with setlist_screen(path, size) as screen:
        first = screen.rig
        assert "234 moves" in screen.totals
        await screen.press("a", "enter", "type: Sea Fret", "tab", "type: 120", "tab", "tab")
        await screen.press(f"type: {LINE}", "enter")
        song = screen.rig.songs[-1]
        assert (song.id, song.tempo, len(song.sections)) == ("sea-fret", 120, 8)
        assert screen.rig.setlists[0].sets[0].songs[1] == "sea-fret"
        assert screen.at() == "Sea Fret"
        assert screen.view.song.grid.has_focus
        assert "234 moves" in screen.totals

        await screen.press("enter", "enter", "right", "right", "enter", "left", "left", "enter")
        await screen.press("right", "right", "enter", "right", "right", "enter")
        await screen.press("left", "left", "enter", "left", "left", "enter")
        song = screen.rig.songs[-1]
        assert [section.preset for section in song.sections] == SOUNDS
        assert "242 moves" in screen.totals
        assert any("Sea Fret" in line and "8" in line for line in screen.songs())
        assert any("bank up ahead" in line and "Solo" in line for line in screen.sections())

        await screen.press("up", "up", "p", "enter")
        assert screen.rig.songs[-1].sections[5].plus == ("wah",)
        assert "244 moves" in screen.totals
        last = screen.rig

        for _ in range(10):
            await screen.press("u")
        assert screen.rig == first
        assert "234 moves" in screen.totals
        for _ in range(10):
            await screen.press("r")
        assert screen.rig == last
        assert "244 moves" in screen.totals
        await screen.press("s")
        totals = screen.totals
    assert rig_of(read_plain(path)) == last
    async with setlist_screen(path, size) as screen:
        assert screen.totals == totals
