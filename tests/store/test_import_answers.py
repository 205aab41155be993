"""What a source leaves open is asked in one pass; answers go by name, and nothing is guessed."""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import make_rig, preset, section, song

from rigtui.model import Rig
from rigtui.store.importing.answers import FilledDraft, fill
from rigtui.store.importing.chordpro import read_chordpro
from rigtui.store.importing.csv_songs import read_csv
from rigtui.store.importing.draft import Draft, ImportFault
from rigtui.store.importing.into import put_in
from rigtui.store.importing.questions import Answer, answers_of, base_name
from rigtui.store.importing.rig_songs import only, rig_draft

RIG = make_rig(
    presets=[preset("clean", name="Clean"), preset("rock", name="Rock it"), preset("lead")],
    songs=[song("old-one", section("clean"), title="Old One", tempo=90, guitar="main")],
)
SHEET = (
    "{title: Low Fen}\n{tempo: 118}\n{time: 4/4}\n"
    "{sov: Verse 1}\nla\n{eov}\n{soc: Chorus}\nla\n{eoc}\n"
    "{sov: Verse 2}\nla\n{eov}\n{chorus: Last}\n"
)


def answers(**texts: str) -> list[Answer]:
    """Rules as the options give them."""
    return [answer for what, text in texts.items() for answer in answers_of(what, [text])]  # type: ignore[arg-type]


def filled(text: str, rig: Rig = RIG, same: str | None = None, **texts: str) -> FilledDraft:
    """A ChordPro text with answers put to use."""
    return fill(read_chordpro(text, "file"), answers(**texts), rig, same)


def open_in(done: FilledDraft) -> list[tuple[str, str]]:
    """What is still open."""
    return [(question.what, question.words) for question in done.questions]


def sections_of(done: FilledDraft) -> list[tuple[str, float | None, str | None]]:
    """Name, bars and preset of the first song's sections."""
    return [(s.name, s.bars, s.preset) for s in done.draft.songs[0].sections]


def test_everything_open_is_asked_at_once() -> None:
    """Bars and presets of each name; a chorus that comes again is as the one before."""
    assert open_in(filled(SHEET)) == [
        ("bars", "Low Fen, Verse 1: bars"),
        ("map", "Low Fen, Verse 1: preset"),
        ("bars", "Low Fen, Chorus: bars"),
        ("map", "Low Fen, Chorus: preset"),
        ("bars", "Low Fen, Verse 2: bars"),
        ("map", "Low Fen, Verse 2: preset"),
    ]


def test_names_twice_are_asked_once() -> None:
    """With how often they come."""
    done = filled("{tempo: 90}\n{time: 4/4}\n{sov}\nla\n{eov}\n{sov}\nla\n{eov}")
    assert [(question.what, question.times) for question in done.questions] == [
        ("bars", 2), ("map", 2),
    ]  # fmt: skip


def test_a_rule_holds_for_a_name_and_its_numbers() -> None:
    """Every Verse, every Chorus; a chorus that comes again takes the answer of the first one."""
    done = filled(SHEET, bars="Verse=16,chorus=8", map="Verse=clean,Chorus=rock")
    assert done.questions == ()
    assert sections_of(done) == [
        ("Verse 1", 16, "clean"),
        ("Chorus", 8, "rock"),
        ("Verse 2", 16, "clean"),
        ("Last", 8, "rock"),
    ]


def test_the_most_particular_rule_wins() -> None:
    """A song's own before all songs', the whole name before its base, a name before the star."""
    done = filled(SHEET, bars="*=4,Verse=16,Verse 2=12,Last=2", map="*=-,Low Fen/Verse=lead")
    assert sections_of(done) == [
        ("Verse 1", 16, "lead"),
        ("Chorus", 4, None),
        ("Verse 2", 12, "lead"),
        ("Last", 2, None),
    ]
    assert done.questions == ()


