"""`rigtui line`, and a plain list by `rigtui import`: a whole evening without the screens."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from cli.conftest import Run

from rigtui.model import Rig, Song
from rigtui.model.edits import song_line
from rigtui.store.importing.title_list import read_list
from rigtui.store.importing.title_list_text import song_text
from rigtui.store.load import load

RIG = """\
# a rig of mine
format = 1
name = "Quay rig"

[[presets]]
id = "clean-chop"   # softly
[[presets]]
id = "crunch"

[[songs]]
id = "old-one"
title = "Old One"
tempo = 90
sections = [{ name = "Verse", bars = 8, preset = "crunch", cue = "drums stop" }]

[[setlists]]
id = "friday"
sets = [{ name = "First set", songs = ["old-one"] }]
"""
DEMO = Path(__file__).parents[2] / "rigs" / "quay-street.toml"
TITLES = (
    "Low Fen", "Tin Roof", "Harbour", "Slack Tide", "Grey Mare", "Long Field", "Coal Quay",
    "North Light", "Herring Gull", "Salt", "Folded Chart", "Last Bus",
)  # fmt: skip
EVENING = "".join(
    f"{at + 1}. {title}, {90 + at}: Intro 4 cr, Verse 16 cc, Chorus 8 cr, Verse, Chorus x2\n"
    for at, title in enumerate(TITLES)
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a rig, the current one."""
    (tmp_path / "rig.toml").write_text(RIG)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def rig_now() -> Rig:
    """The rig as the file has it."""
    return load(Path("rig.toml"))[1]


def test_an_evening_of_twelve_songs_comes_in_with_its_lines(run: Run, folder: Path) -> None:
    """One list, one command; the file's comments stay."""
    Path("evening.txt").write_text("Second set\n" + EVENING)
    done = run("import", "rig.toml", "--from", "evening.txt", "--in-place", "--setlist", "friday")
    assert (done.status, done.err) == (0, "")
    rig = rig_now()
    assert [len(part.songs) for part in rig.setlists[0].sets] == [1, 12]
    assert {song_line(song) for song in rig.songs[1:]} == {
        "Intro 4 crunch, Verse 16 clean-chop, Chorus 8 crunch, Verse, Chorus x2"
    }
    assert "# softly" in Path("rig.toml").read_text()


def test_faults_of_a_list_are_listed_and_nothing_is_written(run: Run, folder: Path) -> None:
    """Each with its line and column."""
    Path("evening.txt").write_text(EVENING.replace("cc", "zz"))
    done = run("import", "rig.toml", "--from", "evening.txt", "--in-place")
    assert done.status == 2
    assert len(done.err.splitlines()) == 12
    assert 'line 12, column 41 (Last Bus): "zz" fits no preset' in done.err
    assert Path("rig.toml").read_text() == RIG
    wrong = run("import", "rig.toml", "--from", "evening.txt", "--in-place", "--setlist", "fryday")
    assert (wrong.status, "did you mean friday?" in wrong.err) == (2, True)


def test_a_songs_line_is_shown_and_written(run: Run, folder: Path) -> None:
    """What is not in the line stays: the cue."""
    assert run("line", "rig.toml", "old-one").out == "Verse 8 crunch\n"
    done = run("line", "rig.toml", "old-one", "Intro 4 cc, Verse 8 cr x2")
    assert (done.status, done.err) == (0, "")
    assert done.out == (
        "Intro 4 clean-chop, Verse 8 crunch x2\nWrote rig.toml: 3 sections, 1 move\n"
    )
    assert [row.cue for row in rig_now().songs[0].sections] == ["", "drums stop", ""]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("old-one", "Verse"), "column 1: Verse is new"),
        (("old-two",), "did you mean old-one?"),
        (("--setlist", "x"), "it has friday"),
        (("old-one", "--setlist", "friday"), "not both"),
    ],
)
def test_what_cannot_be_is_refused(run: Run, folder: Path, words: list[str], said: str) -> None:
    """Exit 2, one message, and the file as it was."""
    done = run("line", "rig.toml", *words)
    assert (done.status, done.out) == (2, "")
    assert said in done.err
    assert Path("rig.toml").read_text() == RIG


def test_a_setlist_is_written_as_a_list_that_is_read_back(run: Run, folder: Path) -> None:
    """Sets, titles, tempi and lines."""
    out = run("line", "rig.toml", "--setlist", "friday").out
    assert out == "First set:\nOld One, 90: Verse 8 crunch\n"
    (drafted,) = read_list(out).songs
    assert (drafted.part, drafted.title, drafted.tempo) == ("First set", "Old One", 90)


@pytest.mark.parametrize(
    "title",
    ["Low Fen", "Set 2", "118", "Em", "7/8", 'A "quoted" one', "1. First", "Fen: Verse 8 a, b",
     "Blues, 120", "Encore:", " x ", "-", "[x]", "Title, tempo"],
)  # fmt: skip
@pytest.mark.parametrize("more", [{"tempo": 118}, {"tempo": 7.5, "meter": "6/8", "beat": "3/8"}])
def test_any_title_comes_back(title: str, more: dict[str, object]) -> None:
    """In quotes where it has to be."""
    song = Song(id="x", title=title, **more)  # type: ignore[arg-type]
    (back,) = read_list(song_text(song)).songs
    assert (back.title, back.tempo, back.meter or "4/4", back.more.get("beat")) == (
        title, song.tempo, song.meter, song.beat,
    )  # fmt: skip


def test_the_demos_songs_come_back_from_the_list(run: Run) -> None:
    """Title, tempo, form and mapping of every song."""
    rig = load(DEMO)[1]
    back = read_list(run("line", DEMO).out).songs
    assert [(song.title, song.tempo) for song in back] == [
        (song.label, song.tempo) for song in rig.songs
    ]
    assert [song.line.text if song.line else "" for song in back] == [
        song_line(song) for song in rig.songs
    ]


def test_a_list_comes_down_a_pipe(run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As from the clipboard; what it is must be said."""
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO(EVENING.encode())))
    done = run("import", "rig.toml", "--from", "-", "--as", "list", "--in-place")
    assert (done.status, len(rig_now().songs)) == (0, 13)
    unsaid = run("import", "rig.toml", "--from", "-", "--in-place")
    assert (unsaid.status, unsaid.err) == (
        2,
        "-: say what it is: --as list, chordpro, midi or csv\n",
    )
