"""The song on the setlist screen: mapping, stepping pedals, and sections by key."""

from __future__ import annotations

import pytest
from rigs_made import loop, make_data, pedal, preset, section, song, switcher
from tui.setlist_screen import SIZES, setlist_screen, written

DATA = make_data(
    switcher=switcher(),
    pedals=[pedal("wah", "wah", name="Wah"), pedal("fuzz", "fuzz"), pedal("drive")],
    loops=[loop(1, "drive")],
    presets=[
        preset("dry", memory=1, name="Dry"),
        preset("lead", 1, memory=5, name="Lead", guitar_volume=8),
        preset("wide", memory=2, name="Wide"),
    ],
    songs=[
        song(
            "a",
            section("dry", name="Intro"),
            section("lead", name="Solo"),
            section(name="End"),
            title="Alder",
        ),
        song("bare", title="Bare"),
    ],
    setlists=[{"id": "gig", "name": "Gig", "sets": [{"name": "One", "songs": ["a", "bare"]}]}],
)


@pytest.fixture
def path(tmp_path):
    """A file with a song of three sections, the last one unmapped."""
    return written(DATA, tmp_path)


def mapped(screen):
    """The presets of the song's sections."""
    return [section.preset for section in screen.rig.songs[0].sections]


def names(screen):
    """The names of the song's sections."""
    return [section.name for section in screen.rig.songs[0].sections]


@pytest.mark.parametrize("size", SIZES)
async def test_a_song_shows_sections_presets_and_moves(path, size):
    """Sections stand down the side, presets across, and between the rows what the feet do."""
    async with setlist_screen(path, size) as screen:
        shown = [line.strip("X! ").split() for line in screen.sections()]
        assert shown[0] == ["1/1", "2/1", "1/2"]
        assert shown[1][:3] == ["Section", "bars", "Preset"]
        change = "2 moves, 1 on the beat: bank up ahead of time, switch 1 (Lead)"
        if size[0] < 120:
            change = "2 moves, 1 on beat: bank up ahead, sw 1 Lead"
        assert [line for line in shown[2:7] if line] == [
            ["set-up,", "1", "move:", "switch", "1", "(Dry)"],
            ["Intro", "4", "Dry", "on", ".", "."],
            change.split(),
            ["Solo", "4", "Lead", ".", "on", "."],
            ["End", "4", "unmapped", ".", ".", "."],
        ]
        assert "2 moves (least 2), 0:24" in str(
            screen.view.song.query(".pane--figures").first().render()
        )


async def test_space_maps_and_stays_and_unmaps(path):
    """Space maps the section to the preset under the cursor, and again takes it off."""
    async with setlist_screen(path) as screen:
        await screen.press("tab", "right", "right", "space")
        assert mapped(screen) == ["wide", "lead", None]
        assert "space unmaps it" in screen.words()
        await screen.press("space")
        assert mapped(screen) == [None, "lead", None]
        assert "space maps" in screen.words()
        assert screen.view.song.section_at == 0


async def test_keys_faster_than_the_screen_still_toggle(path):
    """Two presses of space before anything is shown leave the section as it was."""
    async with setlist_screen(path) as screen:
        await screen.press("tab", "right")
        screen.app.simulate_key("space")
        screen.app.simulate_key("space")
        await screen.press()
        assert mapped(screen) == [None, "lead", None]
        await screen.press("u")
        assert mapped(screen) == ["lead", "lead", None]


async def test_enter_maps_and_goes_down(path):
    """Enter maps each section in turn to the same preset, and stays on the last."""
    async with setlist_screen(path) as screen:
        await screen.press("tab", "right", "enter", "enter", "enter", "enter")
        assert mapped(screen) == ["lead", "lead", "lead"]
        assert screen.view.song.section_at == 2


async def test_a_preset_is_mapped_by_name(path):
    """Typing a few letters of a preset maps it; the cursor stays on the section, also undone."""
    async with setlist_screen(path) as screen:
        before = mapped(screen)
        await screen.press("tab", "m", "type: wi", "enter")
        assert mapped(screen) == ["wide", *before[1:]]
        assert screen.view.song.section_at == 0
        await screen.press("down", "m", "type: none", "enter")
        assert mapped(screen) == ["wide", None, *before[2:]]
        assert screen.view.song.section_at == 1
        await screen.press("u")
        assert mapped(screen) == ["wide", *before[1:]]
        assert screen.view.song.section_at == 1


async def test_pedals_are_stepped_on_and_off(path):
    """p chooses a pedal that a section can switch, P steps the same one again."""
    async with setlist_screen(path) as screen:
        await screen.press("tab", "p")
        pick = screen.app.screen.query_one("#choices")
        shown = [str(pick.get_option_at_index(at).prompt) for at in range(pick.option_count)]
        assert shown == ["Wah   off here: step it on", "fuzz   off here: step it on"]
        await screen.press("down", "enter")
        assert screen.rig.songs[0].sections[0].plus == ("fuzz",)
        await screen.press("down", "P", "P", "P")
        assert screen.rig.songs[0].sections[1].plus == ("fuzz",)
        await screen.press("up", "P")
        assert screen.rig.songs[0].sections[0].plus == ()
        assert any("! 3 moves, 2 on beat: " in line for line in screen.sections())