@pytest.mark.parametrize(
    ("name", "base"),
    [("Chorus 1", "Chorus"), ("Chorus1", "Chorus"), ("Verse 2b", "Verse"), ("Verse #3", "Verse"),
     ("Solo", "Solo"), ("12", "12"), ("Part 1 of 2", "Part 1 of"), ("A-2", "A"), ("", "")],
)  # fmt: skip
def test_the_base_of_a_name(name: str, base: str) -> None:
    """The number at its end, with what parts it from the name, goes."""
    assert base_name(name) == base


@pytest.mark.parametrize(
    ("what", "text", "rules"),
    [
        ("bars", "Verse=16, Chorus = 8", [(None, "Verse", "16"), (None, "Chorus", "8")]),
        ("bars", "Verse, soft=16,B=4", [(None, "Verse, soft", "16"), (None, "B", "4")]),
        ("bars", "a=b=16", [(None, "a=b", "16")]),
        ("map", "low-fen/*=lead", [("low-fen", "*", "lead")]),
        ("map", "*/Verse=lead", [(None, "Verse", "lead")]),
        ("tempo", "120", [(None, "*", "120")]),
        ("tempo", "low-fen=120,tin-moth=90", [("low-fen", "*", "120"), ("tin-moth", "*", "90")]),
        ("meter", "6/8", [(None, "*", "6/8")]),
        ("beat", "low-fen=3/8", [("low-fen", "*", "3/8")]),
    ],
)
def test_rules_are_read(what: Any, text: str, rules: list[tuple[str | None, str, str]]) -> None:
    """Names may hold commas and signs of equality; a bare value is for all songs."""
    assert [
        (answer.song, answer.name, answer.value) for answer in answers_of(what, [text])
    ] == rules


@pytest.mark.parametrize("text", ["Verse", "Verse=", "=16", "A=1,B", "low-fen/=4"])
def test_half_a_rule_is_a_fault(text: str) -> None:
    """A name without a value and a value without a name are said."""
    with pytest.raises(ImportFault, match="needs NAME=VALUE"):
        answers_of("bars", [text])


@pytest.mark.parametrize(
    ("texts", "says"),
    [
        ({"bars": "Chrous=8"}, '--bars: there is no section "Chrous"; did you mean Chorus?'),
        ({"map": "Bridge=lead"}, '--map: there is no section "Bridge"; there are Chorus, Last'),
        ({"map": "tin-moth/Verse=lead"}, '--map: there is no song "tin-moth"'),
        ({"bars": "*=many"}, 'bars: must be a number, not "many"'),
        ({"bars": "*=-2"}, 'bars: must be a number, not "-2"'),
        ({"bars": "*=999999"}, "bars: must be more than 0 and at most 100000"),
        ({"map": "*=rok"}, 'there is no preset "rok"; did you mean rock?'),
        ({"map": "*=zzz"}, 'the rig has clean, rock, lead; "-" leaves it unmapped'),
    ],
)
def test_slips_are_faults(texts: dict[str, str], says: str) -> None:
    """An answer that fits nothing, or a value that cannot be, is never passed over."""
    with pytest.raises(ImportFault) as fault:
        filled(SHEET, **texts)
    assert says in str(fault.value)


def test_all_faults_are_listed() -> None:
    """Each once."""
    with pytest.raises(ImportFault) as fault:
        filled(SHEET, bars="*=x,Nope=1", map="*=zzz")
    assert len(str(fault.value).splitlines()) == 3


def test_a_preset_may_be_given_by_its_name() -> None:
    """As it stands on the display."""
    assert sections_of(filled(SHEET, bars="*=4", map="*=ROCK IT"))[0] == ("Verse 1", 4, "rock")


def test_what_a_song_lacks_is_asked_for() -> None:
    """Tempo and meter are never assumed, though a rig file may leave the meter out."""
    bare = "{title: X}\n{sov}\nla\n{eov}"
    assert open_in(filled(bare, bars="*=4", map="*=-")) == [
        ("tempo", "X, tempo in beats per minute"),
        ("meter", "X, meter, such as 4/4"),
    ]
    done = filled(bare, bars="*=4", map="*=-", tempo="90", meter="X=3/4")
    assert done.questions == ()
    assert (done.draft.songs[0].tempo, done.draft.songs[0].meter) == (90, "3/4")


