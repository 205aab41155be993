"""Lines of sections, short names, moves between rows, and the evening as a list."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.checks import Finding
from rigtui.model.text import clock_time
from rigtui.moves import Press
from rigtui.tui.views.setlist.running_order import OrderPlace, RunningOrder, marks_of
from rigtui.tui.views.setlist.song_rows import more_letters, more_words, short_names, song_rows
from rigtui.tui.widgets.spill import side_by_side


def test_short_names_tell_presets_apart():
    """A short name keeps what fits, and of two that would be the same one gives way."""
    names = ["Rock", "Clean Wide", "Crunch Wide", "Clean Chop", "Crunch", "Crunchier", "AB"]
    assert short_names(names, 3) == ["Roc", "CWi", "CrW", "CCh", "Cru", "Crn", "AB"]
    assert short_names(names, 12) == names


@given(st.lists(st.text(max_size=12), max_size=12), st.integers(3, 8))
def test_short_names_never_take_more_room(names, width):
    """No short name is longer than it may be, whatever the names are."""
    assert all(len(short) <= width for short in short_names(names, width))


BOARD = {
    "switcher": switcher(),
    "pedals": [pedal("wah", "wah"), pedal("drive"), pedal("verb")],
    "loops": [loop(1, "drive"), loop(2, "verb")],
    "presets": [
        preset("dry", memory=1, name="Dry"),
        preset("lead", 1, 2, memory=7, name="Lead"),
        preset("loose", 2, name="Loose"),
    ],
}


def notes(*sections, **more):
    """The lines between the sections of a song."""
    rig = make_rig(**BOARD, songs=[song("one", *sections)], **more)
    shown = song_rows(rig, rig.songs[0], 80, {}, None)
    return [row.note for row in shown.rows if row.note is not None]


@pytest.mark.parametrize(
    ("after", "line"),
    [
        (section("lead"), "    2 moves, 1 on the beat: bank up ahead of time, switch 3 (Lead)"),
        (section("dry", plus=["wah"]), "    1 move: wah on"),
        (
            section("lead", plus=["wah"]),
            "  ! 3 moves, 2 on the beat: bank up ahead of time, switch 3 (Lead), wah on",
        ),
        (
            section(
                "lead", plus=["wah"], rest_beats=2
            ),  # nobody hears what is switched in the rest
            " E! 3 moves, 2 on the beat: bank up ahead of time, switch 3 (Lead), wah on",
        ),
    ],
)
def test_moves_are_told_between_the_rows(after, line):
    """Between two sections stands how many moves, how many on the beat, which, and if too many."""
    assert notes("dry", after) == [line]


@pytest.mark.parametrize(
    ("after", "line"),
    [
        (section("loose"), "    1 move: recall Loose (not stored yet)"),
        (
            section("loose", plus=["wah"]),
            "  ! 2 moves on the beat: recall Loose (not stored yet), wah on",
        ),
    ],
)
def test_a_section_that_cannot_be_played_says_so_below_it(after, line):
    """What no memory holds, and what is stored nearest, stands under the section."""
    cannot = "    Can't be played: Loose is in no memory. Nearest is Dry, without verb"
    assert notes("dry", after) == [line, cannot]


@pytest.mark.parametrize(
    ("width", "lines"),
    [
        (74, ["  ! 3 moves, 2 on the beat: bank up ahead of time, switch 3 (Lead), wah on"]),
        (70, ["  ! 3 moves, 2 on beat: bank up ahead of time, switch 3 (Lead), wah on"]),
        (58, ["  ! 3 moves, 2 on beat: bank up ahead, sw 3 Lead, wah on"]),
        (46, ["  ! 3 moves, 2 on beat: bank up, sw 3, wah on"]),
        (40, ["  ! 3 moves, 2 on beat: bank up ahead,", "      sw 3 Lead, wah on"]),
    ],
)
def test_a_narrow_line_drops_words_before_presses(width, lines):
    """Whatever the room, every press is told: shorter words, then no names, then a second line."""
    rig = make_rig(**BOARD, songs=[song("one", "dry", section("lead", plus=["wah"]))])
    shown = song_rows(rig, rig.songs[0], width, {}, None).rows
    assert [row.note for row in shown if row.note is not None] == lines
    assert all(row.look == "grid--warn" for row in shown if row.note is not None)


@given(st.integers(30, 120))
def test_presses_are_told_at_any_width(width):
    """The set-up line and the change line hold all that goes on or off, within the room."""
    rig = make_rig(**BOARD, songs=[song("one", "dry", section("lead", plus=["wah"]))])
    shown = song_rows(rig, rig.songs[0], width, {}, (Press("switch", 1),))
    told = " ".join(" ".join(row.note or "" for row in shown.rows).split())
    assert all(words in told for words in ("set-up, 1 move: sw", "bank up", "sw", "wah on"))
    assert all(len(row.note or "") <= width for row in shown.rows)
    assert [shown.rows[at].note for at in shown.section_rows] == [None, None]


def test_a_blank_stays_between_name_and_marks():
    """A long preset name does not run into the marks behind it, nor those into the presets."""
    board = {**BOARD, "presets": [preset("dry", name="Dry as a long dry bone")]}
    marked = section("dry", plus=["wah"], minus=["drive"], hands="x", tempo=90)
    rig = make_rig(**board, songs=[song("one", marked)])
    for width in (54, 94):
        shown = song_rows(rig, rig.songs[0], width, {}, None)
        widths = [column.width for column in shown.columns]
        aligns = [column.align for column in shown.columns]
        drawn = side_by_side(shown.rows[0].cells, widths, aligns, sum(widths))
        assert all(drawn[at].endswith(" ") for at in (2, 3))
        assert drawn[3].startswith("+")


def test_a_change_without_moves_has_no_line():
    """Nothing stands between two sections that ask nothing of the feet."""
    assert notes("dry", "dry", section()) == []


def test_the_player_says_how_many_moves_are_too_many():
    """A change is crowded only above the number of moves on the beat that the player allows."""
    after = section("lead", plus=["wah"])
    assert notes("dry", after, player={"moves_allowed": 2})[0].startswith("    3 moves, 2 on")


@pytest.mark.parametrize(
    ("keys", "letters", "words"),
    [
        ({}, "", ""),
        ({"plus": ["wah"]}, "+wah", "+wah"),
        ({"plus": ["wah"], "hands": "x"}, "+h", "+wah hands"),
        ({"plus": ["verb"]}, "+", "+verb"),
        ({"minus": ["wah"], "tempo": 90}, "-t", "-wah 90"),
        ({"meter": "3/4", "beat": "1/8"}, "t", "3/4 1/8=1"),
        ({"guitar_volume": 0}, "h", "hands"),
    ],
)
def test_what_a_section_has_besides_is_marked(keys, letters, words):
    """Pedals, tempo and hands of a section are marked in letters, or in words with room."""
    rig = make_rig(**BOARD, songs=[song("one", section("dry", **keys))])
    marked = rig.songs[0].sections[0]
    assert (more_letters(marked), more_words(marked)) == (letters, words)


def test_an_unmapped_and_an_unknown_preset_are_told_in_words():
    """A section without a preset says so, and one that names none of the file shows the name."""
    rig = make_rig(**BOARD, songs=[song("one", section(), section("gone"))])
    shown = song_rows(rig, rig.songs[0], 80, {}, None).rows
    assert [row.cells[2].strip() for row in shown] == ["unmapped", '"gone"?']
    assert all(set(row.cells[4:]) == {"."} for row in shown)


EVENING = {
    **BOARD,
    "songs": [song("a", "dry", "lead"), song("b", "lead", "dry"), song("spare", "dry")],
    "setlists": [
        {
            "id": "gig",
            "sets": [{"name": "One", "songs": ["a", "gone", "b"]}, {"songs": ["a"]}],
        }
    ],
}


def test_an_evening_is_a_list_of_places():
    """The evening, its sets and its songs follow each other, songs that do not exist included."""
    evening = RunningOrder(make_rig(**EVENING), "gig")
    assert evening.places == (
        OrderPlace("setlist"),
        OrderPlace("set", 0),
        OrderPlace("song", 0, 0, "a"),
        OrderPlace("song", 0, 1, "gone"),
        OrderPlace("song", 0, 2, "b"),
        OrderPlace("set", 1),
        OrderPlace("song", 1, 0, "a"),
    )


def test_set_up_moves_belong_to_a_place():
    """A song played twice is set up each time from what was played before it."""
    evening = RunningOrder(make_rig(**EVENING), "gig")
    places = evening.places
    assert evening.set_up(places[2]) == (Press("switch", 1),)
    assert evening.set_up(places[4]) == ()
    assert evening.set_up(places[6]) == ()
    assert evening.set_up(places[3]) is None
    assert RunningOrder(make_rig(**EVENING), None).set_up(OrderPlace("song", -1, 0, "a")) is None


@pytest.mark.parametrize(
    ("place", "near", "row"),
    [
        (OrderPlace("song", 1, 0, "a"), 0, 6),
        (OrderPlace("song", 0, 5, "a"), 5, 6),
        (OrderPlace("song", 0, 5, "a"), 3, 2),
        (OrderPlace("song", 0, 5, "never"), 4, 4),
        (OrderPlace("set", 7), 99, 6),
    ],
)
def test_the_cursor_finds_its_song_again(place, near, row):
    """A place that is no more gives way to its song nearby, else to the row nearby."""
    assert RunningOrder(make_rig(**EVENING), "gig").row_of(place, near) == row


def test_all_songs_stand_in_where_no_setlist_is_at_hand():
    """Without a setlist the list is the songs of the file, with how often each is played."""
    evening = RunningOrder(make_rig(**EVENING), None)
    assert [place.song_id for place in evening.places] == ["a", "b", "spare"]
    assert [evening.plays[song_id] for song_id in ("a", "b", "spare")] == [2, 1, 0]
    assert RunningOrder(make_rig(**EVENING), "gig").figures(["a", "gone", "a"])[:2] == (4, 4)


@pytest.mark.parametrize(
    ("seconds", "text"), [(0, "0:00"), (59.6, "1:00"), (221.695, "3:42"), (7325, "122:05")]
)
def test_time_is_told_in_minutes(seconds, text):
    """Seconds are told as minutes and seconds, rounded."""
    assert clock_time(seconds) == text


def finding(severity, where, waived=None):
    """A finding of which only weight and place matter."""
    return Finding("rule", severity, where, "message", "why", None, waived)


def test_marks_tell_the_worst_of_a_song_and_of_a_section():
    """Errors outweigh warnings; advice, waived findings and other tables leave no mark."""
    marks = marks_of(
        [
            finding("warning", "songs.a.sections.1"),
            finding("error", "songs.a.sections.2.plus"),
            finding("warning", "songs.a.sections.2"),
            finding("advice", "songs.b"),
            finding("error", "songs.c", "as it should be"),
            finding("error", "presets.a"),
            finding("warning", "songs.d"),
        ]
    )
    assert marks == {
        "songs.a": "X",
        "songs.a.sections.1": "!",
        "songs.a.sections.2": "X",
        "songs.d": "!",
    }


def test_setlists_of_nothing_are_shown():
    """A rig without songs or setlists, and a setlist without sets, are lists too."""
    assert RunningOrder(make_rig(), None).places == ()
    rig = make_rig(setlists=[setlist("x") | {"sets": []}])
    assert RunningOrder(rig, "x").places == (OrderPlace("setlist"),)
