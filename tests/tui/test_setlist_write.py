"""A song written in one line on the setlist: typed, completed, told back, edited, counted."""

from __future__ import annotations

import shutil

import pytest
from screens import lines
from tui.setlist_screen import DEMOS, SIZES, setlist_screen

from rigtui.model.edits import song_line
from rigtui.tui.widgets.dialogs import Form

FORM = [
    ("Intro", 4, "crunch", ()), ("Verse 1", 16, "clean-chop", ()), ("Chorus 1", 8, "crunch", ()),
    ("Verse 2", 16, "clean-chop", ()), ("Chorus 2", 8, "crunch", ()),
    ("Solo", 16, "ballad-lead", ("wah",)),
    ("Chorus 3", 8, "crunch", ()), ("Chorus 4", 8, "crunch", ()),
]  # fmt: skip
"""Intro 4 cr, Verse 16 cc, Chorus 8 cr, Verse, Chorus, Solo 16 lead +wah, Chorus x2"""


def typed(text: str) -> list[str]:
    """The presses that type a text, "<" being Tab."""
    return ["tab" if char == "<" else f"type: {char}" for char in text]


@pytest.fixture
def path(tmp_path):
    """The function band's rig, to be changed."""
    copy = tmp_path / "quay.toml"
    shutil.copy(DEMOS / "quay-street.toml", copy)
    return copy


def form_of(song):
    """The sections as a line says them."""
    return [(row.name, row.bars, row.preset, row.plus) for row in song.sections]


@pytest.mark.parametrize("size", SIZES)
async def test_a_song_form_and_mapping_in_under_90_presses(path, size, record_property):
    """Title, tempo, form and mapping of eight sections: 136 presses one section at a time."""
    line = "i< 4 cr,v< 16 cc,c< 8 cr,v<,c<,s< 16 lead +wah,c< x2"
    presses = ["a", "enter", *typed("Sea Fret"), "tab", *typed("120"), "tab", "tab"]
    presses += [*typed(line), "enter"]
    async with setlist_screen(path, size) as screen:
        for press in presses:
            await screen.press(press)
        song = screen.rig.songs[-1]
        assert (song.title, song.tempo) == ("Sea Fret", 120)
        assert form_of(song) == FORM
    record_property("counts", {"presses": len(presses), "for the line": len(typed(line)) + 1})
    assert len(presses) < 90


async def test_the_line_of_a_song_is_edited_and_comes_back(path):
    """w shows the song in one line; what is typed is told back, taken, and shown the same again."""
    async with setlist_screen(path, (120, 40)) as screen:
        before = screen.rig
        song = screen.view.songs.song
        await screen.press("w")
        form = screen.app.screen
        assert isinstance(form, Form)
        field = form.query_one("#field-sections")
        assert field.value == song_line(song)
        await screen.press("enter")
        assert screen.rig is before
        await screen.press("w", "end", "type: , Tag 4 cw")
        assert '"cw" fits clean-wide and crunch-wide' in "\n".join(lines(screen.app))
        await screen.press("enter")
        assert screen.app.screen is not form
        assert isinstance(screen.app.screen, Form)
        await screen.press("end", "backspace", "type: rw", "enter")
        assert screen.rig.songs[0].sections[-1].preset == "crunch-wide"
        assert screen.rig.songs[0].sections[:-1] == song.sections
        await screen.press("tab", "w", "end", "type: , Tag")
        told = "\n".join(lines(screen.app))
        assert "Tag 2 4 Crunch Wide" in told
        await screen.press("escape", "u")
        assert screen.rig == before


async def test_a_new_song_takes_its_guitar_and_shows_what_the_song_before_leaves(path):
    """What is not written is as before, and said so; what is written goes into the song."""
    async with setlist_screen(path, (80, 24)) as screen:
        await screen.press("a", "enter", "type: Sea Fret", "tab", "type: 120", "up", "up", "up")
        told = "\n".join(lines(screen.app))
        assert "as the song before: main" in told
        assert "as the song before: E A D G B E" in told
        assert f"yours: {screen.rig.player.gap_seconds:g}" in told
        await screen.press("type: 2", "down", "type: 45", "up", "up", "up", "type: slide", "enter")
        song = screen.rig.songs[-1]
        assert (song.guitar, song.tuning, song.capo, song.gap_seconds) == ("slide", None, 2, 45)
        await screen.press("tab", "a", "enter", "type: Tin", "tab", "type: 99", "up", "up", "up")
        assert "as the song before: slide" in "\n".join(lines(screen.app))
        assert "fret, 0 to 24; as the song before: 2" in "\n".join(lines(screen.app))
        await screen.press("type: 99", "enter")
        assert "capo" in "\n".join(lines(screen.app))
        assert screen.rig.songs[-1] is song
