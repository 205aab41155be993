"""The set sheet read by itself: what it says of every change is what the feet have to do."""

from __future__ import annotations

import io
import random
import re
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from moves import oracle
from pypdf import PdfReader
from rigs_made import make_rig, preset, section, setlist, song, switcher

from rigtui.model import Rig, Song
from rigtui.model.banks import Spot
from rigtui.model.edits.folding import switched
from rigtui.model.edits.tables import changed
from rigtui.model.lookup import lookup
from rigtui.model.playable import is_unplayable
from rigtui.moves import count_setlist, count_song
from rigtui.paper.content import TIED, Sheet, Table
from rigtui.paper.deputy import deputy_pack
from rigtui.paper.set_sheet import set_sheet
from rigtui.sheets.pdf import pdf
from rigtui.sheets.plain import text
from rigtui.store.demos import demo_paths
from rigtui.store.load import load

DAY = date(2027, 3, 1)
PLACE = re.compile(r"^(?:(\d+)/)?(\d+)(?= |$)")


def songs_on(sheet: Sheet) -> list[tuple[str, ...]]:
    """The rows of songs: number, title and tempo, feet, and more."""
    tables = [block for part in sheet.parts for block in part.blocks if isinstance(block, Table)]
    return [tuple(cell.replace(TIED, " ") for cell in row) for table in tables
            if "feet" in [c.head for c in table.columns] for row in table.rows]  # fmt: skip


def read(feet: str, names: list[str]) -> list[str]:
    """What a reader does at each section after the first, with the sheet alone.

    Args:
        feet: What stands under "feet".
        names: Sections in order as the band calls them.
    """
    first, *said = feet.split("; ")
    assert first.startswith("start ")
    own = dict(line.split("→", 1) for line in said)
    does, turn = [], dict.fromkeys(names, 0)
    for name in names:
        turn[name] += 1
        told = name
        if names.count(name) > 1:
            told += f" ({ {1: '1st', 2: '2nd', 3: '3rd'}.get(turn[name], f'{turn[name]}th') })"
        base = re.sub(r"\s*\d+$", "", name) or name
        does.append(own.get(told, own.get(f"each {base}", "")))
    return does[1:]


def agrees(rig: Rig, song: Song, at: int, said: str) -> None:
    """What is read for a change is what is counted for it."""
    change, target = count_song(rig, song).changes[at - 1], song.sections[at]
    assert bool(said) == bool(change.presses), (song.label, at)
    switches = [press for press in change.presses if press.kind == "switch"]
    if switches and is_unplayable(rig, target):
        assert "no memory" in said
        return
    place = PLACE.match(said)
    assert bool(place) == bool(switches), (song.label, at, said)
    if place and switches:
        assert rig.switcher is not None
        spot = Spot(int(place[1] or 1) - 1, int(place[2]) - 1)
        memory = rig.switcher.memory_at(spot)
        there = next(held for held in rig.presets if memory in held.memories)
        own = lookup(rig).presets[target.preset or ""]
        assert switched(there) == switched(own)
        assert switches[0].what in (spot.switch + 1, 0)  # 0: stored only as its twin
    label = lookup(rig).label
    for press in change.presses:
        if press.kind == "pedal":
            assert label(str(press.what)) in said
    assert ("!" in said) == (change.on_the_beat > rig.player.moves_allowed)


@pytest.mark.parametrize("path", demo_paths(), ids=lambda path: path.stem)
def test_every_change_can_be_read_off(path: Path) -> None:
    """All of them, read from the sheet alone: section by section what to press, or nothing."""
    _, rig = load(path)
    for evening in rig.setlists:
        played = [song_id for row in evening.sets for song_id in row.songs]
        rows = songs_on(set_sheet(rig, evening, DAY))
        assert len(rows) == len(played)
        for song_id, row in zip(played, rows):
            tune = lookup(rig).songs[song_id]
            feet = row[2]
            does = read(feet, [part.name for part in tune.sections])
            for at, said in enumerate(does, 1):
                agrees(rig, tune, at, said)