async def test_no_pedal_to_step_is_said(tmp_path):
    """Where nothing can be stepped on in a section, the key says why."""
    path = written({**DATA, "pedals": [pedal("drive")]}, tmp_path)
    async with setlist_screen(path) as screen:
        before = screen.rig
        await screen.press("tab", "p")
        assert len(screen.app._notifications) == 1
        await screen.press("P")  # the same once more stands once
        assert screen.rig is before
        assert len(screen.app._notifications) == 1


async def test_sections_are_added_edited_copied_moved_and_deleted(path):
    """Each key does its work on the section under the cursor, and the cursor follows."""
    async with setlist_screen(path) as screen:
        await screen.press("tab", "a", "type: Verse", "tab", "type: 16", "tab", "right", "enter")
        assert names(screen) == ["Intro", "Verse", "Solo", "End"]
        assert mapped(screen)[1] == "dry"
        assert screen.view.song.section_at == 1
        await screen.press("d")
        assert names(screen) == ["Intro", "Verse", "Verse", "Solo", "End"]
        assert screen.view.song.section_at == 2
        await screen.press("e", "type: Break", "enter", "J")
        assert names(screen) == ["Intro", "Verse", "Solo", "Break", "End"]
        assert screen.view.song.section_at == 3
        await screen.press("K", "K", "K", "K")
        assert names(screen) == ["Break", "Intro", "Verse", "Solo", "End"]
        assert screen.view.song.section_at == 0
        await screen.press("x", "x")
        assert names(screen) == ["Verse", "Solo", "End"]
        await screen.press("A", "type: Bridge 8, Chorus 16", "enter")
        assert names(screen) == ["Verse", "Bridge", "Chorus", "Solo", "End"]
        assert screen.view.song.section_at == 1
        await screen.press(*"uuuuuuuuuu", *"uuu")
        assert names(screen) == ["Intro", "Solo", "End"]


async def test_everything_of_a_section_is_in_its_form(path):
    """The form of a section changes what was typed, and says what is wrong with it."""
    async with setlist_screen(path) as screen:
        await screen.press("tab", "e", "tab", "backspace", "type: 0", "enter")
        assert str(screen.app.screen.query_one("#fault").render()).startswith("bars: must be more")
        await screen.press("type: 7.5", "home", "delete", "tab", "tab", "type: palm mute", "tab")
        await screen.press("type: 4", "tab", "type: neck", "tab", "type: 90", "tab", "type: 3/4")
        await screen.press("tab", "type: 1/8", "tab", "type: 2", "tab", "type: go", "tab")
        await screen.press("type: a nod", "enter")
        edited = screen.rig.songs[0].sections[0]
        assert edited.model_dump(exclude_unset=True) == {
            "name": "Intro",
            "bars": 7.5,
            "preset": "dry",
            "hands": "palm mute",
            "guitar_volume": 4,
            "pickup": "neck",
            "tempo": 90,
            "meter": "3/4",
            "beat": "1/8",
            "rest_beats": 2,
            "cue": "go",
            "until": "a nod",
        }
        assert "7.5? " in screen.sections()[3]
        before = screen.rig
        await screen.press("e", "enter")
        assert screen.rig is before


async def test_bars_and_guitar_volume_by_key(path):
    """Plus and minus change the bars, brackets the guitar's volume; something is always left."""
    async with setlist_screen(path) as screen:
        await screen.press("tab", "down", "plus", "plus", "minus")
        assert screen.rig.songs[0].sections[1].bars == 5
        await screen.press(*["minus"] * 6)
        assert screen.rig.songs[0].sections[1].bars == 1
        await screen.press("left_square_bracket")
        assert screen.rig.songs[0].sections[1].guitar_volume == 7
        await screen.press(*["right_square_bracket"] * 4)
        assert screen.rig.songs[0].sections[1].guitar_volume is None


async def test_the_edges_lead_to_the_other_side(path):
    """Walking over the edge of a side goes to the other; tab does so from anywhere."""
    async with setlist_screen(path) as screen:
        await screen.press("right")
        assert screen.view.song.grid.has_focus
        await screen.press("right", "left", "left")
        assert screen.view.songs.grid.has_focus
        await screen.press("left", "enter")
        assert screen.view.song.grid.has_focus
        await screen.press("right", "tab", "tab")
        assert screen.view.song.grid.has_focus
        assert screen.view.song.preset.id == "lead"
        await screen.press("2", "3")
        assert screen.view.song.grid.has_focus
        assert screen.view.song.has_class("-here")
        assert not screen.view.songs.has_class("-here")


