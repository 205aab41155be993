"""The last breath: what ends the program unexpectedly leaves the edits, and a line that helps."""

from __future__ import annotations

import os
import re
import signal
from pathlib import Path

import pytest
from rigs_made import preset
from screens import SMALL, app_of, on_screen
from tui.test_killed import file, read_until, started

from rigtui.store.faults import FAULTS_KEPT, keep_fault, what_to_report
from rigtui.store.load import load
from rigtui.store.recovery import recovered
from rigtui.store.state import state_folder
from rigtui.tui.last_breath import TerminalFault

__all__ = ["file"]

FAILS = """
import sys
from rigtui.tui.app import RigApp

def fails(app):
    secret = "a song " + "of one's" + " own"
    raise LookupError("no such thing")

{how}
from rigtui.cli import main
sys.exit(main([sys.argv[1]]))
"""
BY_KEY = "RigApp.action_help = fails"
BY_TIMER = "RigApp.action_help = lambda app: app.set_timer(0.001, lambda: fails(app))"
BY_WORKER = """
async def worker(app):
    fails(app)
RigApp.action_help = lambda app: app.run_worker(worker(app))
"""
AT_THE_END = """
RigApp._on_exit_app = fails
RigApp.action_help = lambda app: app.exit(0)
"""
BY_READER = """
from textual.drivers.linux_driver import LinuxDriver
reads = LinuxDriver.process_message
def reader(driver, event):
    if getattr(event, "character", "") == "?":
        fails(driver)
    reads(driver, event)
LinuxDriver.process_message = reader
"""
ALL = {
    "a key": BY_KEY, "a timer": BY_TIMER, "a worker": BY_WORKER, "the way out": AT_THE_END,
    "the terminal's reader": BY_READER,
}  # fmt: skip


class Ended:
    """A program that an edit was made in, and that then ended."""

    def __init__(self, file: Path, program: list[str], end: bytes | signal.Signals) -> None:
        child, terminal = started(*program, str(file))
        read_until(terminal, lambda seen: b"dry" in seen and b"moves" in seen)
        os.write(terminal, b" ")
        read_until(terminal, lambda seen: b"UNSAVED" in seen)
        if isinstance(end, bytes):
            os.write(terminal, end)
        else:
            os.kill(child, end)
        said = b""
        while True:
            try:
                more = os.read(terminal, 65536)
            except OSError:  # so Linux says that nobody writes any more
                break
            if not more:
                break
            said += more
        _, status = os.waitpid(child, 0)
        os.close(terminal)
        self.status = os.waitstatus_to_exitcode(status)
        screen, _, after = said.decode().rpartition("\x1b[?1049l")
        assert screen, "the terminal is given back as it was"
        self.lines = [
            line for line in re.sub(r"\x1b\[[\d;?<>=]*\w", "", after).splitlines() if line
        ]


@pytest.mark.parametrize("how", ALL)
def test_a_fault_leaves_the_edits_and_one_line(file: Path, tmp_path: Path, how: str) -> None:
    """An edit made just before is offered again; one line says so, and where the fault stands."""
    program = tmp_path / "program.py"
    program.write_text(FAILS.format(how=ALL[how]))
    ended = Ended(file, [str(program)], b"?")
    assert ended.status == 70
    (line,) = ended.lines
    assert line.startswith("This is a fault in rigtui, not in your file, which is unchanged. ")
    assert f"Your unsaved edits are backed up: open {file} to get them back. " in line
    (log,) = state_folder("faults").iterdir()
    assert f"Please report what {log} says (" in line
    text = log.read_text()
    assert 'raise LookupError("no such thing")' in text
    assert "of one's own" not in text, "what variables hold is left out"
    (kept,) = recovered(file)
    assert kept.rig.presets[0].loops == (1,)


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT], ids=lambda s: s.name)
def test_a_signal_leaves_the_edits_and_one_line(file: Path, number: signal.Signals) -> None:
    """The same where the system asks the program to end, at once after the edit."""
    ended = Ended(file, ["-m", "rigtui"], number)
    assert ended.status == 128 + number
    assert ended.lines == [
        f"{number.name} ended rigtui. Your unsaved edits are backed up: open {file} to get "
        "them back."
    ]
    (kept,) = recovered(file)
    assert kept.rig.presets[0].loops == (1,)
    assert load(file)[1].presets[0].loops == ()


async def test_nothing_is_printed_of_the_rig(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """The screen library prints nothing of its own when the program breaks off."""
    app = app_of(tmp_path, presets=[preset("secret")])
    with pytest.raises(ZeroDivisionError):
        async with on_screen(app, SMALL):
            app.call_later(lambda: 1 / 0)
    assert isinstance(app.broken_by, ZeroDivisionError)
    assert app.edits_kept == ""
    assert capfd.readouterr() == ("", "")


async def test_edits_that_cannot_be_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the journal cannot be written either, that is what the line says."""
    app = app_of(tmp_path, presets=[preset("one")])

    def full(*_: object) -> None:
        raise MemoryError

    async def fail_after_an_edit() -> None:
        async with on_screen(app, SMALL):
            app.apply("rename", lambda rig: rig.model_copy(update={"name": "New"}))
            monkeypatch.setattr("rigtui.store.recovery.Journal.write", full)
            app.call_later(lambda: 1 / 0)

    with pytest.raises(ZeroDivisionError):
        await fail_after_an_edit()
    assert app.edits_kept == "Your unsaved edits could not be backed up."


def test_only_the_last_faults_are_kept() -> None:
    """Old ones go, so that a fault that comes every day does not fill the disk."""
    folder = state_folder("faults")
    for day in range(FAULTS_KEPT + 3):
        (folder / f"2020-01-{day + 1:02}-101112-1.txt").touch()
    log = keep_fault(ValueError("x"))
    names = sorted(path.name for path in folder.iterdir())
    assert len(names) == FAULTS_KEPT
    assert log is not None
    assert names[-1] == log.name


def test_a_fault_that_cannot_be_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without a log file, the line itself says what happened and where."""

    def refused(*_: object) -> None:
        raise OSError("disk full")

    monkeypatch.setattr("rigtui.store.atomic.write_atomic", refused)
    try:
        raise TerminalFault("no terminal\nmore")
    except TerminalFault as fault:
        told = what_to_report(fault)
    assert re.fullmatch(r"TerminalFault: no terminal \(.*test_last_breath, line \d+\)", told)
