"""Whatever ends the program unexpectedly, back up unsaved edits first.

The screen library would print a traceback with the content of every variable, which is the player's
rig; here the fault is handed to whoever started the app, who says in one line what to do. This file
alone overrides the library's private ways of ending, because it has no public ones.
"""

from __future__ import annotations

import asyncio
import contextlib
import os
import signal
from types import FrameType

from rich.console import Console, RenderableType
from textual.worker import WorkerFailed

from rigtui.tui.key_order import OneKeyAtATime

_SIGNALS = ("SIGTERM", "SIGHUP", "SIGINT")
"""Signals that ask a program to end, as far as the system knows them."""
_PATIENCE_SECONDS = 5
"""How long the program may take to end when the system asks; then the system ends it."""


class TerminalFault(Exception):
    """Reading from the terminal failed."""


class LastBreath(OneKeyAtATime):
    """An app that keeps unsaved edits when something other than the player ends it."""

    def __init__(self, ansi_color: bool | None = None) -> None:
        super().__init__(ansi_color=ansi_color)
        self.broken_by: BaseException | None = None
        """The fault that ended the program; the first, where one brought on others."""
        self.ended_by: signal.Signals | None = None
        """The signal that ended it."""
        self.edits_kept = ""
        """What became of unsaved edits then, as a sentence; empty where there were none."""

    def keep_edits(self) -> str:
        """Back up unsaved edits at once; say whether that worked, or "" if there are none."""
        return ""

    def break_off(self, fault: BaseException) -> None:
        """Take note of a fault, and keep unsaved edits safe."""
        if self.broken_by is None:
            self.broken_by = fault
            self.edits_kept = self.keep_edits()

    # Faults

    def _handle_exception(self, error: Exception) -> None:
        self.break_off(error.error if isinstance(error, WorkerFailed) else error)
        super()._handle_exception(error)

    def _fatal_error(self) -> None:
        self._close_messages_no_wait()

    def panic(self, *renderables: RenderableType) -> None:
        """End because the thread that reads the terminal has failed."""
        console = Console(width=100, color_system=None)
        with console.capture() as told:
            console.print(*renderables)
        self.break_off(TerminalFault(told.get()))
        self._return_code = 1
        self._close_messages_no_wait()

    # Signals

    def heed_signals(self) -> None:
        """From now on, keep unsaved edits safe when the system asks the program to end."""
        loop = asyncio.get_running_loop()

        def asked(number: int, frame: FrameType | None) -> None:
            signal.signal(number, signal.SIG_DFL)  # who asks twice means it
            if hasattr(signal, "alarm"):
                signal.alarm(_PATIENCE_SECONDS)
            with contextlib.suppress(RuntimeError):  # the loop has ended already
                loop.call_soon_threadsafe(self._end, signal.Signals(number))

        for name in _SIGNALS:
            number = getattr(signal, name, None)
            if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
                signal.signal(number, asked)

    def _end(self, why: signal.Signals) -> None:
        self.ended_by = why
        self.edits_kept = self.keep_edits()
        if why.name == "SIGHUP":  # there is no terminal any more to leave in good order
            os.kill(os.getpid(), why)
        self.exit(return_code=128 + why)


def signals_as_ever() -> None:
    """Let signals end the program at once again."""
    if hasattr(signal, "alarm"):
        signal.alarm(0)
    for name in _SIGNALS:
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is not signal.SIG_IGN:
            default = signal.default_int_handler if name == "SIGINT" else signal.SIG_DFL
            signal.signal(number, default)
