"""`rigtui midi` writes MIDI files, and says what keeps it from doing so."""

from __future__ import annotations

import errno
import io
import os
from pathlib import Path

import mido
import pytest
from cli.conftest import Run
from rigs_made import make_data, preset, section, setlist, song

from rigtui.cli import main
from rigtui.store.toml_write import dump


@pytest.fixture
def wired(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A rig of two songs and one device, in a folder of its own that is the current one."""
    data = make_data(
        midi=[{"id": "echo", "name": "Echo box", "channel": 3}],
        presets=[
            preset("clean", name="Clean", midi=[{"device": "echo", "program": 1}]),
            preset("lead", name="Lead", midi=[{"device": "echo", "program": 12}]),
        ],
        songs=[
            song("low-fen", section("clean", name="Verse"), section("lead", name="Solo")),
            song("tin-moth", section("lead", name="All")),
        ],
        setlists=[setlist("friday", "low-fen", "tin-moth")],
    )
    path = tmp_path / "rig.toml"
    path.write_text(dump(data))
    monkeypatch.chdir(tmp_path)
    return path


def programs(path: Path | io.BytesIO) -> list[tuple[float, int]]:
    """When which program is sent, in seconds, as mido reads the file."""
    file = mido.MidiFile(path) if isinstance(path, Path) else mido.MidiFile(file=path)
    passed, sent = 0.0, []
    for message in file:
        passed += message.time
        if message.type == "program_change":
            sent.append((round(passed, 6), message.program))
    return sent


def test_a_song_goes_into_a_file_of_its_name(run: Run, wired: Path) -> None:
    """The display's 12 is 11 on the wire, 8 s into the song."""
    done = run("midi", "rig.toml", "--song", "low-fen")
    assert (done.status, done.err) == (0, "")
    assert done.out.splitlines() == [
        "Wrote low-fen.mid: 2 sections, 2 presets sent",
        "Programs in the files are 0 to 127, as on the wire.",
    ]
    assert programs(Path("low-fen.mid")) == [(0.0, 0), (8.0, 11)]


def test_the_lead_brings_messages_forward(run: Run, wired: Path) -> None:
    """20 ms before the section: no tick at this tempo is further than 1 ms away."""
    run("midi", "rig.toml", "--song", "low-fen", "--lead", "20", "-o", "a.mid")
    (_, first), (when, second) = programs(Path("a.mid"))
    assert (first, second) == (0, 11)
    assert when == pytest.approx(7.98, abs=0.0006)


def test_every_song_goes_into_a_folder(run: Run, wired: Path) -> None:
    """Without a choice all songs are written, into a folder named after the rig or as asked."""
    assert run("midi", "rig.toml").status == 0
    assert run("midi", "rig.toml", "-o", "cues").status == 0
    for folder in ("rig-midi", "cues"):
        assert sorted(path.name for path in Path(folder).iterdir()) == [
            "low-fen.mid",
            "tin-moth.mid",
        ]


def test_an_evening_goes_into_one_file(run: Run, wired: Path) -> None:
    """16 s, 15 s of gap, 8 s: the preset comes in again with the second song."""
    assert run("midi", "rig.toml", "--setlist", "friday").status == 0
    assert programs(Path("friday.mid")) == [(0.0, 0), (8.0, 11), (31.0, 11)]


def test_a_pipe_gets_the_bytes(wired: Path, capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    """Nothing but the file goes to standard output."""
    assert main(["midi", "rig.toml", "--song", "tin-moth", "-o", "-"]) == 0
    out, err = capsysbinary.readouterr()
    assert err == b""
    assert programs(io.BytesIO(out)) == [(0.0, 11)]


def test_a_terminal_gets_none(run: Run, wired: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Bytes on a terminal would only upset it."""
    terminal = io.TextIOWrapper(io.BytesIO(), encoding="utf-8")
    monkeypatch.setattr(terminal, "isatty", lambda: True)
    monkeypatch.setattr("sys.stdout", terminal)
    assert run("midi", "rig.toml", "--song", "tin-moth", "-o", "-").status == 2
    assert terminal.buffer.tell() == 0


NO_DEVICE = (
    "The rig has no MIDI device ([[midi]] in its file), so the file has only tempo, meter and "
    "section names.\n"
)


def test_a_rig_without_devices_gives_tempo_and_markers(run: Run, wired: Path) -> None:
    """No MIDI in the rig is no reason not to have a click."""
    wired.write_text(dump(make_data(songs=[song("low-fen", section(name="Verse"))])))
    done = run("midi", "rig.toml", "--song", "low-fen")
    assert done == (0, f"Wrote low-fen.mid: 1 section\n{NO_DEVICE}", "")


def test_what_the_rules_find_is_said(run: Run, wired: Path) -> None:
    """A program that the device cannot show is not in the file, and that is said."""
    text = wired.read_text().replace("program = 12", "program = 0")
    wired.write_text(text)
    done = run("midi", "rig.toml", "--song", "low-fen")
    assert done.status == 0
    assert done.err == (
        "1 finding of midi-clash: Lead wants program 0 of Echo box, whose display goes from 1 to "
        "128\n"
    )


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (
            ["rig.toml", "--song", "low-fan"],
            'there is no song with the id "low-fan"; did you mean low-fen?',
        ),
        (["rig.toml", "--setlist", "x"], 'there is no setlist with the id "x"; it has friday'),
        (["rig.toml", "other.toml"], "one file at a time: rig.toml without other.toml"),
        (["rig.toml", "--lead", "-1"], "--lead must be 0 to 10000 milliseconds, not -1"),
        (["rig.toml", "--lead", "nan"], "--lead must be 0 to 10000 milliseconds, not nan"),
        (["rig.toml", "--lead", "soon"], "invalid float value"),
        (["rig.toml", "--port", "USB"], "--port needs send"),
        (["rig.toml", "--song", "low-fen", "-o", "rig.toml"], "already exists and is not a MIDI"),
        (["rig.toml", "--song", "low-fen", "-o", "."], "is a folder"),
        (["rig.toml", "-o", "rig.toml"], "rig.toml is not a folder: choose another name"),
        (["rig.toml", "-o", "no/such"], "there is no folder no; make it first"),
        (["rig.toml", "-o", "-"], "a pipe takes one file"),
        (["gone.toml"], "does not exist"),
        ([], "required"),
    ],
)
def test_mistakes_are_named(run: Run, wired: Path, words: list[str], says: str) -> None:
    """Status 2, one message, and the rig is as it was."""
    before = wired.read_bytes()
    done = run("midi", *words)
    assert (done.status, done.out) == (2, "")
    assert says in done.err
    assert wired.read_bytes() == before
    assert list(wired.parent.iterdir()) == [wired]


@pytest.mark.parametrize("words", [(), ("-o", "cues")])
def test_a_folder_without_files_does_not_stay(
    run: Run, wired: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    """Neither where the disk is full nor where a song is too slow for a MIDI file."""

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(os, "write", full)
        done = run("midi", "rig.toml", *words)
        assert done.status == 2
        assert "the disk is full" in done.err
    wired.write_text(wired.read_text().replace("tempo = 120", "tempo = 3"))
    assert "too slow" in run("midi", "rig.toml", *words).err
    assert list(wired.parent.iterdir()) == [wired]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"tempo": 3}, "Part of low-fen is too slow for a MIDI file, which begins at 3.58"),
        ({"tempo": 1000, "meter": "64/1", "bars": 99_999}, "makes the file too long for MIDI"),
    ],
)
def test_what_no_midi_file_can_say(
    run: Run, wired: Path, changes: dict[str, object], says: str
) -> None:
    """A tempo below three bytes' worth of microseconds, a length above four bytes' of ticks."""
    wired.write_text(dump(make_data(songs=[song("low-fen", section(**changes))])))
    done = run("midi", "rig.toml", "--song", "low-fen")
    assert (done.status, done.out) == (2, "")
    assert says in done.err


def test_no_songs(run: Run, wired: Path) -> None:
    """There is nothing to write, and no empty folder is made."""
    wired.write_text(dump(make_data()))
    assert run("midi", "rig.toml") == (2, "", "rig.toml: this rig has no songs yet\n")
    assert not Path("rig-midi").exists()


def test_a_song_named_like_a_device_gets_a_file_of_its_own(run: Run, tmp_path: Path) -> None:
    """`con.mid` would be the console on Windows."""
    file, folder = tmp_path / "rig.toml", tmp_path / "out"
    rows = [song(id, section(name="Verse")) for id in ("con", "low", "com1")]
    file.write_text(dump(make_data(songs=rows)), encoding="utf-8")
    assert run("midi", str(file), "-o", str(folder)).status == 0
    assert sorted(file.name for file in folder.iterdir()) == ["com1-.mid", "con-.mid", "low.mid"]
