"""Many rows at once on the setlist: all of a name, like a song, filled down, ticked, copied."""

from __future__ import annotations

import shutil

import pytest
from screens import lines
from tui.setlist_screen import DEMOS, setlist_screen

from rigtui.model.edits import song_line


@pytest.fixture
def path(tmp_path):
    """The function band's rig, to be changed."""
    copy = tmp_path / "quay.toml"
    shutil.copy(DEMOS / "quay-street.toml", copy)
    return copy


def presets_of(song, name):
    """The presets of a song's sections of a name."""
    return {row.preset for row in song.sections if row.name.startswith(name)}


async def test_every_chorus_of_song_set_and_file_in_three_presses(path):
    """The cursor's own mapping spreads; how many change is said before."""
    async with setlist_screen(path, (120, 40)) as screen:
        await screen.press("tab", "slash", "type: chorus 1", "enter", "escape")
        await screen.press("m", "type: stack", "enter", "M")
        assert "Map every Chorus to Stack" in "\n".join(lines(screen.app))
        await screen.press("enter")
        first, second = screen.rig.songs[:2]
        assert presets_of(first, "Chorus") == {"stack"}
        assert presets_of(second, "Chorus") != {"stack"}
        await screen.press("M", "down", "down", "enter")
        assert all(presets_of(song, "Chorus") <= {"stack"} for song in screen.rig.songs)
        await screen.press("u")
        assert presets_of(screen.rig.songs[1], "Chorus") != {"stack"}


async def test_like_another_song_and_filled_down(path):
    """L asks for the song; f gives the next section the mapping of this one."""
    async with setlist_screen(path, (120, 40)) as screen:
        await screen.press("tab", "L", "type: saturday", "enter")
        first, second = screen.rig.songs[:2]
        assert presets_of(first, "Solo") == presets_of(second, "Solo")
        await screen.press("m", "type: stack", "enter", "f", "f")
        assert [row.preset for row in screen.rig.songs[0].sections[:3]] == ["stack"] * 3


async def test_ticked_sections_are_mapped_copied_and_deleted_together(path):
    """t ticks and goes down; Esc unticks."""
    async with setlist_screen(path, (120, 40)) as screen:
        before = screen.rig.songs[0]
        await screen.press("tab", "t", "t")
        assert " *Intro" in "\n".join(lines(screen.app))
        await screen.press("m", "type: stack", "enter")
        rows = screen.rig.songs[0].sections
        assert [row.preset for row in rows[:3]] == ["stack", "stack", before.sections[2].preset]
        await screen.press("c", "escape")
        assert " *Intro" not in "\n".join(lines(screen.app))
        await screen.press("end", "ctrl+end", "v")
        assert screen.rig.songs[0].sections[-2:] == rows[:2]
        await screen.press("ctrl+home", "t", "t", "x")
        assert screen.rig.songs[0].sections[:-2] == rows[2:]


async def test_songs_are_copied_to_another_set_and_out_of_the_program(path):
    """Ticked songs go in behind the cursor; the clipboard gets them as a list."""
    async with setlist_screen(path, (120, 40)) as screen:
        songs = screen.rig.songs[:2]
        await screen.press("t", "t", "c")
        assert screen.app.clipboard.splitlines()[0].endswith(song_line(songs[0]))
        await screen.press("escape", "ctrl+end", "v")
        assert screen.rig.setlists[0].sets[-1].songs[-2:] == tuple(song.id for song in songs)
        await screen.press("t", "t", "x", "x")
        assert songs[0].id not in screen.rig.setlists[0].sets[-1].songs


async def test_a_pasted_line_is_looked_at_before_it_goes_in(path):
    """On the sections' side a paste opens the line, told back."""
    async with setlist_screen(path, (120, 40)) as screen:
        await screen.press("tab", "paste: Verse 16 cc\nChorus 8 cr")
        assert "2 sections, 24 bars" in "\n".join(lines(screen.app))
        await screen.press("enter")
        assert [row.name for row in screen.rig.songs[0].sections[1:3]] == ["Verse", "Chorus"]
