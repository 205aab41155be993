"""Songs out of ChordPro text.

Source of every rule checked here: the ChordPro pages directives-env, directives-env_chorus,
directives-tempo, directives-time, directives-meta and the cheat sheet (chordpro.org).
"""

from __future__ import annotations

import contextlib
from pathlib import Path

import chordpro
import pytest
from chordpro import ast_nodes
from hypothesis import given
from hypothesis import strategies as st

from rigtui.store.importing.chordpro import read_chordpro
from rigtui.store.importing.draft import Draft, DraftSong, ImportFault
from rigtui.store.importing.sources import read_source

SAMPLE = Path(chordpro.__file__).with_name("sample.cho")
"""A song that a ChordPro package of the registry carries."""


def song(text: str) -> DraftSong:
    """The one song of a text."""
    (read,) = read_chordpro(text, "file").songs
    return read


def names(text: str) -> list[str]:
    """Names of its sections."""
    return [section.name for section in song(text).sections]


@pytest.mark.parametrize(
    "text",
    [
        "{title: Low Fen}\n{tempo: 118}\n{time: 6/8}\n{key: G}\n{capo: 2}",
        "{t: Low Fen}\n{tempo:118}\n{time:6/8}\n{key:G}\n{capo:2}",
        "{t Low Fen}\n{tempo 118}\n{time 6/8}\n{key G}\n{capo 2}",
        "{TITLE: Low Fen}\n{meta: tempo 118}\n{meta: time 6/8}\n{meta: key G}\n{meta: capo 2}",
        "# a remark\n{title: Low \\\n   Fen}\n{tempo: 118.0}\n{time: 06/8}\n{key: G}\n{capo: 2}",
        "{title: Low Fen}\r\n{tempo: 118}\r\n{time: 6/8}\r\n{key: G}\r\n{capo: 2}\r\n",
    ],
)
def test_what_a_song_is(text: str) -> None:
    """Title, tempo, time, key and capo, in the long and short ways to say them."""
    read = song(text)
    assert (read.title, read.tempo, read.meter) == ("Low Fen", 118, "6/8")
    assert read.more == {"note": "Key: G", "capo": 2}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("{start_of_verse}\nla\n{end_of_verse}", ["Verse"]),
        ("{start_of_verse: Verse 1}\nla\n{end_of_verse}", ["Verse 1"]),
        ('{start_of_verse: label="Verse 1"}\nla\n{end_of_verse}', ["Verse 1"]),
        ("{start_of_verse label='Verse 1'}\nla\n{end_of_verse}", ["Verse 1"]),
        ('{start_of_verse: label="Verse 1\\nAll"}\nla\n{end_of_verse}', ["Verse 1 All"]),
        ("{sov}\nla\n{eov}\n{soc}\nla\n{eoc}\n{sob}\nla\n{eob}", ["Verse", "Chorus", "Bridge"]),
        ("{sot}\ne|--3--|\n{eot}\n{sog: Intro}\n| G . |\n{eog}", ["Tab", "Intro"]),
        ("{start_of_pre_chorus}\nla\n{end_of_pre_chorus}", ["Pre chorus"]),
        ("{start_of_intro: Riff}\nla\n{end_of_intro}", ["Riff"]),
        ("{start_of_ly}\nnotes\n{end_of_ly}\n{sov}\nla\n{eov}", ["Verse"]),
        ("{sov: A}\n{sot}\ne|-|\n{sov: no}\n{eot}\nla\n{eov}", ["A"]),
        ("{sov: A}\n{sov: B}\n{eov}", ["A", "B"]),
        ("{start_of_verse: Verse = soft}\n{eov}", ["Verse = soft"]),
        ('{start_of_verse: width="3"}\n{eov}', ["Verse"]),
        ("{start_of_verse-guitar: no}\n{sov}\nla", ["Verse"]),
    ],
)
def test_sections(text: str, expected: list[str]) -> None:
    """Environments are sections, by their label or by what they are."""
    assert names(text) == expected


