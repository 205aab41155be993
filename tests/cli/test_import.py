"""`rigtui import` and `rigtui export`: songs in and out, and nothing half-written."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pytest
from cli.conftest import Run

from rigtui.cli.importing import NoAnswerError, ask_all
from rigtui.model import Rig
from rigtui.store.atomic import SaveError
from rigtui.store.importing.chordpro import read_chordpro
from rigtui.store.importing.into import put_in
from rigtui.store.load import load
from rigtui.store.versions import versions

RIG = """\
# a rig of mine
format = 1
name = "Quay rig"

[[presets]]
id = "clean"   # softly
[[presets]]
id = "rock"

[[songs]]
id = "old-one"
title = "Old One"
tempo = 90
"""
SHEET = "{title: Low Fen}\n{tempo: 60}\n{time: 6/8}\n{sov}\nla\n{eov}\n{soc}\nla\n{eoc}\n{chorus}\n"
ALL = ("--bars", "Verse=16,Chorus=8", "--map", "Verse=clean,Chorus=rock", "--beat", "3/8")


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a rig and a song sheet, the current one."""
    (tmp_path / "rig.toml").write_text(RIG)
    (tmp_path / "low.cho").write_text(SHEET)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_into_the_file_itself(run: Run, folder: Path) -> None:
    """The song comes behind the others, and the player's comments stay."""
    done = run("import", "rig.toml", "--from", "low.cho", "--in-place", *ALL)
    assert done == (0, "Low Fen: added, 3 sections\nWrote rig.toml\n", "")
    text = Path("rig.toml").read_text()
    assert text.startswith(RIG)
    rig = load(Path("rig.toml"))[1]
    song = rig.songs[1]
    assert (song.id, song.tempo, song.meter, song.beat) == ("low-fen", 60, "6/8", "3/8")
    assert [(s.name, s.bars, s.preset) for s in song.sections] == [
        ("Verse", 16, "clean"), ("Chorus", 8, "rock"), ("Chorus", 8, "rock"),
    ]  # fmt: skip


def test_into_the_file_itself_with_a_way_back(run: Run, folder: Path) -> None:
    """A song that was replaced comes back: what the file held is a restore point."""
    words = ("import", "rig.toml", "--from", "low.cho", "--in-place", "--same", "replace")
    assert run(*words, *ALL).status == 0
    before = Path("rig.toml").read_bytes()
    Path("low.cho").write_text("{title: Low Fen}\n{tempo: 60}\n{time: 4/4}\n{sov}\nla\n{eov}\n")
    assert run(*words, "--bars", "Verse=2", "--map", "Verse=clean").out.startswith(
        "Low Fen: replaced, 1 section"
    )
    assert [version.text.encode() for version in versions(Path("rig.toml"))] == [
        Path("rig.toml").read_bytes(), before, RIG.encode(),
    ]  # fmt: skip
    assert run("restore", "rig.toml", "2").status == 0
    assert Path("rig.toml").read_bytes() == before


