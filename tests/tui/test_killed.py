"""The program itself, in a terminal, ended without a word: what was typed is offered afterwards."""

from __future__ import annotations

import os
import select
import signal
import sys
from pathlib import Path

import pytest
from patience import PATIENCE_SECONDS
from rigs_made import loop, make_data, pedal, preset, switcher

from rigtui.store.load import load
from rigtui.store.recovery import Recovered, recovered
from rigtui.store.splice import dump
from rigtui.store.state import state_folder

pty = pytest.importorskip("pty", reason="this system has no pseudo-terminals")


def rig_file(folder: Path, *presets: str, above: str = "") -> Path:
    """A file with a rig of one loop and some presets, below some text."""
    path = folder / "rig.toml"
    data = make_data(
        switcher=switcher(),
        pedals=[pedal("echo")],
        loops=[loop(1, "echo")],
        presets=[preset(preset_id) for preset_id in presets],
    )
    path.write_text(above + dump(data), encoding="utf-8")
    return path


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A rig of one preset and one loop."""
    return rig_file(tmp_path, "dry")


def read_until(terminal: int, done: object) -> None:
    """Take what the program draws until something holds."""
    assert callable(done)
    seen = b""
    while not done(seen):
        ready, _, _ = select.select([terminal], [], [], PATIENCE_SECONDS)
        assert ready, f"the program fell silent: {seen[-500:]!r}"
        seen += os.read(terminal, 65536)


def started(*words: str) -> tuple[int, int]:
    """Start Python in a terminal of its own; return its process and that terminal.

    What runs the tests may have it ignore signals, as a shell does in the background; a program
    that a player starts does not.
    """
    child, terminal = pty.fork()
    if child == 0:
        for number in (signal.SIGHUP, signal.SIGINT, signal.SIGTERM):
            signal.signal(number, signal.SIG_DFL)
        os.environ |= {"TERM": "xterm-256color", "COLUMNS": "100", "LINES": "30"}
        os.execv(sys.executable, [sys.executable, *words])
    return child, terminal


def killed_after_an_edit(file: Path, how: signal.Signals) -> list[Recovered]:
    """Open a file in a terminal, switch a loop, end the program, and look what is kept."""
    child, terminal = started("-m", "rigtui", str(file))
    try:
        read_until(terminal, lambda seen: b"dry" in seen and b"moves" in seen)
        os.write(terminal, b" ")
        # The clock in the journal's worker goes on; each key makes the program draw.
        read_until(terminal, lambda _: _journaled() or not os.write(terminal, b"??\x1b"))
    finally:
        if how is signal.SIGHUP:
            os.close(terminal)  # the window is closed, and the system tells the program so
        else:
            os.kill(child, how)
        _, status = os.waitpid(child, 0)
    if how is signal.SIGKILL:
        assert os.waitstatus_to_exitcode(status) == -signal.SIGKILL
    return recovered(file)


def _journaled() -> bool:
    return any(state_folder("recovery").glob("*.json"))


@pytest.mark.parametrize(
    "how", [signal.SIGKILL, signal.SIGTERM, signal.SIGHUP], ids=lambda s: s.name
)
def test_an_edit_outlives_the_program(file: Path, how: signal.Signals) -> None:
    """Killed, ended by the system, or its window closed; the file is as it was."""
    before = file.read_bytes()
    (recovered,) = killed_after_an_edit(file, how)
    assert recovered.rig.presets[0].loops == (1,)
    assert recovered.base == load(file)[1]
    assert file.read_bytes() == before
