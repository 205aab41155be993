"""What standard output can show is found out once: colour, width, characters."""

from __future__ import annotations

import io
import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import TextIO

import pytest
from rigs_made import make_data, preset, section, song

from rigtui.cli import main
from rigtui.cli.terminal import Terminal, terminal_of
from rigtui.store.toml_write import dump


class TerminalStream(io.TextIOWrapper):
    """A stream that says it is a terminal."""

    def __init__(self, encoding: str = "utf-8") -> None:
        super().__init__(io.BytesIO(), encoding=encoding)

    def isatty(self) -> bool:
        return True


HOSTILE = "\x1b]0;owned\x07\x9b2J\u202e"
"""A title that renames the window, wipes the screen and turns the line round."""


@pytest.fixture
def hostile(tmp_path: Path) -> Path:
    """A rig with such a title, in the current folder."""
    path = tmp_path / "rig.toml"
    rows = [song("low-fen", section("clean", name=HOSTILE), title=HOSTILE, note=HOSTILE)]
    text = dump(make_data(presets=[preset("clean", name=HOSTILE)], songs=rows))
    path.write_text(text, encoding="utf-8")
    return path


TO_STANDARD_OUTPUT = [
    ["export", "FILE", "-o", "-"],
    *(["sheet", "floor", "FILE", "--format", format] for format in ("text", "md", "html")),
    ["report", "FILE"],
    ["report", "FILE", "--json"],
    ["restore", "FILE"],
    ["restore", "FILE", "--json"],
]


@pytest.mark.parametrize("words", TO_STANDARD_OUTPUT, ids=" ".join)
def test_a_terminal_gets_nothing_that_it_acts_on(
    hostile: Path, monkeypatch: pytest.MonkeyPatch, words: list[str]
) -> None:
    """Whatever a file holds; what a pipe gets is for other programs."""
    screen = TerminalStream()
    monkeypatch.setattr("sys.stdout", screen)
    main([str(hostile) if word == "FILE" else word for word in words])
    shown = screen.buffer.getvalue().decode()  # type: ignore[attr-defined]
    assert shown
    coloured = re.sub(r"\x1b\[[0-9;]*m", "", shown)
    assert not set(coloured) & {"\x1b", "\x07", "\x9b", "\u202e"}


def test_a_pipe_gets_the_table_as_it_is(
    hostile: Path, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    """Byte for byte what a file gets, in UTF-8 whatever the terminal's encoding."""
    assert main(["export", str(hostile), "-o", str(hostile.parent / "songs.csv")]) == 0
    capsysbinary.readouterr()
    assert main(["export", str(hostile), "-o", "-"]) == 0
    piped = capsysbinary.readouterr().out
    assert piped == (hostile.parent / "songs.csv").read_bytes()
    assert HOSTILE.encode() in piped


@pytest.mark.parametrize("is_terminal", [True, False])
@pytest.mark.parametrize(
    ("environment", "piped", "on_a_terminal"),
    [
        ({"TERM": "xterm"}, False, True),
        ({"TERM": "dumb"}, False, False),
        ({"TERM": "xterm", "NO_COLOR": "1"}, False, False),
        ({"TERM": "xterm", "NO_COLOR": ""}, False, True),  # empty counts as not set
        ({"TERM": "xterm", "NO_COLOR": "0"}, False, False),  # any text counts
        ({"TERM": "xterm", "FORCE_COLOR": "1"}, True, True),
        ({"TERM": "xterm", "FORCE_COLOR": ""}, False, True),
        ({"TERM": "dumb", "FORCE_COLOR": "1"}, True, True),
        ({"TERM": "xterm", "NO_COLOR": "1", "FORCE_COLOR": "1"}, False, False),
    ],
)
def test_colour_follows_terminal_and_environment(
    monkeypatch: pytest.MonkeyPatch,
    environment: dict[str, str],
    piped: bool,
    on_a_terminal: bool,
    is_terminal: bool,
) -> None:
    """Source: no-color.org, force-color.org."""
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    stream = TerminalStream() if is_terminal else io.StringIO()
    assert terminal_of(stream).colour is (on_a_terminal if is_terminal else piped)


@pytest.mark.parametrize("variable", ["WT_SESSION", "TERM", None])
def test_an_old_console_window_gets_no_colour(
    monkeypatch: pytest.MonkeyPatch, variable: str | None
) -> None:
    """On Windows only a terminal that makes itself known is sure to take colour codes."""
    monkeypatch.setattr("sys.platform", "win32")
    for name in ("WT_SESSION", "TERM"):
        monkeypatch.delenv(name, raising=False)
    if variable:
        monkeypatch.setenv(variable, "x")
    assert terminal_of(TerminalStream()).colour is (variable is not None)


@pytest.fixture
def terminal() -> Iterator[TextIO]:
    """The inner end of a real pseudo-terminal."""
    pty = pytest.importorskip("pty")
    outer, inner = pty.openpty()
    with open(inner, "w", encoding="utf-8") as stream:
        yield stream
    os.close(outer)


@pytest.mark.parametrize(("columns", "width"), [(100, 100), (30, 60), (400, 140), (0, 80)])
def test_width_is_the_terminals_within_reason(terminal: TextIO, columns: int, width: int) -> None:
    """Lines use the room there is, but stay readable; a terminal that does not know gives 80."""
    termios = pytest.importorskip("termios")
    termios.tcsetwinsize(terminal.fileno(), (24, columns))
    assert terminal_of(terminal).width == width


@pytest.mark.parametrize(
    "stream", [None, io.StringIO(), TerminalStream()], ids=["closed", "pipe", "odd"]
)
def test_width_is_80_where_there_is_no_terminal(stream: TextIO | None) -> None:
    """A pipe, a closed stream, and one that only says it is a terminal all get 80 columns."""
    assert terminal_of(stream).width == 80


@pytest.mark.parametrize(
    ("encoding", "blocks"),
    [("utf-8", True), ("ascii", False), ("latin-1", False), ("cp1252", False), ("cp437", False)],
)
def test_block_characters_only_where_the_encoding_has_them(encoding: str, blocks: bool) -> None:
    """An encoding that lacks one of the marks gets plain ones for all."""
    assert terminal_of(TerminalStream(encoding)).blocks is blocks


@pytest.mark.parametrize(
    ("terminal", "text", "shown"),
    [
        (Terminal(), "1 → 2 … 夜 é █", "1 → 2 … 夜 é █"),
        (Terminal(encoding="ascii", blocks=False), "1 → 2 … 夜 é █░", "1 -> 2 ... ? ? #."),
        (Terminal(encoding="cp437", blocks=False), "1 → 夜 é", "1 -> ? é"),
        (Terminal(encoding="gb18030", blocks=True), "1 → 夜", "1 → 夜"),
        (Terminal(), "\x1b[31m\t\n\x9b\u202e[bold]", "␛[31m␉␊\ufffd\ufffd[bold]"),
        (Terminal(encoding="ascii", blocks=False), "\x1b[31m", "?[31m"),
    ],
)
def test_text_is_shown_as_far_as_can_be(terminal: Terminal, text: str, shown: str) -> None:
    """What the terminal would act on is made visible, what it lacks is replaced."""
    assert terminal.show(text) == shown


def test_painting_is_left_out_without_colour() -> None:
    """A style adds nothing where there is no colour, and nothing to an empty text."""
    assert Terminal().paint("Errors", "error") == "Errors"
    assert Terminal(colour=True).paint("", "error") == ""
    assert Terminal(colour=True).paint("Errors", "bold") == "\x1b[1mErrors\x1b[0m"