@pytest.mark.parametrize(
    ("time", "asked"), [("4/4", False), ("3/4", False), ("6/8", True), ("12/8", True),
                        ("7/8", True), ("2/2", True)]
)  # fmt: skip
def test_the_beat_is_asked_where_it_is_not_plain(time: str, asked: bool) -> None:
    """ChordPro's {tempo} names no note (row S10 of the reference values: ask, never guess)."""
    text = SHEET.replace("4/4", time)
    done = filled(text, bars="*=4", map="*=-")
    assert [question.what for question in done.questions] == ["beat"] * asked
    done = filled(text, bars="*=4", map="*=-", beat="3/8")
    assert done.draft.songs[0].more.get("beat") == ("3/8" if asked else None)


@pytest.mark.parametrize(
    ("said", "beat"),
    [("quarter", "1/4"), ("Eighths", "1/8"), ("eighth notes", "1/8"), ("dotted quarter", "3/8"),
     ("dotted-quarter note", "3/8"), ("half", "1/2"), ("5/8", "5/8")],
)  # fmt: skip
def test_a_beat_may_be_given_as_a_word(said: str, beat: str) -> None:
    """As players call the notes; values of notes: common practice."""
    done = filled(SHEET.replace("4/4", "6/8"), bars="*=4", map="*=-", beat=said)
    assert done.draft.songs[0].more["beat"] == beat


def test_a_beat_that_is_no_note_is_told_some() -> None:
    """A meter such as 4/4 would be no answer."""
    with pytest.raises(ImportFault, match=r'^"qarter" is no note: say 1/4 \(quarter\), 1/8'):
        filled(SHEET.replace("4/4", "6/8"), bars="*=4", map="*=-", beat="qarter")


def test_a_beat_of_the_song_does_not_reach_into_other_meters() -> None:
    """A section in 4/4 of a song in 6/8 is told its own beat, for the song's would hold there."""
    text = (
        "{tempo: 60}\n{time: 6/8}\n{sov: A}\nla\n{eov}\n{time: 4/4}\n{sov: B}\nla\n{eov}\n"
        "{time: 12/8}\n{sov: C}\nla\n{eov}"
    )
    done = filled(text, bars="*=4", map="*=-", beat="1/8")
    assert done.draft.songs[0].more["beat"] == "1/8"
    assert [section.more.get("beat") for section in done.draft.songs[0].sections] == [
        None, "1/4", "1/8",
    ]  # fmt: skip


def test_nought_bars_leave_a_section_out() -> None:
    """A block of tablature is no part of the song: no preset is asked for it either."""
    done = filled(SHEET + "{sot}\ne|--|\n{eot}", bars="Tab=0,*=4", map="*=rock")
    new, _ = put_in(RIG, done)
    assert [s.name for s in new.songs[-1].sections] == ["Verse 1", "Chorus", "Verse 2", "Last"]
    assert (
        filled(SHEET + "{sot}\ne|--|\n{eot}", bars="Tab=0,*=4", map="Verse=-,Chorus=-").questions
        == ()
    )


# Into the rig


def test_songs_are_added_behind_the_others() -> None:
    """With an id made from the title, and a line for the player."""
    new, lines = put_in(RIG, filled(SHEET, bars="*=8", map="Verse=clean,*=-"))
    assert [song.id for song in new.songs] == ["old-one", "low-fen"]
    assert new.songs[0] is RIG.songs[0]
    assert lines == ("Low Fen: added, 4 sections, 2 without a preset",)


OLD = SHEET.replace("Low Fen", "old one")


def test_a_song_that_is_there_is_asked_about() -> None:
    """By its title, capitals apart."""
    assert open_in(filled(OLD, bars="*=8", map="*=rock")) == [
        ("same", "already there: replace, add or skip old one")
    ]


def test_it_is_asked_before_what_it_may_settle() -> None:
    """A song that is skipped needs no bars."""
    assert filled(OLD).questions[0].what == "same"