def printed_songs(content: bytes) -> list[str]:
    """What stands on the pages in the size of the feet, song by song, as another library reads it.

    A song begins where a number stands alone in the first column.
    """
    songs: list[str] = []
    for page in PdfReader(io.BytesIO(content), strict=True).pages:
        chunks: list[tuple[float, float, str]] = []

        def take(
            text: str, _: Any, matrix: Any, font: Any, size: float, into: Any = chunks
        ) -> None:
            if text.strip():
                into.append((size * matrix[0], matrix[4], " ".join(text.split())))

        page.extract_text(visitor_text=take)
        heads = [at for at, (_, _, text) in enumerate(chunks) if text == "feet"]
        assert len(heads) == 1, "a set is a page"
        rows = chunks[heads[0] + 1 :]
        size, left = rows[0][0], rows[0][1]
        for wide, x, words in rows:
            if abs(wide - size) > 0.05 * size:
                continue  # what the hands do, and the foot of the page
            if abs(x - left) < 1 and words.isdigit():
                songs.append("")
            else:
                songs[-1] += f" {words}"
    return songs


def test_forty_changes_at_random_are_read_off_the_page() -> None:
    """Drawn with a seed from the evening of 28 songs, read from the PDF's text and nothing else.

    What is read is held against a counter that shares no code with the program.
    """
    path = next(path for path in demo_paths() if path.stem == "quay-street")
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    _, rig = load(path)
    songs = printed_songs(pdf(set_sheet(rig, rig.setlists[0], DAY)).content)
    evening = [name for part in data["setlists"][0]["sets"] for name in part["songs"]]
    by_id, machine = {row["id"]: row for row in data["songs"]}, oracle.Machine(data)
    assert len(songs) == len(evening) == 28
    places = [
        (nth, at)
        for nth, name in enumerate(evening)
        for at in range(1, len(by_id[name]["sections"]))
    ]
    named = {row["id"]: row.get("name", row["id"]) for row in data["pedals"]}
    pressed = 0
    for nth, at in random.Random(40).sample(places, 40):
        tune = by_id[evening[nth]]
        lead, _, feet = songs[nth].partition(" start ")
        assert tune["title"] in lead
        said = read(f"start {feet}", [row["name"] for row in tune["sections"]])[at - 1]
        change = oracle.count_song(data, tune)["changes"][at - 1]
        before = oracle.count_song(data, tune)["changes"][at - 2]["state"] if at > 1 else None
        before = before or machine.start(tune)
        after, place = change["state"], PLACE.match(said)
        assert bool(said) == (change["moves"] > 0), (tune["title"], at, said)
        assert said.endswith("!") == (change["on_the_beat"] > 1)
        if oracle.unplayable(data, tune["sections"][at]):
            assert "no memory" in said or not change["moves"]
        elif place:
            memory = (int(place[1]) - 1) * machine.size + int(place[2])
            (held,) = (row for row in data["presets"] if memory == row.get("memory"))
            wanted = machine.presets[after.recalled]
            assert set(held["loops"]) == set(wanted["loops"])
            assert held.get("channel") == wanted.get("channel")
        else:
            assert before.recalled == after.recalled
        for pedal in before.outside ^ after.outside:
            assert f"{named[pedal]} {'on' if pedal in after.outside else 'off'}" in said
        pressed += bool(said)
    assert pressed > 20


@pytest.mark.parametrize("path", demo_paths(), ids=lambda path: path.stem)
def test_each_start_and_the_mark_stay_with_their_words(path: Path) -> None:
    """No line ends in "each" or "start", and no mark begins one, however narrow page and text."""
    _, rig = load(path)
    sheet = set_sheet(rig, rig.setlists[0], DAY)
    lines = [line for width in (50, 62, 80) for line in text(sheet, width).split("\n")]
    for distance in (None, 0.8, 1.3):
        content = pdf(sheet, distance_m=distance).content
        lines += [line for page in PdfReader(io.BytesIO(content)).pages
                  for line in page.extract_text().split("\n")]  # fmt: skip
    assert any("start " in line for line in lines)
    assert not [line for line in lines if line.rstrip().endswith(("each", "start"))]
    assert not [line for line in lines if re.search(r"(^|  )!", line)]


