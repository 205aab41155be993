"""Work between keys: a few milliseconds at a time, and never ahead of a key.

Python runs one thing at a time, so a second of counting in a thread or at a stretch is a second in
which keys come late. Work is an iterator of small pieces; each piece says how long it can wait for
the next one, in seconds.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigtui.tui.once import once

if TYPE_CHECKING:
    from textual.timer import Timer

    from rigtui.tui.key_order import OneKeyAtATime

SLICE_SECONDS = 0.004
"""How long work may hold up the keys at a time."""
_BREATH_SECONDS = 0.001
_PAINT_SECONDS = 0.008
"""How long after a key its change is still on the way to the terminal."""
_MOST_SECONDS = 0.25
"""However fast the keys come, no slice waits longer than this for its turn."""


class Slices:
    """One piece of work at a time, done while no key is."""

    def __init__(self, app: OneKeyAtATime) -> None:
        self._app = app
        self._timer: Timer | None = None
        self._late = 0.0
        self.work: Iterator[float] | None = None
        """What is being done; None when all is."""

    def start(self, work: Iterator[float]) -> None:
        """Begin on some work, in place of what was being done."""
        self.stop()
        self.work = work
        self._wait(next(work, 0.0))

    def stop(self) -> None:
        """Leave what was being done."""
        self.work = None
        if self._timer is not None:
            self._timer.stop()
            self._timer = None

    def _wait(self, seconds: float) -> None:
        self._late = time.monotonic() + seconds + _MOST_SECONDS
        self._timer = once(self._app, max(seconds, _BREATH_SECONDS), self._go_on)

    def _go_on(self) -> None:
        work, now = self.work, time.monotonic()
        if work is None or not self._app.is_running:  # a timer may still go off while it quits
            return
        if self._app.quiet_seconds < _PAINT_SECONDS and now < self._late:
            self._timer = once(self._app, _BREATH_SECONDS, self._go_on)
            return
        for seconds in work:
            if self.work is not work:
                return
            if seconds or time.monotonic() - now > SLICE_SECONDS:
                self._wait(seconds)
                return
        self.work = None
