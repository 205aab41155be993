"""A song in one line: what it means, what comes back, and what is said where it is wrong."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigtui.model.song_line import LineFault, LinePart, Names, completed, line_of, line_parts
from rigtui.model.song_line.parts import COMMON, Row

NAMES = Names(
    (
        Row("clean-chop", "Clean Chop"),
        Row("crunch", "Crunch"),
        Row("crunch-wide", "Crunch Wide"),
        Row("clean-wide", "Clean Wide"),
        Row("ballad-lead", "Ballad Lead"),
        Row("x2", "Double"),
        Row("bars", "Late bar"),
    ),
    (Row("wah", "Rocker wah"), Row("boost", "Solo boost"), Row("odd id", "Odd")),
    COMMON,
)
LINE = "Intro 4 cr, Verse 16 cc, Chorus 8 cr, Verse, Chorus, Solo 16 lead +wah, Chorus x2"
COMES_BACK = (
    "Intro 4 crunch, Verse 16 clean-chop, Chorus 8 crunch, Verse, Chorus, "
    "Solo 16 ballad-lead +wah, Chorus x2"
)


def test_a_whole_song_in_one_line():
    """Bars, presets and pedals are read; repeats have them too, and numbers come by themselves."""
    assert line_parts(LINE, NAMES) == (
        LinePart("Intro", 4, "crunch"),
        LinePart("Verse 1", 16, "clean-chop"),
        LinePart("Chorus 1", 8, "crunch"),
        LinePart("Verse 2", 16, "clean-chop"),
        LinePart("Chorus 2", 8, "crunch"),
        LinePart("Solo", 16, "ballad-lead", ("wah",)),
        LinePart("Chorus 3", 8, "crunch"),
        LinePart("Chorus 4", 8, "crunch"),
    )
    assert line_of(line_parts(LINE, NAMES)) == COMES_BACK


@pytest.mark.parametrize(
    ("line", "parts"),
    [
        ("", ()),
        (" , Intro 4 bars;; | ", (LinePart("Intro", 4),)),
        ("V 8|C 4 cr | B 2", (LinePart("V", 8), LinePart("C", 4, "crunch"), LinePart("B", 2))),
        ('"a|b" 1', (LinePart("a|b", 1),)),
        ("Middle  eight 8\nOutro 2.5", (LinePart("Middle eight", 8), LinePart("Outro", 2.5))),
        ('"Verse 2" 16', (LinePart("Verse 2", 16),)),
        ('"a ""b"", c" 1', (LinePart('a "b", c', 1),)),
        ("V 8 cr, v", (LinePart("V 1", 8, "crunch"), LinePart("V 2", 8, "crunch"))),
        ("V 8 cr, V 16", (LinePart("V 1", 8, "crunch"), LinePart("V 2", 16, "crunch"))),
        ("V 8 cr, V 8 ?", (LinePart("V 1", 8, "crunch"), LinePart("V 2", 8))),
        (
            "V 8 cr +wah, V, V 8 cr, V + boost",
            (
                LinePart("V 1", 8, "crunch", ("wah",)),
                LinePart("V 2", 8, "crunch", ("wah",)),
                LinePart("V 3", 8, "crunch"),
                LinePart("V 4", 8, "crunch", ("boost",)),
            ),
        ),
        ('V 8 "x2" -wah x2', (LinePart("V 1", 8, "x2", (), ("wah",)),
                              LinePart("V 2", 8, "x2", (), ("wah",)))),
        ("V 8 late bar", (LinePart("V", 8, "bars"),)),
        ('V 8 cr +"odd id"', (LinePart("V", 8, "crunch", ("odd id",)),)),
    ],
)  # fmt: skip
def test_what_a_line_means(line, parts):
    """Each rule of the line by itself."""
    assert line_parts(line, NAMES) == parts


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("Intro 4, Verse",
         "column 10: Verse is new: put its bars after the name, e.g. Verse 16"),
        ("16", 'column 1: put a section\'s name before "16", e.g. "Verse 16"'),
        ("x2", 'column 1: put a section\'s name before "x2", e.g. "Verse 16"'),
        ("Intro 0", "column 7: bars must be more than 0 and at most 100000"),
        ("Intro 4 cw", 'column 9: "cw" fits crunch-wide and clean-wide: write one of them in full'),
        ("Intro 4 crunhc", 'column 9: "crunhc" fits no preset: did you mean crunch?'),
        ("Verse 2 16", 'column 9: "16" fits no preset: the rig has clean-chop, crunch, '
         "crunch-wide, clean-wide, ballad-lead, x2 and 1 more. A name with a number in it needs "
         'quotes, e.g. "Verse 2" 16'),
        ('Intro 4, "Verse 16', 'column 10: a quote is open: close it with another "'),
        ('"" 4', "column 1: put a name between the quotes"),
        ('"Verse 2" cr', 'column 11: put the bars before "cr": "Verse 2" 16 ...'),
        ("Intro 4 cr +zither", 'column 12: "zither" fits no pedal: the rig has wah, boost, odd id'),
        ("Intro 4 cr +", "column 12: name the pedal after +, e.g. +wah"),
        ("Intro 4 cr +wah boost", 'column 17: put + or - before "boost", e.g. +boost'),
        ("Intro 4 x2 Verse 8", 'column 12: put a comma before "Verse"'),
        ("Intro 4 x0", "column 9: play it x2 to x1000"),
        ("V 1 x999, W 1 x999", "column 11: a song has at most 1000 sections"),
        ("a\x1b", 'column 1: a␛ is new: put its bars after the name, e.g. a␛ 16'),
    ],
)  # fmt: skip
def test_a_line_that_is_wrong_says_where_and_what_would_be_right(line, fault):
    """The column is counted from 1, and the sentence says what to type."""
    with pytest.raises(LineFault) as error:
        line_parts(line, NAMES)
    assert str(error.value) == fault


TEXTS = st.one_of(
    st.sampled_from(
        [
            "Verse",
            "Verse 1",
            "Verse 2",
            "verse",
            "verse 1",
            "x2",
            "4",
            "+a",
            "A, b",
            "A|b",
            "?",
            "bars",
        ]
    ),
    st.text(min_size=1, max_size=6),
).filter(str.strip)
BARS = st.one_of(st.integers(1, 99), st.floats(0, 100_000, exclude_min=True, allow_subnormal=False))
PRESETS = st.sampled_from([None, *(row.id for row in NAMES.presets)])
PEDALS = st.lists(st.sampled_from([row.id for row in NAMES.pedals]), max_size=2).map(tuple)
PARTS = st.builds(LinePart, TEXTS, BARS, PRESETS, PEDALS, PEDALS)


@given(st.lists(PARTS, max_size=8))
def test_every_song_is_read_back_from_its_line(parts):
    """Whatever the sections are, their line says them again: nothing is lost by editing it."""
    assert line_parts(line_of(parts), NAMES) == tuple(parts)


WORDS = st.sampled_from(
    ["Verse", "verse", "Chorus", '"Verse 2"', "4", "8", "2.5", "cr", "cc", "crunch", "?", "+wah",
     "-boost", "x2", ",", ",", ",", ";", "|", "bars", '"'],
)  # fmt: skip


@given(st.lists(WORDS, max_size=14).map(" ".join))
def test_a_line_comes_back_in_one_form(line):
    """What can be read is written in a form that reads the same and does not change again."""
    try:
        parts = line_parts(line, NAMES)
    except LineFault:
        return
    written = line_of(parts)
    assert line_parts(written, NAMES) == parts
    assert line_of(line_parts(written, NAMES)) == written


@pytest.mark.parametrize(
    ("typed", "whole"),
    [
        ("V", "Verse"),
        ("Riff 4 cr, Ri", "Riff 4 cr, Riff"),
        ("Pre-verse 4,pre", "Pre-verse 4,Pre-verse"),
        ("Intro 4 ball", "Intro 4 ballad-lead"),
        ("Intro 4 cr +w", "Intro 4 cr +wah"),
        ("Intro 4 cr + bo", "Intro 4 cr + boost"),
        ("Intro 4", None),
        ("Intro 4 ", None),
        ('"Ver', None),
        ("", None),
        ("Zzz", None),
    ],
)
def test_what_is_typed_is_completed(typed, whole):
    """Names of the line, of other songs and of any band; presets and pedals by id."""
    assert completed(typed, NAMES) == whole


def test_brackets_of_a_lyric_sheet_are_no_part_of_a_name() -> None:
    """[Verse] is Verse; in quotes brackets stay, and a name that has them is written in quotes."""
    names = Names((), ())
    assert [part.name for part in line_parts('[Big Intro] 4, [ ] 2, "[Tag]" 8', names)] == [
        "Big Intro", "[ ]", "[Tag]",
    ]  # fmt: skip
    assert line_of(line_parts('"[Tag]" 8', names)) == '"[Tag]" 8'