def test_a_chorus_comes_again() -> None:
    """{chorus} is the last chorus that was given, by its own label where it has one."""
    read = song("{soc: Refrain}\nla\n{eoc}\n{chorus}\n{soc: Other}\nla\n{eoc}\n{chorus: Final}")
    assert [(section.name, section.recalls) for section in read.sections] == [
        ("Refrain", None),
        ("Refrain", 0),
        ("Other", None),
        ("Final", 2),
    ]
    assert names("{chorus}") == ["Chorus"]


def test_lines_outside_sections_are_a_verse() -> None:
    """The format says so; a comment on the line above gives the passage its name."""
    draft = read_chordpro("{t: X}\n[G]la la\nla\n\nmore\n\n{c: Break}\n[G] [C]\n", "file")
    assert [section.name for section in draft.songs[0].sections] == ["Verse", "Verse", "Break"]
    assert draft.notes == ("2 passages outside any section: taken as Verse, as ChordPro says",)


def test_a_comment_in_the_midst_of_a_passage_begins_another() -> None:
    """No empty line need stand between them."""
    assert names("{title: T}\nla\n{comment: Bridge}\nla la") == ["Verse", "Bridge"]


def test_comments_are_kept() -> None:
    """With the section that they stand in, in the song's note."""
    read = song("{c: slow}\n\n{sov: A}\n{ci: softly}\nla\n{eov}\n{highlight: louder}\n{chorus}\n")
    assert read.more["note"] == "slow\nA: softly\nlouder"


def test_tempo_and_time_hold_from_where_they_stand() -> None:
    """Sections after them get their own; inside a section they count before its first line."""
    draft = read_chordpro(
        "{tempo: 100}\n{time: 4/4}\n{sov: A}\nla\n{eov}\n{tempo: 60}\n{sov: B}\n{time: 6/8}\nla\n"
        "{tempo: 70}\n{eov}\n{sov: C}\nla\n{tempo: 100}\n{time: 4/4}\n{eov}\n{sov: D}\nla\n{eov}",
        "file",
    )
    read = draft.songs[0]
    assert (read.tempo, read.meter) == (100, "4/4")
    assert [dict(section.more) for section in read.sections] == [
        {},
        {"tempo": 60, "meter": "6/8"},
        {"tempo": 70, "meter": "6/8"},
        {},
    ]
    assert [note.split(";")[0] for note in draft.notes] == [
        "line 10: the tempo changes inside B",
        "line 14: the tempo changes inside C",
        "line 15: the meter changes inside C",
    ]


def test_a_tempo_that_comes_late_is_no_guess_at_the_first() -> None:
    """What stood before it has no tempo, and will be asked for; inside the first section it has."""
    read = song("{sov: A}\nla\n{eov}\n{tempo: 90}\n{sov: B}\n{eov}")
    assert read.tempo is None
    assert [dict(section.more) for section in read.sections] == [{}, {"tempo": 90}]
    assert song("{sov: A}\n{tempo: 90}\nla\n{eov}").tempo == 90


@pytest.mark.parametrize("value", ["fast", "120 bpm", "0", "-3", "1e3", "9999", "", "١٢٠"])
def test_a_tempo_that_is_no_number_is_said(value: str) -> None:
    """It is left out, with its line."""
    draft = read_chordpro(f"{{t: X}}\n{{tempo: {value}}}", "file")
    assert draft.songs[0].tempo is None
    assert draft.notes[0].startswith("line 2: tempo ")


@pytest.mark.parametrize("value", ["C", "4", "4/3", "0/4", "99/4", "4/4/4", ""])
def test_a_time_that_is_no_meter_is_said(value: str) -> None:
    """It is left out, with its line."""
    draft = read_chordpro(f"{{t: X}}\n{{time: {value}}}", "file")
    assert draft.songs[0].meter is None
    assert draft.notes[0].startswith("line 2: time ")


