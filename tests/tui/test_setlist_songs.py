"""The list of the setlist screen: adding, editing, copying, moving and taking away."""

from __future__ import annotations

from datetime import date

import pytest
from rigs_made import loop, make_data, pedal, preset, section, song, switcher
from screens import lines as drawn
from tui.setlist_screen import DEMOS, SIZES, setlist_screen, written

DATA = make_data(
    switcher=switcher(),
    pedals=[pedal("wah", "wah"), pedal("drive")],
    loops=[loop(1, "drive")],
    presets=[preset("dry", memory=1, name="Dry"), preset("lead", 1, memory=5, name="Lead")],
    songs=[
        song("a", "dry", "lead", title="Alder"),
        song("b", "lead", "dry", title="Birch"),
        song("c", "dry", section("dry", plus=["wah"]), title="Cedar"),
        song("d", "dry", title="Damson"),
    ],
    setlists=[
        {
            "id": "gig",
            "name": "Gig",
            "sets": [{"name": "One", "songs": ["a", "b"]}, {"name": "Two", "songs": ["a", "c"]}],
        },
        {"id": "late", "name": "Late", "sets": [{"name": "Only", "songs": ["d"]}]},
    ],
)


@pytest.fixture
def path(tmp_path):
    """A file with two setlists."""
    return written(DATA, tmp_path)


def order(screen, at=0):
    """The songs of a setlist, set by set."""
    return [list(part.songs) for part in screen.rig.setlists[at].sets]


@pytest.mark.parametrize("size", SIZES)
async def test_the_list_shows_sets_songs_and_moves(path, size):
    """The evening, its sets and its songs stand in a column with their moves, totals above."""
    async with setlist_screen(path, size) as screen:
        shown = [" ".join(line.split()[:3]) for line in screen.songs()[:8]]
        assert shown[0].startswith("setlist 1 of")
        assert [
            " ".join(line.split()[:3]) for line in screen.songs()[3:8] if "Two" not in line
        ] == [
            "1 Alder 2",
            "2 Birch 2",
            "1 Alder 2",
            "2 Cedar 1",
        ]
        assert [screen.songs()[at].split()[:2] for at in (1, 2, 5)] == [
            ["Evening", "7"],
            ["One", "4"],
            ["Two", "3"],
        ]
        assert "extra" not in screen.songs()[0]  # nothing is: the column goes
        assert "time" in screen.songs()[0]  # titles are short: there is room
        head = str(screen.view.songs.query(".pane--figures").first().render())
        assert "7 moves (least 7)" in head
        assert "set-up move" in head
        assert screen.at() == "Alder"


async def test_repeats_of_a_song_are_rows_of_their_own(path):
    """The cursor stands on the second playing of a song, and an edit leaves it there."""
    async with setlist_screen(path) as screen:
        await screen.press("G", "up")
        assert screen.view.songs.place == ("song", 1, 0, "a")
        await screen.press("tab", "right", "space")
        assert screen.rig.songs[0].sections[0].preset == "lead"
        assert screen.view.songs.place == ("song", 1, 0, "a")
        await screen.press("u")
        assert screen.view.songs.place == ("song", 1, 0, "a")


async def test_a_known_song_goes_behind_the_cursor(path):
    """Choosing a song of the file puts it behind the one under the cursor, cursor with it."""
    async with setlist_screen(path) as screen:
        await screen.press("a", "type: dam", "enter")
        assert order(screen) == [["a", "d", "b"], ["a", "c"]]
        assert screen.at() == "Damson"
        await screen.press("u")
        assert order(screen) == [["a", "b"], ["a", "c"]]


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        (("g",), [["a", "b"], ["a", "c", "d"]]),
        (("g", "down"), [["a", "b", "d"], ["a", "c"]]),
        (("G",), [["a", "b"], ["a", "c", "d"]]),
    ],
)
async def test_a_song_added_on_a_heading_goes_to_its_end(path, keys, expected):
    """On the evening a song goes to its end, on a set to the end of that set."""
    async with setlist_screen(path) as screen:
        await screen.press(*keys, "a", "type: dam", "enter")
        assert order(screen) == expected
        assert screen.at() == "Damson"


async def test_a_new_set_and_a_new_setlist(path):
    """A new set stands at the end, and a new setlist comes to hand with a set to fill."""
    async with setlist_screen(path) as screen:
        await screen.press(
            "a", "type: new set.", "enter", "type: Three", "tab", "type: 30", "enter"
        )
        assert screen.rig.setlists[0].sets[2].name == "Three"
        assert screen.rig.setlists[0].sets[2].slot_minutes == 30
        assert screen.at() == "Three"
        await screen.press("a", "type: setlist.", "enter", "type: Dawn", "tab")
        await screen.press("type: 2027-05-01", "enter")
        assert screen.rig.setlists[-1].name == "Dawn"
        assert screen.rig.setlists[-1].date == date(2027, 5, 1)
        assert screen.app.setlist_id == "dawn"
        assert screen.totals.startswith("Dawn: 0 moves")
        await screen.press("a", "type: birch", "enter")
        assert order(screen, -1) == [["b"]]
        await screen.press("u", "u")
        assert screen.app.setlist_id == "gig"


