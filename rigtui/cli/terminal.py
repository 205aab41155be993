"""The terminal that text goes to: its width, its colours, and the characters it has."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from typing import NamedTuple, TextIO

from rigtui.model.text import visible

PIPED_WIDTH = 80
NARROWEST, WIDEST = 60, 140
_BLOCKS = "█░…→·×│"
_PLAIN = str.maketrans(
    {"█": "#", "░": ".", "…": "...", "→": "->", "·": "-", "×": "x", "│": "|", "’": "'", "–": "-"}
)
# SGR codes of ECMA-48: bold, faint, and the eight colours that every terminal lets its user set.
_STYLES = {"bold": "1", "faint": "2", "error": "1;31", "warning": "1;33", "advice": "1;36"}


class StandardOutputError(Exception):
    """What a command has to say could not be written, with the system's reason.

    No RigError: no command is to take it for a fault of its file.
    """


class Terminal(NamedTuple):
    """What standard output can show."""

    width: int = PIPED_WIDTH
    colour: bool = False
    encoding: str = "utf-8"
    blocks: bool = True
    """Whether it has block characters, an ellipsis and arrows."""

    def show(self, text: str) -> str:
        """Return a text without anything that the terminal would act on or could not show."""
        text = visible(text)
        if text.isascii() or self.encoding.lower().startswith("utf"):
            return text
        if not self.blocks:
            text = text.translate(_PLAIN)
        return text.encode(self.encoding, "replace").decode(self.encoding)

    def paint(self, text: str, style: str) -> str:
        """Colour a text that is finished: what it holds is not looked at."""
        return f"\x1b[{_STYLES[style]}m{text}\x1b[0m" if self.colour and text else text

    @property
    def ellipsis(self) -> str:
        """What stands for text that was cut off."""
        return self.show("…")


def terminal_of(stream: TextIO | None) -> Terminal:
    """Look at a stream and at what the user has asked for in the environment."""
    encoding = getattr(stream, "encoding", None) or "ascii"
    try:
        _BLOCKS.encode(encoding)
        blocks = True
    except (UnicodeEncodeError, LookupError):
        blocks = False
    is_terminal = stream is not None and stream.isatty()
    return Terminal(_width(stream, is_terminal), _colour(is_terminal), encoding, blocks)


def _width(stream: TextIO | None, is_terminal: bool) -> int:
    if stream is None or not is_terminal:
        return PIPED_WIDTH
    try:
        columns = os.get_terminal_size(stream.fileno()).columns
    except (OSError, ValueError):
        columns = 0
    return max(NARROWEST, min(columns or PIPED_WIDTH, WIDEST))


def _colour(is_terminal: bool) -> bool:
    """Whether to colour. An empty variable counts as one that is not set.

    Source: no-color.org and force-color.org; NO_COLOR wins, then FORCE_COLOR, then TERM.
    """
    if os.environ.get("NO_COLOR"):
        return False
    if os.environ.get("FORCE_COLOR"):
        return True
    if sys.platform == "win32" and not {"WT_SESSION", "TERM"} & os.environ.keys():
        return False  # the old console window prints the codes instead
    return is_terminal and os.environ.get("TERM") != "dumb"


def put(text: str) -> None:
    """Write to standard output; a reader that has gone away, as after `| head`, is no fault.

    Raises:
        StandardOutputError: it could not be written, e.g. the disk is full.
    """
    _put(lambda stream: stream.write(text))


def put_lines(text: str) -> None:
    """Write text of many lines to standard output, without anything that a terminal acts on.

    Raises:
        StandardOutputError: it could not be written.
    """
    put("\n".join(map(terminal_of(sys.stdout).show, text.split("\n"))))


def put_file(content: bytes, binary: str | None = None) -> None:
    """Write a file's content to standard output: as it is into a pipe, made safe on a terminal.

    Args:
        content: The whole file; UTF-8 if it is text.
        binary: What it is, e.g. "a MIDI file", where it is no text; a terminal gets none of that.

    Raises:
        SaveError: it is no text, and standard output is a terminal.
        StandardOutputError: it could not be written.
    """
    if sys.stdout is not None and sys.stdout.isatty():
        if binary is None:
            put_lines(content.decode("utf-8"))
            return
        from rigtui.store.atomic import SaveError

        raise SaveError(f"{binary} can't be shown on a terminal: add -o FILE, or a pipe")
    _put(lambda stream: stream.buffer.write(content))


def _put(write: Callable[[TextIO], object]) -> None:
    stream = sys.stdout
    if stream is None:  # closed by the shell: nobody wants to read it
        return
    try:
        stream.flush()
        write(stream)
        stream.flush()
    except OSError as error:
        # What is still in the buffer would be tried again, and complained of, at exit.
        _to_nowhere(stream)
        if not isinstance(error, BrokenPipeError):
            raise StandardOutputError(str(error.strerror or error)) from error


def _to_nowhere(stream: TextIO) -> None:
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
    except (OSError, ValueError):
        pass


def complain(*lines: str) -> None:
    """Write lines to standard error, each with its control characters made visible."""
    if sys.stderr is None:
        return
    try:
        sys.stderr.write("".join(f"{visible(line)}\n" for line in lines))
        sys.stderr.flush()
    except OSError:
        _to_nowhere(sys.stderr)


def complain_of_fault(fault: Exception) -> None:
    """Own up to a fault of the program in one line: what it means for the player's work, and where
    to find what whoever mends it needs."""
    from rigtui.store.faults import what_to_report

    notes = "".join(f" {note}" for note in getattr(fault, "__notes__", ()))
    complain(
        f"This is a fault in rigtui, not in your file, which is unchanged.{notes} "
        f"Please report {what_to_report(fault)}"
    )


def complain_of_file(file: str, problems: Iterable[str]) -> None:
    """Write what is wrong with a file to standard error, one problem a line."""
    complain(*(f"{file}: {problem}" for problem in problems))