def test_without_a_way_back_it_is_told(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where nothing can be kept the songs go in all the same, and the player hears of it."""
    monkeypatch.setenv("XDG_STATE_HOME", str(folder / "rig.toml"))
    done = run("import", "rig.toml", "--from", "low.cho", "--in-place", *ALL)
    assert (done.status, done.out) == (0, "Low Fen: added, 3 sections\nWrote rig.toml\n")
    assert done.err == (
        "rig.toml: written, but the earlier version of rig.toml could not be kept: "
        "their folder can't be made (not a directory)\n"
    )


def test_into_a_new_file(run: Run, folder: Path) -> None:
    """The rig is as it was, and the new file has its comments too."""
    done = run("import", "rig.toml", "--from", "low.cho", "--write", "new.toml", *ALL)
    assert done.status == 0
    assert Path("rig.toml").read_text() == RIG
    assert Path("new.toml").read_text().startswith(RIG)


def test_what_is_missing_is_listed_at_once(run: Run, folder: Path) -> None:
    """Each with the option that says it; nothing is written."""
    done = run("import", "rig.toml", "--from", "low.cho", "--in-place")
    assert (done.status, done.out) == (2, "")
    assert done.err.splitlines() == [
        "rigtui import: 5 answers missing; nothing was written. One answer can cover many: "
        '--bars "Verse=16,*=8" --map "*=-"',
        '  Low Fen, Verse: bars: --bars "Verse=16"',
        '  Low Fen, Verse: preset: --map "Verse=PRESET"',
        '  Low Fen, Chorus: bars: --bars "Chorus=16"',
        '  Low Fen, Chorus: preset: --map "Chorus=PRESET"',
        '  Low Fen, which note gets the beat at 60 in 6/8: --beat "Low Fen=3/8"',
    ]
    assert Path("rig.toml").read_text() == RIG


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--from", "low.cho"], "one of the arguments --in-place --write --check is required"),
        (["--in-place"], "the following arguments are required: --from"),
        (["--from", "gone.cho", "--check"], "gone.cho: it does not exist"),
        (["--from", "low.doc", "--check"], "low.doc: its name doesn't say what it is"),
        (["--from", "rig.toml", "--check", "--as", "midi"], "rig.toml: it is not a Standard MIDI"),
        (
            ["--from", "rig.toml", "--check", "--as", "csv"],
            "rig.toml: its first line has no column",
        ),
        (["--from", "bad.toml", "--check"], "bad.toml: line 1: name: is missing"),
        (["--from", "low.cho", "--check", "--songs", "x"], 'it has no song with the id "x"'),
        (["--from", "low.cho", "--check", *ALL, "--bars", "Vers=4"], "did you mean Verse?"),
        (["--from", "low.cho", "--check", *ALL, "--map", "Verse=rok"], "did you mean rock?"),
        (["--from", "low.cho", "--write", "rig.toml", *ALL], "rig.toml already exists"),
        (["--from", "low.cho", "--write", "no/such.toml", *ALL], "there is no folder no"),
    ],
)
def test_mistakes_are_named(run: Run, folder: Path, words: list[str], says: str) -> None:
    """Status 2, and the rig is as it was."""
    Path("bad.toml").write_text("format = 1\n")
    done = run("import", "rig.toml", *words)
    assert (done.status, done.out) == (2, "")
    assert says in done.err
    assert Path("rig.toml").read_text() == RIG


@pytest.mark.parametrize("landed", [True, False])
def test_it_is_said_whether_a_new_file_is_there(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch, landed: bool
) -> None:
    """A file that was written but may not last is not called one that was not written."""
    refused = SaveError("it may not outlast a power cut")
    refused.landed = landed

    def save_new(*_: object) -> None:
        raise refused

    monkeypatch.setattr("rigtui.cli.importing.save_new", save_new)
    done = run("import", "rig.toml", "--from", "low.cho", "--write", "new.toml", *ALL)
    nothing = "" if landed else "; nothing was written"
    assert (done.status, done.err) == (
        2,
        f"rigtui import: new.toml: it may not outlast a power cut{nothing}\n",
    )


def test_check_writes_nothing(run: Run, folder: Path) -> None:
    """It says what would come in, and what was read in a way to know of."""
    Path("low.cho").write_text(SHEET + "\nla la\n")
    done = run("import", "rig.toml", "--from", "low.cho", "--check", *ALL)
    assert done == (
        0,
        "Low Fen: added, 4 sections\n"
        "note: 1 passage outside any section: taken as Verse, as ChordPro says\n"
        "Nothing is missing; nothing was written.\n",
        "",
    )
    assert Path("rig.toml").read_text() == RIG


def test_a_file_that_changed_meanwhile_is_left_alone(
    run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another program's save is not written over."""

    def meanwhile(rig: Rig, filled: object, slot: object, lasting: object) -> object:
        Path("rig.toml").write_text(RIG + "# later\n")
        return put_in(rig, filled)  # type: ignore[arg-type]

    monkeypatch.setattr("rigtui.cli.importing.put_in", meanwhile)
    done = run("import", "rig.toml", "--from", "low.cho", "--in-place", *ALL)
    assert done.status == 2
    assert "another program changed rig.toml" in done.err
    assert Path("rig.toml").read_text() == RIG + "# later\n"


# On a terminal


def typed(*answers: str) -> Iterator[str]:
    """Answers, one after another."""
    return iter(answers)


def test_questions_are_asked_in_one_pass(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Wrong answers are told what is wrong; an answer is offered for the next of the same name."""
    rig = load(Path("rig.toml"))[1]
    text = SHEET.replace("{time: 6/8}\n", "") + "{ns}\n{t: Tin Moth}\n" + SHEET.split("\n", 1)[1]
    answers = typed(
        "6/8", "many", "16", "clean", "", "8", "rock", "3/8",  # Low Fen; bars twice wrong
        "", "", "", "", "",  # Tin Moth: as before
    )  # fmt: skip
    prompts: list[str] = []

    def ask(prompt: str) -> str | None:
        prompts.append(prompt)
        return next(answers, None)

    done = ask_all(read_chordpro(text, "file"), [], rig, None, ask)
    new, _ = put_in(rig, done)
    assert [(s.bars, s.preset) for s in new.songs[2].sections] == [
        (16, "clean"), (8, "rock"), (8, "rock"),
    ]  # fmt: skip
    assert new.songs[1].sections == new.songs[2].sections
    assert (new.songs[1].meter, new.songs[1].beat) == ("6/8", "3/8")
    assert prompts[0] == "Low Fen, meter, such as 4/4: "
    assert "Tin Moth, Verse: bars [16]: " in prompts
    assert prompts[-1].startswith("Tin Moth, which note gets the beat at ")
    assert prompts[-1].endswith(" [3/8]: ")
    out = capsys.readouterr().out
    assert out.startswith("Presets: clean, rock. - leaves a section unmapped")
    assert '  bars: must be a number, not "many"' in out


def test_numbered_names_offer_the_last_answer(folder: Path) -> None:
    """Verse 2 is offered what Verse 1 got; nought bars need no preset."""
    rig = load(Path("rig.toml"))[1]
    text = (
        "{t: X}\n{tempo: 90}\n{time: 4/4}\n"
        "{sov: Verse 1}\n{eov}\n{sov: Verse 2}\n{eov}\n{sot}\n{eot}"
    )
    answers = typed("16", "clean", "", "rock", "0")
    prompts: list[str] = []

    def ask(prompt: str) -> str | None:
        prompts.append(prompt)
        return next(answers, None)

    done = ask_all(read_chordpro(text, "file"), [], rig, None, ask)
    assert [(s.bars, s.preset) for s in put_in(rig, done)[0].songs[1].sections] == [
        (16, "clean"), (16, "rock"),
    ]  # fmt: skip
    assert prompts == [
        "X, Verse 1: bars: ",
        "X, Verse 1: preset: ",
        "X, Verse 2: bars [16]: ",
        "X, Verse 2: preset [clean]: ",
        "X, Tab: bars: ",
    ]


def test_stopping_writes_nothing(run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The end of input in the middle of the questions leaves the rig alone."""
    monkeypatch.setattr("rigtui.cli.importing._is_terminal", lambda stream: True)
    monkeypatch.setattr("sys.stdin", io.StringIO("16\n"))
    done = run("import", "rig.toml", "--from", "low.cho", "--in-place")
    assert done.status == 2
    assert done.err == "rigtui import: stopped; nothing was written\n"
    assert Path("rig.toml").read_text() == RIG


def test_answers_on_a_terminal(run: Run, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Given one a line, they do what the options do."""
    monkeypatch.setattr("rigtui.cli.importing._is_terminal", lambda stream: True)
    monkeypatch.setattr("sys.stdin", io.StringIO("16\nclean\n8\nrock\n3/8\n"))
    done = run("import", "rig.toml", "--from", "low.cho", "--in-place")
    assert (done.status, done.err) == (0, "")
    assert done.out.endswith("Low Fen: added, 3 sections\nWrote rig.toml\n")
    assert len(load(Path("rig.toml"))[1].songs[1].sections) == 3


def test_songs_that_are_there_are_asked_about(folder: Path) -> None:
    """Replace, add or skip: the answer holds for all."""
    rig = load(Path("rig.toml"))[1]
    draft = read_chordpro("{t: Old One}\n{tempo: 100}\n{time: 4/4}", "file")
    answers = typed("maybe", "replace")
    done = ask_all(draft, [], rig, None, lambda prompt: next(answers, None))
    assert [(song.id, song.tempo) for song in put_in(rig, done)[0].songs] == [("old-one", 100)]
    with pytest.raises(NoAnswerError):
        ask_all(draft, [], rig, None, lambda prompt: None)


# Out and in again


def test_export_and_import_change_nothing(run: Run, folder: Path) -> None:
    """The file is the same byte for byte after its songs went out as CSV and came back."""
    run("import", "rig.toml", "--from", "low.cho", "--in-place", *ALL)
    before = Path("rig.toml").read_bytes()
    assert run("export", "rig.toml", "-o", "songs.csv").out == "Wrote songs.csv: 2 songs\n"
    done = run("import", "rig.toml", "--from", "songs.csv", "--in-place", "--same", "replace")
    assert (done.status, done.err) == (0, "")
    assert Path("rig.toml").read_bytes() == before


def test_some_songs_to_a_pipe(run: Run, folder: Path) -> None:
    """Only the table, and only that song."""
    done = run("export", "rig.toml", "-o", "-", "--song", "old-one")
    assert done.out.splitlines()[1].startswith("old-one,Old One,90,")
    assert len(done.out.splitlines()) == 2


def test_a_setlists_songs(run: Run, folder: Path) -> None:
    """Each once, in the rig's order."""
    row = (
        '[[songs]]\nid = "b"\ntempo = 1\n[[setlists]]\nid = "x"\nsets = [{ songs = ["b", "b"] }]\n'
    )
    Path("rig.toml").write_text(RIG + row)
    done = run("export", "rig.toml", "-o", "-", "--setlist", "x")
    assert [line.split(",")[0] for line in done.out.splitlines()] == ["song", "b"]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["-o", "rig.toml"], "rig.toml already exists and is not such a table"),
        (["-o", "-", "--song", "x"], 'there is no song with the id "x"; it has old-one'),
        (["-o", "-", "--setlist", "x"], 'there is no setlist with the id "x"; it has none'),
    ],
)
def test_export_mistakes(run: Run, folder: Path, words: list[str], says: str) -> None:
    """Status 2, and nothing is written over."""
    done = run("export", "rig.toml", *words)
    assert (done.status, done.out) == (2, "")
    assert says in done.err
    assert Path("rig.toml").read_text() == RIG


def test_songs_from_another_rig(run: Run, folder: Path) -> None:
    """With presets mapped by the player, and only those asked for."""
    other = RIG.replace("old-one", "b").replace("Old One", "B").replace("rock", "solo")
    Path("other.toml").write_text(
        other + 'sections = [{ name = "All", bars = 4, preset = "solo" }]\n'
        '[[songs]]\nid = "c"\ntempo = 80\n'
    )
    words = ("import", "rig.toml", "--from", "other.toml", "--in-place", "--songs", "b")
    done = run(*words)
    assert 'preset for its solo: --map "solo=PRESET"' in done.err
    assert run(*words, "--map", "solo=rock").status == 0
    songs = load(Path("rig.toml"))[1].songs
    assert [(song.id, len(song.sections)) for song in songs] == [("old-one", 0), ("b", 1)]
    assert songs[1].sections[0].preset == "rock"
