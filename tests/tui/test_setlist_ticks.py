"""Ticks on the setlist: what acts on them is said, each list keeps its own, they follow rows."""

from __future__ import annotations

import shutil

import pytest
from screens import lines
from tui.setlist_screen import DEMOS, setlist_screen

from rigtui.tui.views.setlist.ticks import followed


@pytest.fixture
def path(tmp_path):
    """The function band's rig, to be changed."""
    copy = tmp_path / "quay.toml"
    shutil.copy(DEMOS / "quay-street.toml", copy)
    return copy


def first_set(screen):
    """Ids of the songs of the first set."""
    return list(screen.rig.setlists[0].sets[0].songs)


def names(screen):
    """Names of the sections of the first song of the file."""
    return [row.name for row in screen.rig.songs[0].sections]


async def test_ticked_songs_move_copy_and_stay_ticked(path):
    """J takes all of them one row on, again and again; d copies them behind the last; u undoes."""
    async with setlist_screen(path) as screen:
        before = first_set(screen)
        a, b, c, d, *_ = before
        await screen.press("t", "t", "J")
        assert first_set(screen)[:4] == [c, a, b, d]
        await screen.press("J")
        assert first_set(screen)[:4] == [c, d, a, b]
        assert screen.view.songs.song.id == c
        await screen.press("d")
        made = first_set(screen)[4:6]
        assert made == [f"{a}-copy", f"{b}-copy"]
        assert {place.song_id for place in screen.view.songs.ticked} == {a, b}
        await screen.press("u", "K", "K")
        assert first_set(screen) == before


async def test_what_ticks_are_good_for_is_said(path):
    """The keys that act on them stand below the list, as they are set; nothing without a tick."""
    async with setlist_screen(path) as screen:
        assert "ticked" not in "\n".join(screen.songs())
        await screen.press("t", "t")
        said = " ".join(line.strip() for line in screen.songs()[-4:])
        assert "2 ticked: K/J move, d copy, c copy to play elsewhere, x remove, esc untick" in said
        await screen.press("tab", "t")
        said = " ".join(line.strip() for line in screen.sections()[-4:])
        assert said.endswith(
            "1 ticked: space map, m by name, p pedal, f fill, K/J move, +/- bars, [/] volume, "
            "d copy, c copy to paste elsewhere, x delete, esc untick"
        )
        screen.app.set_keymap({"setlist.section-up": "f7"})
        await screen.press("t", "t")
        assert "f7/J move" in " ".join(line.strip() for line in screen.sections()[-4:])
        await screen.press("escape", "shift+tab", "escape")
        assert "ticked" not in "\n".join(lines(screen.app))


async def test_each_setlist_and_song_keeps_its_ticks(path):
    """Another list has none of them; they are there when one comes back."""
    async with setlist_screen(path) as screen:
        await screen.press("t", "t", "n")
        assert not screen.view.songs.ticked
        await screen.press("N")
        assert len(screen.view.songs.ticked) == 2
        await screen.press("g", "down", "down", "tab", "t", "tab", "j")
        assert not screen.view.song.ticked
        await screen.press("k")
        assert screen.view.song.ticked == {0}


async def test_ticked_sections_move_lengthen_and_turn_together(path):
    """All keys that change a section change those ticked; ticks stay with their rows."""
    async with setlist_screen(path, (120, 40)) as screen:
        a, b, c, d, *_ = names(screen)
        bars = [row.bars for row in screen.rig.songs[0].sections]
        await screen.press("tab", "t", "t", "J", "plus", "left_square_bracket")
        assert names(screen)[:4] == [c, a, b, d]
        rows = screen.rig.songs[0].sections
        assert [row.bars for row in rows[:4]] == [bars[2], bars[0] + 1, bars[1] + 1, bars[3]]
        assert [row.guitar_volume is None for row in rows[:4]] == [True, False, False, True]
        assert screen.view.song.ticked == {1, 2}
        await screen.press("d")
        assert names(screen)[:6] == [c, a, b, a, b, d]
        await screen.press("x")
        assert names(screen)[:4] == [c, a, b, d]
        assert not screen.view.song.ticked


async def test_removed_songs_leave_no_tick_behind(path):
    """Not even on the same song played once more."""
    async with setlist_screen(path) as screen:
        twice = first_set(screen)[0]
        await screen.press("c", "down", "v", "g", "down", "down", "t", "x", "x")
        assert first_set(screen)[1] == twice
        assert not screen.view.songs.ticked


@pytest.mark.parametrize(
    ("old", "new", "ticked", "then"),
    [
        ("abc", "cab", {0, 1}, {1, 2}),
        ("abc", "xabc", {2}, {3}),
        ("abc", "bc", {0, 1}, {0}),
        ("abc", "aXc", {1}, {1}),
        ("aba", "ba", {2}, set()),
        ("aba", "aab", {2}, {1}),
        ("ab", "aab", {0, 1}, {0, 2}),
    ],
)
def test_ticks_follow_their_rows(old, new, ticked, then):
    """Moved rows keep them, those that went lose them, and nobody gets another's."""
    assert followed(ticked, list(old), list(new)) == then


async def test_a_set_is_split_at_the_cursor_and_joined_again(path):
    """b makes a new set from here on, and B takes that back; so does the list of what to add."""
    async with setlist_screen(path) as screen:
        before = screen.rig
        songs = first_set(screen)
        await screen.press("g", "down", "down", "down", "down", "b")
        sets = screen.rig.setlists[0].sets
        assert [list(part.songs) for part in sets[:2]] == [songs[:2], songs[2:]]
        assert (sets[1].name, screen.view.songs.place.set_at) == ("First set, part 2", 1)
        await screen.press("B")
        assert screen.rig.setlists == before.setlists
        assert (screen.view.songs.place.set_at, screen.view.songs.place.at) == (0, 2)
        await screen.press("a", "type: from here", "enter")
        assert list(screen.rig.setlists[0].sets[1].songs) == songs[2:]
        await screen.press("u", "g", "down", "down", "b")
        assert screen.rig.setlists == before.setlists
        said = [notice.message for notice in screen.app._notifications]
        assert "not the first of its set" in said[-1]


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_no_title_is_cut_in_the_list(path, size):
    """At 80x24 too; figures are as narrow as they can be."""
    async with setlist_screen(path, size) as screen:
        for _ in range(3):
            rows = "\n".join(lines(screen.app))
            songs = screen.view.songs.evening
            seen = screen.view.songs.grid.in_sight
            titles = [
                songs.song(songs.places[at]).label for at in seen if songs.song(songs.places[at])
            ]
            assert titles
            if songs.setlist is not None:  # the time comes after all other figures
                assert ("time" in screen.songs()[0]) == (size[0] >= 120)
            assert [title for title in titles if title not in rows] == []
            await screen.press("n")