def test_replace_keeps_what_the_source_cannot_say() -> None:
    """A lyric sheet knows nothing of guitars; id and place stay too."""
    new, lines = put_in(RIG, filled(OLD, same="replace", bars="*=8", map="*=rock"))
    (song,) = new.songs
    assert (song.id, song.tempo, song.guitar, len(song.sections)) == ("old-one", 118, "main", 4)
    assert lines == ("old one: replaced, 4 sections",)


def test_add_gives_another_id() -> None:
    """Both songs are there."""
    new, _ = put_in(RIG, filled(OLD, same="add", bars="*=8", map="*=rock"))
    assert [song.id for song in new.songs] == ["old-one", "old-one-2"]


def test_skip_asks_nothing_of_what_is_skipped() -> None:
    """The song stays as it is."""
    done = filled(OLD, same="skip")
    assert done.questions == ()
    new, lines = put_in(RIG, done)
    assert new.songs == RIG.songs
    assert lines == ("old one: already there, unchanged",)


def test_what_no_rig_can_hold_is_said() -> None:
    """A value that the source gives and the format refuses, with song and section."""
    draft = read_csv("song,tempo,section,bars,guitar_volume\nx,0,A,4,\ny,90,B,4,11\n")
    with pytest.raises(ImportFault) as fault:
        put_in(RIG, fill(draft, [], RIG))
    assert str(fault.value).splitlines() == [
        "x: tempo: must be more than 0 and at most 1000, not 0",
        "y: B: guitar_volume: must be 0 to 10, not 11",
    ]


def test_tables_name_presets_of_the_rig() -> None:
    """Known ones are taken, unknown ones are asked for, empty ones stay unmapped."""
    draft = read_csv("song,tempo,section,bars,preset\nx,90,A,4,rock\nx,,B,4,solo\nx,,C,4,\n")
    done = fill(draft, [], RIG)
    assert open_in(done) == [("map", "preset for its solo")]
    done = fill(draft, answers(map="solo=lead"), RIG)
    assert [s.preset for s in done.draft.songs[0].sections] == ["rock", "lead", None]


# Out of another rig


def other() -> Draft:
    """The songs of another rig, one of whose presets has an id that this rig has too."""
    return rig_draft(
        make_rig(
            presets=[preset("clean"), preset("solo")],
            songs=[
                song("low-fen", section("clean", hands="softly"), section("solo"), section(),
                     title="Low Fen", capo=2),
                song("tin-moth", "clean"),
            ],
        )
    )  # fmt: skip


def test_presets_of_another_rig_are_mapped_by_the_player() -> None:
    """Every one, also where an id is in both rigs: that is offered, not taken."""
    done = fill(other(), [], RIG)
    assert [(q.words, q.times, q.hint) for q in done.questions] == [
        ("preset for its clean", 2, "clean"),
        ("preset for its solo", 1, ""),
    ]
    done = fill(other(), answers(map="clean=clean,solo=lead"), RIG)
    new, _ = put_in(RIG, done)
    assert [[s.preset for s in song.sections] for song in new.songs[1:]] == [
        ["clean", "lead", None], ["clean"],
    ]  # fmt: skip
    assert (new.songs[1].capo, new.songs[1].sections[0].hands) == (2, "softly")


def test_a_preset_of_another_rig_is_meant_by_its_whole_id() -> None:
    """An answer for solo says nothing of solo-2: those are two sounds."""
    draft = rig_draft(make_rig(songs=[song("s", section("solo"), section("solo-2"))]))
    done = fill(draft, answers(map="solo=lead"), RIG)
    assert [question.name for question in done.questions] == ["solo-2"]


def test_some_songs_only() -> None:
    """By id; one that is not there is named."""
    assert [song.id for song in only(other(), ["tin-moth"]).songs] == ["tin-moth"]
    with pytest.raises(
        ImportFault, match='it has no song with the id "tin-rof"; did you mean tin-moth'
    ):
        only(other(), ["tin-rof"])


def test_a_rig_without_songs() -> None:
    """There is nothing to take."""
    with pytest.raises(ImportFault, match="this rig file has no songs"):
        rig_draft(make_rig())
