"""Write the journal at its own pace, so that it holds up no key, and no slow disk holds it up.

The screens say what the rig is after each edit. A thread that lives only while there is something
to write has it in the journal soon after, whatever the screens are busy with; of edits that follow
each other quickly, the latest is written.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.store.load import Source
    from rigtui.store.recovery import Journal

JOURNAL_SECONDS = 0.3
"""How long an edit may be in memory alone; writing it takes some more."""


class JournalWriter:
    """Writes one journal, in the order in which it is told of rigs."""

    def __init__(self, journal: Journal, told: Callable[[Exception | None], None]) -> None:
        """Take a journal.

        Args:
            journal: The journal.
            told: Called from another thread after each try: with what went wrong, or None.
        """
        self._journal = journal
        self._told = told
        self._guard = threading.Lock()
        self._stopped = threading.Event()
        self._next: tuple[Rig | None, Source | None, int] | None = None
        self._since = 0.0
        """When the first edit was made that is in memory alone."""
        self._thread: threading.Thread | None = None

    @property
    def busy(self) -> bool:
        """Whether something is yet to be written."""
        return self._thread is not None

    def take(self, rig: Rig | None, source: Source | None) -> None:
        """Have a rig written soon.

        Args:
            rig: The rig as it is now; None if nothing is unsaved any more.
            source: The file that it came from, as it was read.
        """
        with self._guard:
            if self._next is None:
                self._since = time.monotonic()
            self._next = (rig, source, self._journal.turn())
            if self._thread is None and not self._stopped.is_set():
                self._thread = threading.Thread(target=self._run, name="journal", daemon=True)
                self._thread.start()

    def stop(self) -> None:
        """Write no more."""
        self._stopped.set()

    def _run(self) -> None:
        while True:
            with self._guard:
                if self._next is None or self._stopped.is_set():
                    self._thread = None
                    return
                due = self._since + JOURNAL_SECONDS
            self._stopped.wait(max(0.0, due - time.monotonic()))
            with self._guard:
                (rig, source, turn), self._next = self._next, None
            if not self._stopped.is_set():
                self._write(rig, source, turn)

    def _write(self, rig: Rig | None, source: Source | None, turn: int) -> None:
        try:
            if rig is None:
                self._journal.clear(turn)
            else:
                self._journal.write(rig, source, turn)
        except Exception as error:  # whatever it is: the work goes on, and the next edit is tried
            self._told(error)
        else:
            self._told(None)