async def test_a_key_right_behind_tab_reaches_the_other_side(path):
    """However fast a key follows tab, it does what it does on the other side."""
    async with setlist_screen(path) as screen:
        for key in ("tab", "d"):
            screen.app.simulate_key(key)
        await screen.press()
        assert names(screen) == ["Intro", "Intro", "Solo", "End"]


async def test_cursors_survive_undo_and_other_songs(path):
    """Section and preset under the cursor stay through edits, undo, and a look at another song."""
    async with setlist_screen(path) as screen:
        await screen.press("tab", "down", "down", "right", "space", "plus", "u", "u", "r")
        assert screen.view.song.section_at == 2
        assert screen.view.song.preset.id == "lead"
        await screen.press("tab", "down", "up", "tab")
        assert screen.view.song.section_at == 2


async def test_a_song_without_sections_says_what_to_press(path):
    """An empty song takes keys without harm and says how to add sections."""
    async with setlist_screen(path) as screen:
        await screen.press("down", "tab")
        assert "press w to write them in one line" in screen.sections()[2]
        before = screen.rig
        await screen.press(
            "space", "enter", "m", "p", "P", "e", "d", "x", "K", "J", "plus", "minus"
        )
        assert screen.rig is before
        await screen.press("A", "type: Intro 4", "enter", "enter")
        assert screen.rig.songs[1].sections[0].preset == "dry"


async def test_a_rig_without_presets_can_still_hold_songs(tmp_path):
    """Without presets nothing can be mapped, and everything else works."""
    path = written(make_data(songs=[song("a", section(), section())]), tmp_path)
    async with setlist_screen(path) as screen:
        await screen.press("tab", "space", "enter", "m", "down", "d")
        assert len(screen.rig.songs[0].sections) == 3


async def test_a_rig_of_nothing_gets_its_first_song(tmp_path):
    """An empty rig says what to press, and a first song needs no setlist."""
    async with setlist_screen(written(make_data(), tmp_path)) as screen:
        assert "press a" in screen.songs()[1]
        assert "to paste a list." in screen.songs()[2]
        await screen.press("tab", "tab", "n", "x", "e", "d", "J", "enter", "space")
        await screen.press("a", "enter", "type: Elm", "tab", "type: 99", "enter")
        assert screen.rig.songs[0].id == "elm"
        await screen.press("u")
        assert screen.songs()[1].startswith("No songs")


@pytest.mark.parametrize("size", SIZES)
async def test_the_side_that_has_the_keys_is_marked_in_text(path, size):
    """The title of the pane with the keys has a mark before it, the other one has none."""
    async with setlist_screen(path, size) as screen:

        def titles():
            panes = (screen.view.songs, screen.view.song)
            return [str(pane.query_one(".pane--title").render())[:2] for pane in panes]

        assert titles() == ["> ", "  "]
        await screen.press("tab")
        assert titles() == ["  ", "> "]


@pytest.mark.parametrize(
    ("where", "in_song"), [("songs.a.sections.1", True), ("songs.bare", False)]
)
async def test_the_side_that_was_led_to_keeps_the_keys(path, where, in_song):
    """Left and come back to, the view has the keys where it was led to, on the same row."""
    async with setlist_screen(path) as screen:
        await screen.press("4")
        await screen.app.go_to(where)
        await screen.press("2", "3", "4", "3")
        grid = screen.view.song.grid if in_song else screen.view.songs.grid
        assert screen.app.focused is grid
        assert screen.view.song.live is in_song
        if in_song:
            assert screen.view.song.section_at == 1


async def test_a_song_added_again_starts_at_its_first_section(path):
    """A song that is put into a set anew is shown from its start, not where the cursor once was."""
    async with setlist_screen(path) as screen:
        await screen.press("tab", "down", "down", "tab", "x", "x", "a", "type: alder", "enter")
        assert screen.view.songs.song.id == "a"
        assert screen.view.song.section_at == 0


async def test_a_section_is_read_in_full(tmp_path):
    """Where the words of a section are cut, they say so, and i shows all of them."""
    solo = section("lead", name="Solo", hands="with the thumb over the neck", pickup="bridge")
    data = {**DATA, "songs": [song("a", {**solo, "bars": 1, "plus": ["wah"], "tempo": 240})]}
    data["songs"][0]["sections"].insert(0, section("dry", name="Verse", plus=["fuzz"]))
    data["setlists"] = []
    async with setlist_screen(written(data, tmp_path)) as screen:
        await screen.checked()
        await screen.press("tab", "down")
        assert "(i: all of it)" in screen.words()
        await screen.press("i")
        text = " ".join(str(screen.app.screen.query("Static").first().render()).split())
        assert "Solo (2 of 2)" in text
        assert "+Wah; t: tempo 240; h: bridge pickup, with the thumb over the neck" in text
        findings = [
            finding
            for finding in screen.app.reckoning.findings
            if finding.where == "songs.a.sections.1"
        ]
        assert findings
        assert all(" ".join(finding.message.split()) in text for finding in findings)
        await screen.press("escape", "tab", "i")
        assert len(screen.app.screen_stack) == 2
