"""A song edited by its line: what the line does not say stays with the sections that stay."""

from __future__ import annotations

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import make_rig, preset, section, song, switcher

from rigtui.model import EditError
from rigtui.model.edits import add_line, set_song_line, song_line, waive
from rigtui.model.song_line import line_of, part_of

PRESETS = [preset("clean", memory=1), preset("crunch", memory=2), preset("lead", memory=3)]


def a_rig():
    """A song with a note of some kind on every section."""
    return make_rig(
        switcher=switcher(),
        presets=PRESETS,
        songs=[
            song(
                "one",
                section("clean", name="Intro", cue="four clicks"),
                section("clean", name="Verse 1", hands="palm mute"),
                section("crunch", name="Chorus 1", rest_beats=2),
                section("clean", name="Verse 2", pickup="neck", preset_hands="soft"),
                section("crunch", name="Chorus 2", until="the nod"),
            )
        ],
    )


def names(rig):
    """The sections of its song by name."""
    return [row.name for row in rig.songs[0].sections]


def test_the_line_of_a_song_put_back_changes_nothing():
    """An edit that changes nothing is none: the very same sections come back."""
    rig = a_rig()
    assert set_song_line(rig, "one", song_line(rig.songs[0])) == rig


def test_what_the_line_does_not_say_stays():
    """A chorus is put in and one bar count changed: every section keeps its notes."""
    rig = a_rig()
    line = "Intro 4 clean, Verse 16 clean, Chorus 8 crunch, Chorus, Verse, Chorus 12, Solo 8 lead"
    new = set_song_line(rig, "one", line)
    rows = new.songs[0].sections
    assert names(new) == [
        "Intro", "Verse 1", "Chorus 1", "Chorus 2", "Verse 2", "Chorus 3", "Solo",
    ]  # fmt: skip
    assert rows[0].cue == "four clicks"
    assert rows[1].hands == "palm mute"
    assert (rows[2].rest_beats, rows[3].rest_beats) == (2, 0)
    assert (rows[4].pickup, rows[4].preset_hands) == ("neck", "soft")
    assert (rows[5].until, rows[5].bars) == ("the nod", 12)
    assert rows[6].preset == "lead"


def test_a_section_that_goes_elsewhere_takes_its_notes_along():
    """The intro played last is still the intro."""
    new = set_song_line(a_rig(), "one", "Verse 16 clean, Chorus 8 crunch, Intro 4 clean")
    assert names(new) == ["Verse", "Chorus", "Intro"]
    assert [row.hands or row.cue or row.rest_beats for row in new.songs[0].sections] == [
        "palm mute", 2, "four clicks",
    ]  # fmt: skip


def test_what_a_section_said_of_its_preset_goes_with_the_preset():
    """As with any other way of mapping a section to another preset."""
    rig = a_rig()
    new = set_song_line(
        rig, "one", "Intro 8 clean, Verse 8, Chorus 8 crunch, Verse 8 lead, Chorus 8"
    )
    assert new.songs[0].sections[3].preset_hands == ""
    assert new.songs[0].sections[3].pickup == "neck"


def test_waivers_follow_their_sections():
    """A waiver of the second chorus is of the third when one is put in before it."""
    rig = waive(a_rig(), "late-change", "songs.one.sections.4", "we wait")
    rig = waive(rig, "late-change", "songs.one.sections.0", "no hurry")
    new = set_song_line(rig, "one", "Verse 8 clean, Chorus 8 crunch, Break 4, Verse, Chorus")
    assert [waiver.where for waiver in new.waivers] == ["songs.one.sections.4"]


def test_a_preset_that_the_rig_does_not_have_stays():
    """A mapping that is a finding is no fault of the line."""
    rig = make_rig(
        switcher=switcher(), presets=PRESETS, songs=[song("one", section("gone", name="A"))]
    )
    line = song_line(rig.songs[0])
    assert set_song_line(rig, "one", line + ", B 4 gone").songs[0].sections[1].preset == "gone"


def test_a_line_put_between_sections():
    """Those around it stay as they are."""
    new = add_line(a_rig(), "one", "Solo 16 lead", 3)
    assert names(new) == ["Intro", "Verse 1", "Chorus 1", "Solo", "Verse 2", "Chorus 2"]


def test_a_line_that_is_wrong_changes_nothing():
    """The fault says where."""
    with pytest.raises(EditError, match="column 7"):
        set_song_line(a_rig(), "one", "Intro 0")


ROWS = st.builds(
    lambda name, preset, bars, cue: section(preset, name=name, bars=bars, cue=cue),
    st.sampled_from(["Verse 1", "Verse 2", "Verse", "Chorus", "Chorus 1", "x\x1b", "A, B"]),
    st.sampled_from(["clean", "crunch"]),
    st.integers(1, 9),
    st.text("abc", max_size=3),
)


@examples(50)
@given(st.lists(ROWS, max_size=7), st.permutations(range(7)))
def test_no_note_is_lost_by_reordering(rows, order):
    """Sections written in another order keep what the line does not say, each once."""
    rig = make_rig(switcher=switcher(), presets=PRESETS, songs=[song("one", *rows)])
    assert set_song_line(rig, "one", song_line(rig.songs[0])) == rig
    old = rig.songs[0].sections
    moved = [part_of(old[at]) for at in order if at < len(old)]
    new = set_song_line(rig, "one", line_of(moved)).songs[0].sections
    assert sorted(row.cue for row in new) == sorted(row.cue for row in old)
