"""A program in a pseudo-terminal, timed from outside: how soon a text is on the screen."""

from __future__ import annotations

import fcntl
import os
import pty
import re
import select
import struct
import termios
import time
from collections.abc import Mapping, Sequence
from types import TracebackType

LIMIT_SECONDS = 20.0


class Terminal:
    """A running program and what it has written to its screen."""

    def __init__(
        self,
        command: Sequence[str],
        size: tuple[int, int] = (120, 40),
        extra: Mapping[str, str] | None = None,
    ) -> None:
        """Start a program in a terminal of so many columns and rows."""
        self.started = time.perf_counter()
        self.pid, self.handle = pty.fork()
        if self.pid == 0:
            environment = {**os.environ, "TERM": "xterm-256color", "COLORTERM": "truecolor"}
            os.execvpe(command[0], list(command), {**environment, **(extra or {})})
        columns, rows = size
        fcntl.ioctl(self.handle, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))
        self.seen = b""

    @property
    def seconds(self) -> float:
        """Seconds since the start."""
        return time.perf_counter() - self.started

    def __enter__(self) -> Terminal:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        os.kill(self.pid, 9)
        os.waitpid(self.pid, 0)
        os.close(self.handle)

    def wait_for(self, pattern: bytes) -> re.Match[bytes]:
        """Read until a pattern is there; return its match.

        Raises:
            TimeoutError: it did not come.
        """
        end = time.perf_counter() + LIMIT_SECONDS
        while (match := re.search(pattern, self.seen)) is None:
            left = end - time.perf_counter()
            if left <= 0 or not select.select([self.handle], [], [], left)[0]:
                raise TimeoutError(f"{pattern!r} did not come; last: {self.seen[-300:]!r}")
            self.seen += os.read(self.handle, 65536)
        return match

    def settle(self, quiet_seconds: float = 0.25) -> None:
        """Read until nothing has come for a while, and forget it."""
        while select.select([self.handle], [], [], quiet_seconds)[0]:
            os.read(self.handle, 65536)
        self.seen = b""

    def quiet(self, seconds: float) -> None:
        """Read for so long, whatever comes, and forget it."""
        end = time.perf_counter() + seconds
        while (left := end - time.perf_counter()) > 0:
            if select.select([self.handle], [], [], left)[0]:
                os.read(self.handle, 65536)
        self.seen = b""

    def press(self, keys: bytes, pattern: bytes = b".") -> float:
        """Press keys; return the seconds until a pattern is on the screen."""
        self.seen = b""
        start = time.perf_counter()
        os.write(self.handle, keys)
        self.wait_for(pattern)
        return time.perf_counter() - start
