"""Songs as a CSV table, out and in again."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import make_rig, preset, song

from rigtui.model import Rig, rig_to_data
from rigtui.model.rig import Section, Song
from rigtui.store.demos import demo_paths
from rigtui.store.importing.answers import fill
from rigtui.store.importing.csv_songs import COLUMNS, read_csv, songs_csv
from rigtui.store.importing.draft import DraftSong, ImportFault
from rigtui.store.importing.into import put_in
from rigtui.store.load import load


def back(rig: Rig) -> Rig:
    """The rig after its songs went out as CSV and replaced the old ones."""
    filled = fill(read_csv(songs_csv(rig.songs)), [], rig, "replace")
    return put_in(rig, filled)[0]


def one(text: str) -> DraftSong:
    """The one song of a table."""
    (read,) = read_csv(text).songs
    return read


# What a text cell may hold; an empty text is a key left out, and NUL cannot stand in TOML either.
words = st.text(
    st.characters(exclude_categories=["Cs"], exclude_characters="\0"), min_size=1, max_size=12
)
ids = st.from_regex(r"[a-z0-9][a-z0-9-]{0,5}", fullmatch=True)
lists = st.lists(st.one_of(ids, words), max_size=3)
meters = st.sampled_from(["4/4", "3/4", "6/8", "7/8"])
number = st.one_of(st.integers(1, 400), st.floats(0.01, 400))
sections = st.lists(
    st.fixed_dictionaries(
        {"name": words, "bars": number},
        optional={
            "preset": st.sampled_from(["lead", "clean"]), "plus": lists, "minus": lists,
            "may": lists, "early": lists, "hands": words,
            "hands_seconds": st.floats(0, 60),
            "wanted": st.fixed_dictionaries({"pedals": lists}, optional={"channel": words}),
            "tempo": number, "meter": meters,
            "beat": st.sampled_from(["1/4", "3/8"]), "rest_beats": st.floats(0, 64),
            "guitar_volume": st.floats(0, 10), "pickup": words, "cue": words, "until": words,
        },
    ),
    max_size=3,
)  # fmt: skip
songs = st.fixed_dictionaries(
    {"tempo": number, "sections": sections},
    optional={
        "title": words, "meter": meters, "beat": st.sampled_from(["1/4", "1/2"]),
        "guitar": words, "tuning": words, "capo": st.integers(0, 24),
        "gap_seconds": st.floats(0, 600), "click": st.booleans(), "note": words,
    },
)  # fmt: skip


@given(st.lists(songs, max_size=4))
def test_a_round_trip_changes_nothing(rows: list[dict[str, Any]]) -> None:
    """Whatever stands in songs, the table says all of it."""
    numbered = [{"id": f"s{at}", **row} for at, row in enumerate(rows)]
    rig = make_rig(presets=[preset("lead"), preset("clean")], songs=numbered)
    if not rows:
        with pytest.raises(ImportFault, match="no rows"):
            back(rig)
        return
    assert back(rig) == rig


@pytest.mark.parametrize("path", demo_paths(), ids=lambda path: path.stem)
def test_demo_rigs_come_back(path: object) -> None:
    """Also key by key: nothing that was left out is written."""
    rig = load(path)[1]  # type: ignore[arg-type]
    same = back(rig)
    assert same == rig

    def plain(rig: Rig) -> dict[str, Any]:
        data = rig_to_data(rig)
        for row in data["songs"]:  # a list that is empty is as good as none
            row["sections"] = [{k: v for k, v in s.items() if v != []} for s in row["sections"]]
        return data

    assert plain(same) == plain(rig)


def test_the_columns_are_every_key() -> None:
    """A key that the model gets later must get a column too."""
    rows = list(csv.reader(io.StringIO(songs_csv([]))))
    assert tuple(rows[0]) == COLUMNS
    keys = {*Song.model_fields, *Section.model_fields} - {"id", "sections", "name"}
    named = {column.removeprefix("section_").replace("song_note", "note") for column in COLUMNS}
    assert keys == named - {"song", "section", "wanted_channel"}


def test_formulas_stay_text() -> None:
    """A title that a spreadsheet would compute gets an apostrophe, which comes off again."""
    rig = make_rig(songs=[song("s", title="=1+1"), song("t", title="'til dawn")])
    text = songs_csv(rig.songs)
    assert "'=1+1" in text
    assert [draft.title for draft in read_csv(text).songs] == ["=1+1", "'til dawn"]
    assert one("song,title\ns,'til dawn").title == "'til dawn"


@pytest.mark.parametrize(
    "text",
    [
        "song,tempo,section,bars,preset\ns,120,Verse,8,lead\ns,,Solo,16,\n",
        "\ufeffsong,tempo,section,bars,preset\r\ns,120,Verse,8,lead\r\ns,,Solo,16,\r\n",
        "song;tempo;section;bars;preset\ns;120;Verse;8,0;lead\ns;;Solo;16;\n",
        "song\ttempo\tsection\tbars\tpreset\ns\t120\tVerse\t8\tlead\ns\t\tSolo\t16\t\n",
        '"Song","Tempo","Section","Bars","Preset",,\n"s","120","Verse","8","lead",,\n\n'
        '"s","120","Solo","16",,,\n,,,,,,\n',
        "bars,section,song,preset,tempo\n8,Verse,s,lead,120\n16,Solo,s,,\n",
    ],
)
def test_tables_as_spreadsheets_write_them(text: str) -> None:
    """Commas, semicolons or tabs, a byte order mark, other line ends, capitals, empty columns."""
    read = one(text.removeprefix("\ufeff"))
    assert (read.id, read.tempo) == ("s", 120)
    assert [(s.name, s.bars, s.was) for s in read.sections] == [
        ("Verse", 8, "lead"), ("Solo", 16, None),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("title,tempo\nx,120", 'its first line has no column "song"'),
        ("song,tempoo\nx,120", 'an unknown column "tempoo"; did you mean tempo?'),
        ("song,colour\nx,red", 'an unknown column "colour"; the columns are song, title'),
        ("song,tempo,tempo\nx,1,2", "has the column tempo twice"),
        ("song,tempo\n", "no rows"),
        ("song,click\nx,loud", 'line 2 click: must be true or false, not "loud"'),
        ("song,tempo\nx,fast", 'line 2 tempo: must be a number, not "fast"'),
        ("song,bars,section\nx,-4,A", 'line 2 bars: must be a number, not "-4"'),
        ('song,bars,section\nx,"1,000",A', 'line 2 bars: must be a number, not "1,000"'),
        ("song,tempo\n,120", "line 2 names no song"),
        ("song,tempo\nx,120\nx,90", "line 3 gives x a different tempo from its first row: 90"),
        ("song,bars\nx,4", "line 2 has a section without a name"),
        ("song,tempo\nx,120,lost", "line 2 has more cells than the first line has columns"),
        ('song,section,plus\nx,A,"[1]"', "line 2 plus: must be ids"),
        ('song,section,plus\nx,A,"[""a"', "line 2 plus: must be ids"),
        ('song,title\nx,"open', "it is not a CSV table"),
        ("song,title\nx," + "a" * 200_000, "it is not a CSV table: field larger"),
    ],
)
def test_faults_are_named(text: str, says: str) -> None:
    """With the line, and what would be right."""
    with pytest.raises(ImportFault) as fault:
        read_csv(text)
    assert says in str(fault.value)


def test_all_faults_are_listed() -> None:
    """Not only the first one, but no more than a screen of them."""
    with pytest.raises(ImportFault) as fault:
        read_csv("song,tempo\n" + "x,fast\n" * 100)
    assert len(str(fault.value).splitlines()) == 20


@given(st.text(st.sampled_from("song,tempo;\"'\n\r\t=[]0.5é\x1b"), max_size=80))
def test_no_text_breaks_it(junk: str) -> None:
    """Whatever stands under a good first line, there are songs or one message."""
    try:
        draft = read_csv(f"song,title,tempo,section,bars,plus\n{junk}")
    except ImportFault:
        return
    assert draft.songs
