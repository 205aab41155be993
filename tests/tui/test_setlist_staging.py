"""One key on the setlist screen switches a pedal early, where that takes a press off the beat."""

from __future__ import annotations

from pathlib import Path

import pytest
from rigs_made import loop, make_data, pedal, preset, section, song, switcher
from tui.setlist_screen import setlist_screen, written

from rigtui.moves import count_song
from rigtui.tui.widgets.pick import Pick

DATA = make_data(
    switcher=switcher(4, 4),
    pedals=[pedal("wah", "wah", name="Wah"), pedal("boost", "boost", name="Boost"), pedal("drive")],
    loops=[loop(1, "drive")],
    presets=[preset("dry", memory=1, name="Dry"), preset("lead", 1, memory=2, name="Lead")],
    songs=[
        song(
            "a",
            section("dry", name="Verse"),
            section("lead", name="Solo", plus=["wah"], rest_beats=1),
            section("dry", name="Bridge", plus=["boost"]),
            section("dry", name="End"),
            title="Alder",
        )
    ],
    chain={"front": ["wah", "boost", 1]},
    setlists=[{"id": "gig", "name": "Gig", "sets": [{"name": "One", "songs": ["a"]}]}],
)
SIZE = (120, 40)


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A song whose solo wants the wah, its bridge the boost."""
    return written(DATA, tmp_path)


def early(screen):
    """What each section has switched early."""
    return [section.early for section in screen.rig.songs[0].sections]


def extra(screen):
    """Extra presses of the song."""
    return count_song(screen.rig, screen.rig.songs[0]).extra_presses


async def test_the_words_propose_it_and_the_key_does_it(path):
    """What it saves and the time that there is stand below; E does it, and E takes it back."""
    async with setlist_screen(path, SIZE) as screen:
        await screen.press("tab", "down")
        text = " ".join(line.plain for line in screen.view.song.lines())
        assert "E: Switching Wah early takes 1 press off the beat: you rest just before" in text
        assert "Verse lasts 8 s, the press takes 0.5 s" in text
        before = extra(screen)
        await screen.press("E")
        assert early(screen)[1] == ("wah",)
        assert extra(screen) == before - 1
        text = " ".join(line.plain for line in screen.view.song.lines())
        assert "switched early: Wah" in text
        assert "E: " not in text
        await screen.press("E")
        assert early(screen)[1] == ()
        assert extra(screen) == before


async def test_where_it_would_be_heard_the_player_decides(path):
    """The boost into the bridge is asked about, with a word on what is heard; Esc leaves it."""
    async with setlist_screen(path, SIZE) as screen:
        await screen.press("tab", "down", "down", "E")
        pick = screen.app.screen
        assert isinstance(pick, Pick)
        labels = dict(pick.narrowed(""))
        assert "it would be heard ahead of the change" in labels["boost"]
        await screen.press("escape")
        assert early(screen)[2] == ()
        await screen.press("E", "type: Boost", "enter")
        assert early(screen)[2] == ("boost",)


async def test_where_nothing_can_be_early_it_says_where(path, monkeypatch):
    """The first section is set up before the song."""
    said = []
    monkeypatch.setattr(
        "rigtui.tui.views.setlist.panes.EditingPane.say", lambda _, text: said.append(text)
    )
    async with setlist_screen(path, SIZE) as screen:
        await screen.press("tab", "E")
        assert said == [
            "Switching a pedal early takes no press off the beat here; it does in section 2"
        ]
        assert early(screen) == [()] * 4