def test_a_set_is_a_page() -> None:
    """The evening of two sets of fourteen songs is two pages, on both papers."""
    _, rig = load(next(path for path in demo_paths() if path.stem == "quay-street"))
    sheet = set_sheet(rig, rig.setlists[0], DAY)
    assert pdf(sheet).pages == len(rig.setlists[0].sets) == 2
    assert pdf(sheet, distance_m=1.7).pages > 2


def test_type_is_as_large_as_a_page_allows() -> None:
    """Three songs are set far larger than sixteen, and stay on one page."""
    data = {
        "switcher": switcher(),
        "presets": [preset("a", memory=1), preset("b", memory=2)],
    }

    def sheet_of(songs: int) -> Sheet:
        ids = [f"s{at}" for at in range(songs)]
        rows = [song(id, "a", "b", "a", title=f"Song {id}") for id in ids]
        rig = make_rig(**data, songs=rows, setlists=[setlist("night", *ids)])
        return set_sheet(rig, rig.setlists[0], DAY)

    few, many = (pdf(sheet_of(songs)) for songs in (3, 16))
    assert few.pages == many.pages == 1


def test_what_repeats_is_said_once() -> None:
    """Alike for all of a name: once; not alike, or a name alone: one by one."""
    rig = make_rig(
        switcher=switcher(memories=4, bank_size=4),
        presets=[preset("a", name="A", memory=1), preset("b", name="B", memory=2)],
        songs=[
            song(
                "fen",
                section("a", name="Verse 1"), section("b", name="Chorus 1"),
                section("a", name="Verse 2"), section("b", name="Chorus 2"),
                section("a", name="Break"), section("a", name="Tag"), section("b", name="Tag"),
                title="Low Fen",
            )
        ],
        setlists=[setlist("night", "fen", "lost")],
    )  # fmt: skip
    rows = songs_on(set_sheet(rig, rig.setlists[0], DAY))
    assert rows[0][2] == "start 1; each Chorus→2; each Verse→1; Break→1; Tag (2nd)→2"
    assert rows[1][1:3] == ("lost?", "no such song in the file")
    assert count_setlist(rig, rig.setlists[0]).moves == 5


@pytest.mark.parametrize("path", demo_paths(), ids=lambda path: path.stem)
def test_a_deputy_pack_is_four_pages_at_most(path: Path) -> None:
    """Sounds, chain and set sheets; of the notes only the one that is written for a deputy."""
    _, rig = load(path)
    notes = [row.note for row in (*rig.presets, *rig.pedals, *rig.songs) if row.note]
    rig = changed(rig, deputy_note="The third song ends twice.")
    pack = deputy_pack(rig, rig.setlists[0], DAY)
    made = pdf(pack)
    assert made.pages <= 4
    words = repr(pack.parts)
    assert "The third song ends twice." in words
    assert not any(repr(note)[1:-1] in words for note in (*notes, rig.note) if note)


def test_a_section_without_a_preset_says_so() -> None:
    """Silence would read as: play on with the sound before."""
    rig = make_rig(
        switcher=switcher(memories=4, bank_size=4),
        presets=[preset("a", memory=1), preset("b", memory=2)],
        songs=[song("fen", "a", section(name="Hole"), "b"), song("void", section(name="All"))],
        setlists=[setlist("night", "fen", "void")],
    )
    rows = songs_on(set_sheet(rig, rig.setlists[0], DAY))
    assert "Hole→no sound chosen" in rows[0][2]
    assert rows[1][2] == "start no sound chosen"
