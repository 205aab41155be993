"""A process at work beside the screen (planner or adviser), and the two threads that serve it.

The event loop knows nothing of it, so that there is no moment at which a screen that closes could
leave half a process or an open pipe behind: starting and killing wait for nothing, and the thread
that reads clears up after the process, whatever became of the loop.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
import threading
from collections.abc import Callable, Sequence
from queue import SimpleQueue


class WorkerProcess:
    """A process that is given lines and answers in lines."""

    def __init__(self, command: Sequence[str], heard: Callable[[bytes], None]) -> None:
        """Start the process.

        Args:
            command: What to run.
            heard: Called from another thread with each line that the process says, its line end
                included; with b"" once the process has ended and is cleared away.

        Raises:
            OSError: it cannot be started.
        """
        self._heard = heard
        self._to_say: SimpleQueue[str] = SimpleQueue()
        self._process = subprocess.Popen(
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            env={**os.environ, "PYTHONWARNINGS": "ignore"},
        )
        self._reader = threading.Thread(target=self._read, name="from worker", daemon=True)
        self._writer = threading.Thread(target=self._write, name="to worker", daemon=True)
        self._reader.start()
        self._writer.start()

    @property
    def status(self) -> int | None:
        """Its exit status; None while it runs."""
        return self._process.returncode

    def say(self, line: str) -> None:
        """Tell the process a line of ASCII, its line end included; waits for nothing."""
        self._to_say.put(line)

    def kill(self) -> None:
        """End the process at once, if it has not ended by itself."""
        self._process.kill()

    def wait(self, seconds: float) -> bool:
        """Wait until the process has ended and is cleared away; return whether it is."""
        self._reader.join(seconds)
        return not self._reader.is_alive()

    def _write(self) -> None:
        assert self._process.stdin is not None
        with contextlib.suppress(OSError), self._process.stdin as pipe:  # it may have ended
            while line := self._to_say.get():
                pipe.write(line.encode("ascii"))
                pipe.flush()

    def _read(self) -> None:
        assert self._process.stdout is not None
        with self._process.stdout as pipe:
            for line in pipe:
                self._heard(line)
        self._to_say.put("")
        self._writer.join()
        self._process.wait()
        self._heard(b"")
