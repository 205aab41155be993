"""The floor sheet asks of the feet just what was counted, and marks what the rules find crowded."""

from __future__ import annotations

import pytest
from examples import examples
from hypothesis import given
from moves.rigs_drawn import rigs
from rigs_made import Data, make_rig, pedal, preset, section, setlist, song, switcher
from sheets.sheets_made import DEMOS, sheet, song_sheet, tables

from rigtui.checks import check
from rigtui.model import rig_from_data
from rigtui.moves import count_song
from rigtui.paper import Sheet
from rigtui.paper.content import Table
from rigtui.store.load import load


def songs_on(floor: Sheet) -> list[Table]:
    """The tables of sections."""
    return [table for _, table in tables(floor) if table.columns[0].head == "section"]


def cell(table: Table, row: int, head: str) -> str:
    """What stands in a row under a head; nothing where there is no such column."""
    heads = [column.head for column in table.columns]
    return table.rows[row][heads.index(head)] if head in heads else ""


@examples(30)
@given(rigs())
def test_presses_are_those_counted(data: Data) -> None:
    """A switch stands bare where a recall is counted, in brackets where none is."""
    rig = rig_from_data(data)
    played = [song for song in rig.setlists[0].song_ids if song.startswith("song")]
    songs = {song.id: song for song in rig.songs}
    played = [song_id for song_id in played if song_id in songs and songs[song_id].sections]
    for song_id, table in zip(played, songs_on(sheet(rig, "floor", "night")), strict=True):
        for change in count_song(rig, songs[song_id]).changes:
            press = cell(table, change.to_section, "press")
            recalled = any(press.kind == "switch" for press in change.presses)
            assert press == "?" or recalled == (not press.startswith("("))
            feet = cell(table, change.to_section, "feet")
            arrows = press.count("↑") + press.count("↓")
            steps = sum(press.kind == "bank" for press in change.presses)
            others = change.moves - steps - recalled
            assert bool(feet) >= bool(others)
            if not feet:
                assert (arrows, others) == (steps, 0)


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_marked_changes_are_those_that_the_rule_finds(demo: object) -> None:
    """The mark and `crowded-change` agree on every song of every demo rig."""
    _, rig = load(demo)  # type: ignore[arg-type]
    crowded = {finding.where for finding in check(rig) if finding.rule == "crowded-change"}
    for night in rig.setlists:
        known = [song_id for song_id in night.song_ids if any(s.id == song_id for s in rig.songs)]
        for song_id, table in zip(known, songs_on(sheet(rig, "floor", night.id)), strict=True):
            marked = {at for at, row in enumerate(table.rows) if row[0].startswith("! ")}
            assert marked == set(table.strong)
            assert {f"songs.{song_id}.sections.{at}" for at in marked} == {
                where for where in crowded if where.startswith(f"songs.{song_id}.")
            }


def two_banks(*sections: Data, **more: object) -> Sheet:
    """A song on a board of two banks of two, with a wah outside."""
    rig = make_rig(
        switcher=switcher(memories=4, bank_size=2),
        pedals=[pedal("wah", "wah", name="Rocker wah")],
        chain={"front": ["wah"]},
        presets=[preset(f"p{n}", memory=n, name=f"P{n}") for n in (1, 2, 3)],
        songs=[song("a", *sections, **more)],
        setlists=[setlist("n", "a")],
    )
    return sheet(rig, "floor")


@pytest.mark.parametrize(
    ("before", "after", "press", "feet"),
    [
        ({"preset": "p1"}, {"preset": "p2"}, "1/2", ""),
        ({"preset": "p1"}, {"preset": "p1"}, "(1/1)", ""),
        ({"preset": "p1"}, {"preset": "p3"}, "↑2/1", ""),
        (
            {"preset": "p3"},
            {"preset": "p1", "plus": ["wah"]},
            "↑1/1",
            "bank up ahead of time, switch 1, Rocker wah on",
        ),
        ({"preset": "p1"}, {"preset": "p1", "plus": ["wah"]}, "(1/1)", "Rocker wah on"),
        ({"preset": "p1"}, {"preset": "p2", "plus": ["wah"]}, "1/2", "switch 2, Rocker wah on"),
        ({"preset": "p1"}, {}, "?", ""),
    ],
)
def test_feet_say_what_the_switch_beside_them_does_not(
    before: Data, after: Data, press: str, feet: str
) -> None:
    """The switch that is shown and its bank steps need no words; all else has them, in order."""
    (table,) = songs_on(two_banks(section(**before), section(**after)))
    assert (cell(table, 1, "press"), cell(table, 1, "feet")) == (press, feet)


def test_set_up_moves_stand_with_the_first_section() -> None:
    """What is pressed before the song is said there, and said to be before it."""
    (table,) = songs_on(two_banks(section("p3")))
    assert cell(table, 0, "press") == "↑2/1"
    (table,) = songs_on(two_banks(section("p3", plus=["wah"])))
    assert cell(table, 0, "feet") == "bank up, switch 1, Rocker wah on, before the song"


