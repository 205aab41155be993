"""The adviser in a process of its own, as the screens see it: asked one thing, heard once.

In the screen's own process it would hold up every key; there it cannot.
"""

from __future__ import annotations

import asyncio
import contextlib
import sys
from collections.abc import Callable, Sequence
from typing import Any

from rigtui.tui.worker_process import WorkerProcess

COMMAND: Sequence[str] = (sys.executable, "-m", "rigtui.advice")


class Adviser:
    """One question to the adviser."""

    def __init__(self, task: Callable[[], str], read: Callable[[dict[str, Any]], Any]) -> None:
        """Take what to ask.

        Args:
            task: Writes the line that asks.
            read: Makes the answer of the object that comes back.
        """
        self._task, self._read = task, read
        self._process: WorkerProcess | None = None
        self._killed = False

    async def answer(self) -> Any | str:
        """Ask, and return the answer, or in words why there is none; "" where it was given up."""
        task = await asyncio.to_thread(self._task)
        if self._killed:
            return ""
        heard: asyncio.Queue[bytes] = asyncio.Queue()
        loop = asyncio.get_running_loop()

        def hear(line: bytes) -> None:
            with contextlib.suppress(RuntimeError):  # the loop has ended, and nobody waits
                loop.call_soon_threadsafe(heard.put_nowait, line)

        try:
            process = self._process = WorkerProcess(COMMAND, hear)
        except OSError as error:
            return f"the process for what to do first couldn't start: {error.strerror or error}"
        try:
            process.say(task)
            line = await heard.get()
            if not line.endswith(b"\n"):
                return "" if self._killed else "the process for what to do first stopped"
            return await asyncio.to_thread(self._made_of, line.decode("ascii"))
        finally:
            self.kill()

    def _made_of(self, line: str) -> Any | str:
        from rigtui.model.lines import read_line

        data = read_line(line)
        return str(data["error"]) if "error" in data else self._read(data)

    def kill(self) -> None:
        """End the process at once, if it has not ended by itself."""
        self._killed = True
        if self._process is not None:
            self._process.kill()
