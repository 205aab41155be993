"""`rigtui midi ports` and `rigtui midi send` on a backend that keeps what it gets."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import mido
import pytest
from cli import loopback_backend as loopback
from cli.conftest import Run
from cli.test_midi import wired
from rigs_made import make_data, preset, song

from rigtui.store.toml_write import dump

__all__ = ["wired"]


@pytest.fixture
def loop(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Make mido use the backend that keeps what it gets, empty."""
    monkeypatch.setattr(mido, "backend", mido.Backend("cli.loopback_backend"))
    loopback.SENT.clear()
    loopback.FAULTS.clear()
    yield
    loopback.FAULTS.clear()


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> io.StringIO:
    """What will be typed."""
    lines = io.StringIO()
    monkeypatch.setattr("sys.stdin", lines)
    return lines


def keys(typed: io.StringIO, *lines: str) -> None:
    """Type lines."""
    typed.write("".join(f"{line}\n" for line in lines))
    typed.seek(0)


def test_ports_are_listed(run: Run, loop: None) -> None:
    """One a line, and nothing in a name reaches the terminal as it is."""
    assert run("midi", "ports") == (0, "Desk USB 1\nDesk USB 2\nLoop ␛[31mback\n", "")


def test_a_preset_is_sent(run: Run, wired: Path, loop: None) -> None:
    """Its messages go to the port, and what went is said in both counts.

    Source: C2 0B is program change on channel 3, program 11 (MIDI 1.0 message table).
    """
    done = run("midi", "send", "rig.toml", "lead", "--port", "usb 2")
    assert (done.status, done.err) == (0, "")
    assert done.out == "Sent Lead\n  Echo box: channel 3, program change 11 on the wire\n"
    assert loopback.SENT == [("Desk USB 2", [0xC2, 0x0B])]


def test_a_song_is_stepped_through(run: Run, wired: Path, loop: None, typed: io.StringIO) -> None:
    """Enter sends the next cue, b goes back to the one before, other words explain."""
    keys(typed, "", "what", "b", "", "")
    done = run("midi", "send", "rig.toml", "--song", "low-fen", "--port", "Desk USB 1")
    assert (done.status, done.err) == (0, "")
    assert [sent for _, sent in loopback.SENT] == [[0xC2, 0], [0xC2, 0], [0xC2, 11]]
    assert done.out.count("Enter sends, b goes back, q ends.") == 2
    assert "2/2 Solo: Lead > " in done.out


@pytest.mark.parametrize("lines", [["q"], ["Q"], []])
def test_stepping_ends(
    run: Run, wired: Path, loop: None, typed: io.StringIO, lines: list[str]
) -> None:
    """By q, and at the end of what is typed."""
    keys(typed, *lines)
    assert run("midi", "send", "rig.toml", "--song", "low-fen", "--port", "USB 1").status == 0
    assert loopback.SENT == []


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["rig.toml", "lead"], "name a port with --port; there are Desk USB 1, Desk USB 2, Loop"),
        (["rig.toml", "lead", "--port", "desk"], '"desk" fits 2 ports: Desk USB 1, Desk USB 2'),
        (["rig.toml", "lead", "--port", "Dusk USB 1"], "did you mean Desk USB 1?"),
        (["rig.toml", "lead", "--port", "zzz"], 'there is no port "zzz"; there are Desk'),
        (["rig.toml", "leed", "--port", "USB 1"], "did you mean lead?"),
        (["rig.toml", "--song", "x", "--port", "USB 1"], 'there is no song with the id "x"'),
        (["rig.toml", "--port", "USB 1"], "give FILE PRESET, or FILE --song ID"),
        (["rig.toml", "lead", "lead", "--port", "USB 1"], "give FILE PRESET, or FILE --song ID"),
        (["rig.toml", "lead", "-o", "a.mid"], "sending takes a preset or --song, and --port"),
        (["rig.toml", "lead", "--lead", "20"], "sending takes a preset or --song, and --port"),
        (["gone.toml", "lead", "--port", "USB 1"], "does not exist"),
    ],
)
def test_mistakes_are_named(run: Run, wired: Path, loop: None, words: list[str], says: str) -> None:
    """Status 2, one message, nothing sent."""
    done = run("midi", "send", *words)
    assert (done.status, done.out) == (2, "")
    assert says in done.err
    assert loopback.SENT == []


def test_ports_takes_no_words(run: Run, loop: None) -> None:
    """A word too many is named."""
    done = run("midi", "ports", "please")
    assert done == (2, "", "rigtui midi ports: there are words too many: leave out please\n")


def test_silent_presets_and_songs(run: Run, wired: Path, loop: None) -> None:
    """What sends nothing says so."""
    silent = [preset("lead")]
    wired.write_text(dump(make_data(presets=silent, songs=[song("low-fen", "lead", "lead")])))
    done = run("midi", "send", "rig.toml", "lead", "--port", "USB 1")
    assert done.err == "rigtui midi send: lead sends nothing: it has no midi in the file\n"
    done = run("midi", "send", "rig.toml", "--song", "low-fen", "--port", "USB 1")
    assert "low-fen sends nothing" in done.err


def test_a_port_that_goes_away(run: Run, wired: Path, loop: None) -> None:
    """Whatever a backend raises becomes one message."""
    loopback.FAULTS.append(RuntimeError("cable out"))
    done = run("midi", "send", "rig.toml", "lead", "--port", "USB 1")
    assert done == (2, "", "rigtui midi send: the port accepts nothing more: cable out\n")


def test_without_the_extra(run: Run, wired: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The message says what to install, and what works without it."""
    monkeypatch.setattr(mido, "backend", mido.Backend("no_such_module_at_all"))
    for words in (["ports"], ["send", "rig.toml", "lead", "--port", "USB"]):
        done = run("midi", *words)
        assert (done.status, done.out) == (2, "")
        assert 'pip install "rigtui[live]"' in done.err