@pytest.mark.parametrize(
    ("keys", "cue", "hands"),
    [
        ({"cue": "after 'rain'", "rest_beats": 1}, "after 'rain'; rest 1 beat first", ""),
        ({"until": "the nod", "bars": 8}, "repeat until the nod", ""),
        ({"tempo": 90}, "tempo 90", ""),
        ({"meter": "6/8"}, "tempo 120 dotted quarters, 6/8", ""),
        ({"guitar_volume": 6.5, "pickup": "neck", "hands": "a\nb"}, "",
         "volume 6.5, pickup neck, a b"),
    ],
)  # fmt: skip
def test_cues_and_hands(keys: Data, cue: str, hands: str) -> None:
    """What is heard, counted and done by hand stands under the section."""
    floor = song_sheet({"name": "A", "bars": 4}, {"name": "B", "bars": 4, **keys})
    (table,) = songs_on(floor)
    assert (cell(table, 1, "cue"), cell(table, 1, "hands")) == (cue, hands)


def test_hands_are_told_once_and_again_when_they_change() -> None:
    """A volume that stays is not repeated."""
    rows = [{"name": "A", "bars": 1, "guitar_volume": volume} for volume in (5, 5, 8)]
    (table,) = songs_on(song_sheet(*rows))
    assert [cell(table, at, "hands") for at in range(3)] == ["volume 5", "", "volume 8"]


def test_a_setlist_says_what_becomes_of_guitar_tuning_and_capo() -> None:
    """Before a song that needs it, the swap is told in the list and at the song."""
    songs = [
        song("a", section(), guitar="one"),
        song("b", section(), guitar="two", capo=2),
        song("c", section(), capo=0),
    ]
    rig = make_rig(songs=songs, setlists=[setlist("n", "a", "b", "c", "lost")])
    floor = sheet(rig, "floor")
    order = next(table for _, table in tables(floor) if table.columns[0].head == "no.")
    assert [row[-1] for row in order.rows] == [
        "", "change to two, put the capo on 2", "take the capo off", "no such song in the file",
    ]  # fmt: skip
    assert [block.text for part in floor.parts for block in part.blocks
            if getattr(block, "look", "") == "strong"] == [
        "tempo 120; guitar one",
        "tempo 120; guitar two; capo 2. Get ready: change to two, put the capo on 2",
        "tempo 120; no capo. Get ready: take the capo off",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ([{"tuning": "drop D"}], ["tune to drop D"]),
        ([{"tuning": "standard"}], [""]),
        ([{"tuning": "E A D G B E"}], [""]),
        ([{}, {"tuning": "drop D"}, {}, {"tuning": "standard"}],
         ["", "tune to drop D", "", "retune to standard"]),
        ([{"guitar": "one"}, {"guitar": "two", "tuning": "open G"}, {"guitar": "one"},
          {"guitar": "two", "tuning": "open G"}],
         ["", "change to two, tune it to open G", "change to one", "change to two"]),
        ([{"capo": 2}, {"capo": 0}], ["put the capo on 2", "take the capo off"]),
    ],
)  # fmt: skip
def test_what_a_guitar_is_tuned_to_is_said(keys: list[Data], told: list[str]) -> None:
    """Also before the first song, where the rig has to be told from a guitar as it is usually."""
    songs = [song(f"s{at}", section(), **row) for at, row in enumerate(keys)]
    rig = make_rig(songs=songs, setlists=[setlist("n", *(row["id"] for row in songs))])
    for kind in ("floor", "set"):
        table = next(
            table for _, table in tables(sheet(rig, kind)) if table.columns[0].head == "no."
        )
        heads = [column.head for column in table.columns]
        at = heads.index("get ready") if "get ready" in heads else None
        assert [row[at] if at is not None else "" for row in table.rows] == told


def test_a_file_without_setlists_gives_all_songs() -> None:
    """The floor sheet then has the songs in the file's order."""
    floor = sheet(make_rig(songs=[song("a"), song("b")]), "floor")
    assert floor.title == "All songs"
    (order,) = (table for _, table in tables(floor))
    assert [row[1] for row in order.rows] == ["a", "b"]
    assert sheet(make_rig(), "floor").parts, "and without songs it says so"


def test_a_preset_in_several_memories_is_pressed_where_it_is_nearest() -> None:
    """Two banks of four, by hand: Clean is in 1/1 and 2/1, Lead in 2/2 alone, Wide in 1/2 alone.

    The first song starts in bank 1 and ends in bank 2, where the second finds Clean.
    """
    rig = make_rig(
        switcher=switcher(),
        loops=[{"number": 1, "side": "front"}],
        chain={"front": [1]},
        presets=[
            preset("clean", memory=1, copies=[5]),
            preset("lead", 1, memory=6),
            preset("wide", 1, memory=2),
        ],
        songs=[song("one", "clean", "lead", "clean"), song("two", "clean", "wide", "clean")],
        setlists=[setlist("night", "one", "two")],
    )
    pressed = [
        [cell(table, row, "press").strip("()↑↓") for row in range(3)]
        for table in songs_on(sheet(rig, "floor", "night"))
    ]
    assert pressed == [["1/1", "2/2", "2/1"], ["2/1", "1/2", "1/1"]]


def test_the_programming_sheet_has_a_row_for_each_copy() -> None:
    """A copy says where its preset is stored first; one beyond the switcher's memories has none."""
    rig = make_rig(
        switcher=switcher(memories=4, bank_size=2),
        presets=[
            preset("clean", name="Clean", memory=2, copies=[3, 9]),
            preset("lead", name="Lead", memory=8, copies=[4]),
        ],
    )
    programmed = sheet(rig, "program")
    assert "2 presets and 1 copy in 4 memories" in programmed.subtitle
    rows = [cell(table, row, "preset") for _, table in tables(programmed)
            for row in range(len(table.rows))]  # fmt: skip
    assert rows == ["free", "Clean", "Clean (copy of 1/2)", "Lead"]