async def test_a_setlist_without_sets_gets_one_with_its_first_song(tmp_path):
    """Adding a song to a setlist that has no sets makes a first set in the same step."""
    path = written({**DATA, "setlists": [{"id": "bare"}]}, tmp_path)
    async with setlist_screen(path) as screen:
        await screen.press("a", "type: cedar", "enter")
        assert order(screen) == [["c"]]
        assert screen.at() == "Cedar"
        await screen.press("u")
        assert order(screen) == []


async def test_wrong_figures_keep_the_form_open(path):
    """A form that is not right says so and stays; nothing has changed until it is."""
    async with setlist_screen(path) as screen:
        before = screen.rig
        await screen.press("a", "enter", "enter")
        faults = []
        for keys in (
            ("type: Elm", "enter"),
            ("type: fast", "enter"),
            ("home", "ctrl+k", "type: -1", "enter"),
            ("home", "ctrl+k", "type: 90", "tab", "home", "ctrl+k", "type: 4/5", "enter"),
            ("home", "ctrl+k", "type: 6/8", "tab", "type: Intro", "enter"),
        ):
            faults.append(str(screen.app.screen.query_one("#fault").render()))
            await screen.press(*keys)
        faults.append(str(screen.app.screen.query_one("#fault").render()))
        assert screen.rig is before
        assert faults[0] == "a song needs a title"
        assert faults[1] == "tempo is missing"
        assert faults[2] == "tempo must be a number, not fast"
        assert faults[3].startswith("tempo")
        assert faults[4].startswith("meter: must have")
        assert faults[5].startswith("sections, column 1: Intro is new")
        await screen.press("end", "type:  8", "enter")
        assert "what does 90 count in 6/8?" in str(screen.app.screen.query_one("#fault").render())
        await screen.press("type: 3/8", "enter")
        new = screen.rig.songs[-1]
        assert (new.title, new.tempo, new.meter, new.sections[0].bars) == ("Elm", 90, "6/8", 8)


async def test_a_song_is_edited(path):
    """The form of a song changes what was typed and leaves everything else alone."""
    async with setlist_screen(path) as screen:
        await screen.press("e", "type: Aspen", *["tab"] * 4, "type: baritone", "tab", "tab")
        await screen.press("type: 3", "enter")
        new = screen.rig.songs[0]
        assert (new.id, new.title, new.guitar, new.capo) == ("a", "Aspen", "baritone", 3)
        assert new.model_fields_set == {"id", "title", "tempo", "sections", "guitar", "capo"}
        assert screen.at() == "Aspen"


async def test_a_set_and_a_setlist_are_edited_on_their_rows(path):
    """On a heading the same key edits the set, and on the first row the setlist."""
    async with setlist_screen(path) as screen:
        await screen.press("g", "e", "type: Fair", "tab", "type: soon", "enter")
        fault = str(screen.app.screen.query_one("#fault").render())
        assert fault.startswith("date must be a day such as 2027-03-05, 5 Mar 2027 or")
        assert fault.endswith("not soon")
        await screen.press("home", "ctrl+k", "type: 1 June 2027")
        assert "Tuesday 1 June 2027" in "\n".join(drawn(screen.app))
        await screen.press("enter")
        assert (screen.rig.setlists[0].name, screen.rig.setlists[0].date) == (
            "Fair",
            date(2027, 6, 1),
        )
        await screen.press("down", "enter", "type: Early", "enter")
        assert screen.rig.setlists[0].sets[0].name == "Early"


async def test_a_copy_stands_behind_and_is_a_song_of_its_own(path):
    """Copying a song plays a new song behind it; a set and a setlist are copied on their rows."""
    async with setlist_screen(path) as screen:
        await screen.press("d")
        assert order(screen)[0] == ["a", "alder-copy", "b"]
        assert screen.at() == "Alder copy"
        await screen.press("g", "down", "d")
        assert order(screen)[1] == order(screen)[0]
        assert screen.view.songs.place == ("set", 1, -1, "")
        await screen.press("g", "d")
        assert screen.app.setlist_id == "gig-copy"
        assert [setlist.id for setlist in screen.rig.setlists] == ["gig", "gig-copy", "late"]


