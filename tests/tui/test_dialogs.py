"""Forms: where the keys go, what typing replaces, and which field a fault is about."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, setlist, song, switcher
from screens import SMALL, app_of, burst, lines, on_screen
from textual.widgets import Input, OptionList

from rigtui.tui.views.presets.forms import instead_pick
from rigtui.tui.views.setlist.forms import remove_confirm
from rigtui.tui.widgets.dialogs import Field, field_at_fault

RIG: dict[str, Any] = {
    "switcher": switcher(),
    "pedals": [pedal("drive", "overdrive")],
    "loops": [loop(1, "drive"), loop(2)],
    "presets": [preset("dry", name="Dry", memory=1)],
    "songs": [song("low", "dry", title="Low Fen"), song("tin", "dry", title="Tin Moth")],
    "setlists": [setlist("gig", "low", "tin", name="Gig")],
}

FIELDS = [
    Field("title", "Title"),
    Field("tempo", "Tempo"),
    Field("sections", "Sections"),
    Field("guitar_volume", "Volume of the guitar"),
    Field("gap_seconds", "Gap after"),
]


@pytest.mark.parametrize(
    ("fault", "at"),
    [
        ("a song needs a title", 0),
        ("tempo must be a number, not title", 1),
        ('section 2, "Tempo": put its number of bars behind it', 2),
        ("guitar_volume: must be at most 10", 3),
        ("guitar volume must be a number, not x", 3),
        ("gap after must be a number, not x", 4),
        ("nothing of the sort", None),
        ("", None),
    ],
)
def test_the_field_that_a_fault_names_first_is_at_fault(fault: str, at: int | None) -> None:
    """The field whose label or key comes first in the words, singular or plural; else none."""
    assert field_at_fault(FIELDS, fault) == at


async def test_a_fault_leads_to_its_field(tmp_path: Path) -> None:
    """After a refusal the keys go to the field that is wrong, to be mended at once."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(pilot, "3", "e", "tab", "type: x", "tab", "tab", "tab", "enter")
        assert app.focused.id == "field-tempo"
        await burst(pilot, "backspace", "enter")
        assert len(app.screen_stack) == 1
        assert not app.document.dirty


async def test_only_the_first_field_is_typed_over(tmp_path: Path) -> None:
    """Typing replaces what the first field holds; in another, backspace takes one character."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(pilot, "3", "e", "type: New", "tab", "backspace")
        assert app.screen.query_one("#field-title", Input).value == "New"
        assert app.screen.query_one("#field-tempo", Input).value == "12"
        await burst(pilot, "shift+tab", "type: er")
        assert app.screen.query_one("#field-title", Input).value == "Newer"


async def test_a_long_label_keeps_clear_of_its_field(tmp_path: Path) -> None:
    """There is room between a label and its field, and the title has the word of the key."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(pilot, "4")
        while not app.reckoning.findings:
            await pilot.pause()
        await burst(pilot, "w")
        text = "\n".join(lines(app))
        assert "Waive this finding" in text
        assert "It is fine because  e.g." in text


async def test_what_is_new_comes_first_in_the_list_to_add_from(tmp_path: Path) -> None:
    """A new song, set and setlist stand before the songs of the file, however many those are."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(pilot, "3", "a")
        choices = app.screen.query_one("#choices", OptionList)
        shown = [str(choices.get_option_at_index(at).prompt) for at in range(4)]
        assert shown[:3] == ["new song...", "new set...", "new setlist..."]
        assert shown[3].startswith("Low Fen")


@pytest.mark.parametrize(("songs", "words"), [(1, "1 song stays"), (2, "2 songs stay")])
def test_one_song_stays_and_two_stay(songs: int, words: str) -> None:
    """One thing takes the verb of one thing."""
    assert words in remove_confirm("set", songs)._answers[0][1]


@pytest.mark.parametrize(
    ("uses", "words"),
    [(1, "1 section uses Dry; it gets"), (3, "3 sections use Dry; they get")],
)
def test_one_section_uses_and_three_use(uses: int, words: str) -> None:
    """The question what sections get in place of a deleted preset is good grammar for one too."""
    rig = make_rig(**RIG)
    assert instead_pick(rig, rig.presets[0], uses)._title == words
