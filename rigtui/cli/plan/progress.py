"""A planner's progress, on one line of standard error that is wiped at the end."""

from __future__ import annotations

import contextlib
import time
from typing import TYPE_CHECKING, TextIO

from rigtui.cli.terminal import terminal_of
from rigtui.model.cells import cells, fit

if TYPE_CHECKING:
    from rigtui.plan.ask.control import Progress

_OFTEN_SECONDS = 0.1


class Ticker:
    """Writes progress to a terminal, and nothing to anything else."""

    def __init__(self, stream: TextIO | None) -> None:
        self._stream = stream if stream is not None and stream.isatty() else None
        self._terminal = terminal_of(stream)
        self._next = 0.0
        self._shown = False

    def __enter__(self) -> Ticker:
        return self

    def __exit__(self, *_: object) -> None:
        if self._shown:
            self._put("\r" + " " * (self._terminal.width - 1) + "\r")

    def tell(self, progress: Progress) -> None:
        """Show progress, unless some was shown just now."""
        if self._stream is None or time.monotonic() < self._next:
            return
        self._next, self._shown = time.monotonic() + _OFTEN_SECONDS, True
        line = progress_line(progress)
        self._put("\r" + fit(self._terminal.show(line), self._terminal.width - 1))

    def _put(self, text: str) -> None:
        assert self._stream is not None
        with contextlib.suppress(OSError):
            self._stream.write(text)
            self._stream.flush()


def progress_line(progress: Progress) -> str:
    """Say how far a planner has come."""
    parts = [f"{progress.stage} {round(100 * min(1.0, max(0.0, progress.done)))} %"]
    if progress.best is not None:
        parts.append(f"best so far {progress.best:g} {progress.counts}")
    if progress.bound is not None:
        parts.append(f"at least {progress.bound:g} are needed")
    line = ", ".join(parts)
    hint = "   (Ctrl-C keeps the best)"
    return line + hint if cells(line + hint) < 79 else line