async def test_taking_a_song_out_asks_whether_it_stays_in_the_file(path):
    """A song leaves its set, or the file with all its places; Esc leaves it alone."""
    async with setlist_screen(path) as screen:
        await screen.press("x", "escape")
        assert order(screen) == [["a", "b"], ["a", "c"]]
        await screen.press("x", "x")
        assert order(screen) == [["b"], ["a", "c"]]
        assert screen.at() == "Alder"
        await screen.press("u", "g", "down", "down", "x", "f")
        assert order(screen) == [["b"], ["c"]]
        assert [song.id for song in screen.rig.songs] == ["b", "c", "d"]
        await screen.press("u")
        assert order(screen) == [["a", "b"], ["a", "c"]]


async def test_sets_and_setlists_are_deleted_after_a_question(path):
    """A set or setlist with songs is deleted only after a yes; its songs stay in the file."""
    async with setlist_screen(path) as screen:
        await screen.press("g", "down", "x", "x")
        assert order(screen) == [["a", "c"]]
        await screen.press("g", "x", "x")
        assert [setlist.id for setlist in screen.rig.setlists] == ["late"]
        assert screen.totals.startswith("Late")
        assert len(screen.rig.songs) == 4


async def test_songs_move_over_the_ends_of_sets(path):
    """A song moved beyond its set goes on into the next one, the cursor with it."""
    async with setlist_screen(path) as screen:
        await screen.press("J")
        assert order(screen) == [["b", "a"], ["a", "c"]]
        await screen.press("shift+down", "shift+down", "shift+down")
        assert order(screen) == [["b"], ["a", "c", "a"]]
        assert screen.view.songs.place == ("song", 1, 2, "a")
        await screen.press("shift+up", "shift+up", "shift+up")
        assert order(screen) == [["b", "a"], ["a", "c"]]
        assert screen.view.songs.place == ("song", 0, 1, "a")
        await screen.press("G", "J", "J")
        assert order(screen) == [["b", "a"], ["a", "c"]]
        await screen.press("g", "down", "J")
        assert order(screen) == [["a", "c"], ["b", "a"]]
        assert screen.view.songs.place == ("set", 1, -1, "")


async def test_setlists_and_all_songs_take_turns(path):
    """n goes to the next setlist, after the last to all songs, and round; N goes back."""
    async with setlist_screen(path) as screen:
        await screen.press("n")
        assert (screen.app.setlist_id, screen.totals[:4]) == ("late", "Late")
        await screen.press("n")
        assert screen.app.setlist_id is None
        assert screen.totals == "all songs: 5 moves (least 5)"
        assert [line.split()[0] for line in screen.songs()[1:5]] == [
            "Alder",
            "Birch",
            "Cedar",
            "Damson",
        ]
        await screen.press("n", "N")
        assert screen.app.setlist_id is None
        await screen.press("g", "J")
        assert [song.id for song in screen.rig.songs] == ["b", "a", "c", "d"]
        await screen.press("d", "x", "x")
        assert [song.id for song in screen.rig.songs] == ["b", "a", "c", "d"]
        await screen.press("a", "enter", "type: Elm", "tab", "type: 99", "enter")
        assert screen.rig.songs[-1].id == "elm"
        assert screen.at() == "Elm"
        assert screen.view.song.grid.has_focus


async def test_a_song_that_is_not_in_the_file_is_shown_and_taken_out(tmp_path):
    """A set may name a song that does not exist: it is marked, and x takes it out at once."""
    setlists = [{"id": "gig", "sets": [{"songs": ["gone", "a"]}]}]
    path = written({**DATA, "setlists": setlists}, tmp_path)
    async with setlist_screen(path) as screen:
        await screen.press("g", "down", "down")
        assert screen.songs()[3].startswith('X 1 "gone"')
        await screen.press("e", "d", "enter", "J", "K", "x")
        assert order(screen) == [["a"]]


async def test_the_overview_tells_how_songs_are_set_up(path):
    """On a set or the evening the right side lists its songs with the presses before each."""
    async with setlist_screen(path) as screen:
        await screen.press("g")
        rows = screen.view.overview.grid.rows
        assert [tuple(cell.strip() for cell in row.cells) for row in rows] == [
            ("Alder", "2", "1: switch 1 (Dry)"),
            ("Birch", "2", "-"),
            ("Alder", "2", "-"),
            ("Cedar", "1", "2: bank up, switch 1 (Dry)"),
        ]
        await screen.press("tab", "down", "down", "enter")
        assert screen.view.songs.place == ("song", 1, 0, "a")
        assert screen.view.songs.grid.has_focus


