"""Forms: where the keys go, what typing replaces, and which field a fault is about."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher
from screens import SMALL, app_of, burst, lines, on_screen, shown
from textual.widgets import Input, OptionList

from rigtui.tui.sheet_preview import show_sheet
from rigtui.tui.views.presets.forms import instead_pick
from rigtui.tui.views.setlist.forms import remove_confirm
from rigtui.tui.widgets.dialogs import Field, field_at_fault
from rigtui.tui.widgets.pick import Pick

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
        await burst(pilot, "type: 120", "enter")
        assert len(app.screen_stack) == 1
        assert not app.document.dirty


async def test_every_field_is_typed_over_and_an_arrow_edits(tmp_path: Path) -> None:
    """Entering a field selects it, typing replaces it; after an arrow what is typed is added."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(pilot, "3", "e", "type: New", "tab", "type: 9")
        assert app.screen.query_one("#field-title", Input).value == "New"
        assert app.screen.query_one("#field-tempo", Input).value == "9"
        await burst(pilot, "shift+tab", "right", "type: er", "tab", "left", "type: 1")
        assert app.screen.query_one("#field-title", Input).value == "Newer"
        assert app.screen.query_one("#field-tempo", Input).value == "19"


async def test_a_form_is_cancelled_and_accepted_by_mouse(tmp_path: Path) -> None:
    """The words below a form are what to click."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(pilot, "3", "e", "type: New")
        await pilot.click("#leave")
        assert len(app.screen_stack) == 1
        assert not app.document.dirty
        await burst(pilot, "e", "type: New")
        await pilot.click("#accept")
        await pilot.pause()
        assert app.document.rig.songs[0].title == "New"


async def test_a_list_to_choose_from_is_answered_by_mouse(tmp_path: Path) -> None:
    """Its last line is what to click, as below a form."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, SMALL) as pilot:
        await burst(pilot, "3", "a")
        await pilot.click("#leave")
        await pilot.pause()
        assert len(app.screen_stack) == 1
        await burst(pilot, "a")
        await pilot.click("#accept")
        await pilot.pause()
        assert "New song" in "\n".join(lines(app))


async def test_a_fault_stands_below_its_field(tmp_path: Path) -> None:
    """What is wrong is said beside the field that is wrong, and its unit and limits below."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, (120, 40)) as pilot:
        await burst(pilot, "3", "e", "tab", "type: x", "enter")
        shown = lines(app)
        at = next(at for at, line in enumerate(shown) if "Tempo " in line)
        assert "tempo must be a number, not x" in shown[at + 1]


async def test_a_tempo_says_what_it_counts(tmp_path: Path) -> None:
    """7/8 at 132 may be eighths or quarters: the form says which, and asks before it takes it."""
    app = app_of(tmp_path, **RIG)
    async with on_screen(app, (120, 40)) as pilot:
        await burst(pilot, "3", "e", "tab", "type: 132", "tab", "type: 7/8")
        assert "132 eighths a minute" in "\n".join(lines(app))
        assert "bpm in 7/8" in "\n".join(lines(app))
        await burst(pilot, "enter")
        assert app.focused.id == "field-beat"
        assert "what does 132 count in 7/8? Write 1/8 for eighths" in "\n".join(lines(app))
        await burst(pilot, "type: 1/4", "enter")
        song = app.document.rig.songs[0]
        assert (song.tempo, song.meter, song.beat) == (132, "7/8", "1/4")
        assert "132 bpm  7/8" in "\n".join(lines(app))
        await burst(pilot, "e", "up", "up", "up", "up", "up", "up", "type: 1/8", "enter")
        assert app.document.rig.songs[0].beat == "1/8"
        assert "132 eighths a minute  7/8" in "\n".join(lines(app))
        await burst(pilot, "e", "tab", "type: fast")
        assert "fast eighths" not in "\n".join(lines(app))


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
        assert shown[:3] == ["new song...", "new set... at the end", "new setlist..."]
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


async def test_a_kind_is_chosen_by_what_players_call_it(tmp_path: Path) -> None:
    """Letters that begin no kind mean one; the file gets its own word."""
    app = app_of(tmp_path, pedals=[pedal("swirl", name="Swirl")])
    async with on_screen(app, SMALL) as pilot:
        await pilot.press("1")
        await pilot.pause()
        await pilot.press("a", *"Vibe", "down", *"phaser", "enter")
        await pilot.pause()
        assert app.document.rig.pedals[-1].kind == "modulation"
        await pilot.press("a", *"Rack", "down", *"tt", "left", "right", *"ov", "enter")
        await pilot.pause()
        assert app.document.rig.pedals[-1].kind == "overdrive"


@pytest.mark.parametrize("opens", [("e",), ("m",), ("ctrl+p",)])
async def test_f1_shows_the_keys_of_a_question(tmp_path: Path, opens: tuple[str, ...]) -> None:
    """In forms, lists and the palette; Esc goes back to the question."""
    app = app_of(tmp_path, presets=[preset("one", name="One")])
    async with on_screen(app, SMALL) as pilot:
        await pilot.press(*opens)
        await pilot.pause()
        question = app.screen
        await pilot.press("f1")
        await pilot.pause()
        assert "Keys" in shown(app)
        assert "Cancel" in shown(app)
        await pilot.press("escape")
        await pilot.pause()
        assert app.screen is question


async def test_a_question_mark_shows_the_keys_of_a_preview_and_of_a_confirmation(
    tmp_path: Path,
) -> None:
    """Where nothing is typed, `?` does as everywhere."""
    parts = {
        "presets": [preset("one", name="One", memory=1)],
        "songs": [song("low", section("one", name="A"))],
        "setlists": [setlist("friday", "low")],
    }
    app = app_of(tmp_path, **parts)
    async with on_screen(app, SMALL) as pilot:
        show_sheet(app, "set")
        await pilot.pause()
        preview = app.screen
        await burst(pilot, "question_mark")
        assert "Note as printed" in shown(app)
        await burst(pilot, "escape")
        assert app.screen is preview
        await burst(pilot, "escape", "3", "x")
        confirm = app.screen
        await burst(pilot, "question_mark", "escape")
        assert app.screen is confirm


def test_a_list_understands_the_short_forms_of_the_song_line() -> None:
    """The heads of columns are short forms too; a word that has the letters inside comes after."""
    pick = Pick(
        "Preset", [("accent", "Accent   1/1  lead"), ("cv", "Clean Verb   1/2  clean"),
                   ("cc", "Clean Chorus   1/3  clean")],
    )  # fmt: skip
    for short in ("cv", "CVe", "c v", "clv"):
        assert [value for value, _ in pick.narrowed(short)] == ["cv"], short
    assert [value for value, _ in pick.narrowed("cc")] == ["cc", "accent"]
    assert pick.narrowed("vc") == []


def test_a_list_shows_first_what_begins_with_what_is_typed() -> None:
    """A name before a role that is alike."""
    pick = Pick("Preset", [("crunch", "Crunch 1/4 rhythm"), ("rhythm", "Rhythm 2/1 rhythm")])
    assert [value for value, _ in pick.narrowed("Rhy")] == ["rhythm", "crunch"]
    assert [value for value, _ in pick.narrowed("")] == ["crunch", "rhythm"]