def test_several_songs() -> None:
    """{new_song} begins the next; one without a title is called after the file."""
    draft = read_chordpro(
        "{t: A}\n{sov}\nla\n{eov}\n{new_song}\n{soc}\nla\n{ns}\n{t: C}\nla", "set"
    )
    assert [(song.title, len(song.sections)) for song in draft.songs] == [
        ("A", 1), ("set 2", 1), ("C", 1),
    ]  # fmt: skip


@pytest.mark.parametrize("text", ["", "\n\n", "# nothing\n# here", "{}", "{ns}"])
def test_no_song(text: str) -> None:
    """A text without any of it is refused."""
    with pytest.raises(ImportFault, match="has no ChordPro song"):
        read_chordpro(text, "file")


def test_limits() -> None:
    """No more sections or songs than a rig can hold."""
    with pytest.raises(ImportFault, match="more than 1000 sections"):
        read_chordpro("{chorus}\n" * 1001, "file")
    with pytest.raises(ImportFault, match="more than 1000 songs"):
        read_chordpro("{t: x}\n{ns}\n" * 1001, "file")


def test_a_real_file_is_read_as_the_packages_own_parser_reads_it() -> None:
    """The song that a ChordPro package carries: same title, meta-data and sections.

    Source: chordpro-pdf, its sample and its parser, which shares nothing with ours.
    """
    draft = read_source(SAMPLE)
    (read,) = draft.songs
    (theirs,) = chordpro.ChordProParser().parse(SAMPLE.read_text(encoding="utf-8")).songs
    meta = theirs.metadata
    assert read.title == meta.title
    assert read.tempo == float(meta.tempo)
    assert read.meter == meta.time
    assert read.more["capo"] == int(meta.capo)
    assert f"Key: {meta.key}" in read.more["note"]
    parts = [part for part in theirs.body if isinstance(part, ast_nodes.Section)]
    assert [section.name for section in read.sections if section.recalls is None] == [
        part.label or part.section_type.value.capitalize() for part in parts
    ]
    again = [part for part in theirs.body if isinstance(part, ast_nodes.ChorusRef)]
    assert len([section for section in read.sections if section.recalls is not None]) == len(again)
    comments = [part.text for part in theirs.body if isinstance(part, ast_nodes.Comment)]
    assert [comment for comment in comments if comment not in read.more["note"]] == []


hostile = st.text(alphabet=st.sampled_from("{}:=\\#\"' \n\ttsovceog123/-%[]\x1bé"))


@given(text=hostile)
def test_no_text_breaks_it(text: str) -> None:
    """Whatever the text, there are songs or one message; nothing in a name acts on a terminal."""
    try:
        draft = read_chordpro(text, "file")
    except ImportFault:
        return
    assert isinstance(draft, Draft)
    for song in draft.songs:
        assert "\x1b" not in "".join(section.name for section in song.sections)


@pytest.mark.parametrize(
    "text", ["{" + " " * 500_000, "\\\n" * 200_000, "{t:" + "{" * 300_000 + "}"]
)
def test_long_lines_take_no_long_time(text: str) -> None:
    """No pattern in the reader takes time that grows with the square of a line."""
    with contextlib.suppress(ImportFault):
        assert read_chordpro(text, "file").songs


@pytest.mark.parametrize(("value", "capo"), [
    ("0", 0), ("24", 24), ("25", None), ("100", None), ("-1", None), ("\u00b2", None), ("", None),
])  # fmt: skip
def test_a_capo_is_a_fret_that_there_is(value: str, capo: int | None) -> None:
    """Up to the rig file's 24; anything else is left out."""
    assert song(f"{{title: T}}\n{{capo: {value}}}\nla").more.get("capo") == capo


@pytest.mark.parametrize("between", ["{soc}\nhey\n{eoc}", "{chorus}", "", "{soc}\n{eoc}"])
def test_what_follows_a_section_is_a_passage_of_its_own(between: str) -> None:
    """Lines before and after it need no empty line to be two."""
    passages = [name for name in names(f"{{title: T}}\nla\n{between}\nla") if name == "Verse"]
    assert len(passages) == 2