@pytest.mark.parametrize(
    ("where", "setlist_id", "place", "section_at"),
    [
        ("songs.b", "gig", ("song", 0, 1, "b"), None),
        ("songs.c.sections.1", "gig", ("song", 1, 1, "c"), 1),
        ("songs.d", "late", ("song", 0, 0, "d"), None),
        ("songs.c.sections.9.plus", "gig", ("song", 1, 1, "c"), 1),
        ("songs.b.tempo", "gig", ("song", 0, 1, "b"), None),
        ("setlists.late", "late", ("setlist", -1, -1, ""), None),
        ("setlists.gig.sets.1", "gig", ("set", 1, -1, ""), None),
        ("setlists.gig.sets.1.songs.1", "gig", ("song", 1, 1, "c"), None),
        ("setlists.gig.sets.7", "gig", ("setlist", -1, -1, ""), None),
    ],
)
async def test_a_place_is_gone_to(path, where, setlist_id, place, section_at):
    """A song is found in the setlist at hand, else in another; a section takes the keys."""
    async with setlist_screen(path) as screen:
        assert screen.view.go_to(where)
        await screen.press()
        assert (screen.app.setlist_id, screen.view.songs.place) == (setlist_id, place)
        in_song = section_at is not None
        assert screen.view.song.grid.has_focus is in_song
        assert screen.view.songs.grid.has_focus is not in_song
        if in_song:
            assert screen.view.song.section_at == section_at


async def test_a_song_in_no_setlist_is_gone_to_among_all(tmp_path):
    """A song that no setlist plays is found among all songs; what does not exist is not found."""
    path = written({**DATA, "setlists": DATA["setlists"][:1]}, tmp_path)
    async with setlist_screen(path) as screen:
        assert screen.view.go_to("songs.d.sections.0")
        await screen.press()
        assert screen.app.setlist_id is None
        assert screen.at() == "Damson"
        assert not screen.view.go_to("songs.gone")
        assert not screen.view.go_to("setlists.gone")
        assert not screen.view.go_to("presets.dry")


async def test_marks_come_with_the_findings(tmp_path):
    """A song and a section with something the matter get a mark once the checks have spoken."""
    songs = [song("a", "dry", section(name="End"), title="Alder"), song("b", "dry", title="Birch")]
    setlists = [{"id": "gig", "sets": [{"songs": ["a", "b"]}]}]
    path = written({**DATA, "songs": songs, "setlists": setlists}, tmp_path)
    async with setlist_screen(path) as screen:
        await screen.checked()
        await screen.press("tab", "down")
        assert screen.songs()[3].startswith("X 1 Alder")
        assert screen.songs()[4].startswith("  2 Birch")
        assert next(line for line in screen.sections() if "End" in line).startswith("X End")
        assert "error: End (section 2) of Alder" in screen.words()


async def test_clicks_choose_and_enter(path):
    """A click chooses a song, a click on the chosen one goes to its sections."""
    async with setlist_screen(path) as screen:
        await screen.pilot.click("#evening-rows", offset=(3, 4))
        await screen.press()
        assert screen.at() == "Birch"
        await screen.pilot.click("#evening-rows", offset=(3, 4))
        await screen.press()
        assert screen.view.song.grid.has_focus


async def test_text_from_the_file_is_never_markup(tmp_path):
    """Names that look like markup or hold control characters are shown as they stand."""
    rude = "[/] [@click=app.quit]x[/] \x1b[41m"
    data = make_data(
        name=rude,
        switcher=switcher(),
        pedals=[pedal("w", "wah", name=rude)],
        presets=[preset("p", memory=1, name=rude)],
        songs=[song("a", section("p", name=rude, plus=["w"], hands=rude, cue=rude), title=rude)],
        setlists=[
            {"id": "g", "name": rude, "note": rude, "sets": [{"name": rude, "songs": ["a"]}]}
        ],
    )
    async with setlist_screen(written(data, tmp_path)) as screen:
        before = screen.rig
        for keys in (("e",), ("x",), ("a",), ("tab", "e"), ("m",), ("p",), ("a",), ("A",)):
            await screen.press(*keys)
            text = "".join(line.text for line in screen.app.screen._compositor.render_strips())
            assert "\x1b" not in text
            await screen.press("escape")
        await screen.press("tab", "e", "enter", "g", "e", "enter", "down", "e", "enter")
        await screen.press("down", "tab", "e", "enter")
        assert screen.rig == before


async def test_another_song_begins_on_a_preset_of_its_own(tmp_path):
    """Walking the songs, the columns that a song uses are never left out of sight."""
    async with setlist_screen(DEMOS / "quay-street.toml", SIZES[0]) as screen:
        await screen.press("tab", "end")
        pane = screen.app.view.song
        last = pane.preset
        await screen.press("tab", "down")
        assert pane.preset != last
        assert pane.preset.id == pane.song.sections[pane.section_at].preset
