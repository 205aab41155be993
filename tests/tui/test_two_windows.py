"""Two running programs on one file, each in a terminal: whoever saves second is asked."""

from __future__ import annotations

import contextlib
import os
import signal
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from patience import PATIENCE_SECONDS
from tui.test_killed import rig_file, started

from rigtui.store.load import load
from rigtui.store.recovery import others_open, recovered
from rigtui.store.versions import versions


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A rig of two presets and a loop."""
    return rig_file(tmp_path, "dry", "wet", above="# mine\n")


class Window:
    """One program in a terminal of its own."""

    def __init__(self, terminal: int) -> None:
        self.terminal, self.seen = terminal, b""
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        """Take all that the program draws, or it would wait for somebody to do so."""
        with contextlib.suppress(OSError):
            while more := os.read(self.terminal, 65536):
                self.seen += more

    def press(self, keys: str) -> None:
        """Type; what is shown from now on is what comes of it."""
        self.seen = b""
        os.write(self.terminal, keys.encode())

    def shows(self, *words: str) -> None:
        """Wait until the program has drawn some words."""
        until(lambda: all(word.encode() in self.seen for word in words), lambda: self.seen[-800:])


@contextmanager
def window(file: Path) -> Iterator[Window]:
    """The program, open on a file."""
    child, terminal = started("-m", "rigtui", str(file))
    try:
        opened = Window(terminal)
        opened.shows("dry", "moves")
        yield opened
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(terminal)


def until(true: object, shown: object = lambda: "") -> None:
    """Wait for something that another process does."""
    assert callable(true)
    assert callable(shown)
    end = time.monotonic() + PATIENCE_SECONDS
    while not true():
        assert time.monotonic() < end, shown()
        time.sleep(0.02)


def loops_in(file: Path) -> list[tuple[int, ...]]:
    """The loops of each preset, as the file has them."""
    return [preset.loops for preset in load(file)[1].presets]


def test_both_edits_are_in_the_file(file: Path) -> None:
    """One saves; the other is asked, merges, and then both are there, with the comment."""
    with window(file) as saver:
        until(lambda: others_open(file) == 1)
        with window(file) as asked:
            until(lambda: others_open(file) == 2)
            asked.press("\x1b[B ")  # down, and switch the loop
            asked.shows("Loop 1 (on)")
            saver.press(" s")
            until(lambda: loops_in(file) == [(1,), ()])
            first = file.read_text()
            asked.press("s")
            asked.shows("merge")
            assert file.read_text() == first, "nothing is written before the answer"
            asked.press("m")
            asked.press("s")
            until(lambda: loops_in(file) == [(1,), (1,)])
            assert file.read_text().startswith("# mine\n")
            until(lambda: first in [version.text for version in versions(file)])
    assert recovered(file) == [] or recovered(file)[0].rig == load(file)[1]
