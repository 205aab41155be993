"""Looking for garbage while nobody types.

Python now and then goes through all objects there are in search of garbage. On a rig of 500 songs
that holds up a key for 60 to 200 ms, so it is done in a quiet moment, and what is loaded to stay is
left out of it.
"""

from __future__ import annotations

import gc
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigtui.tui.key_order import OneKeyAtATime

_LOOK_SECONDS = 2.0
_QUIET_SECONDS = 3.0
"""How long no key must have come."""
_WORTH = 10
"""Young collections since the last full one that make another worth its time; Python's default."""
_NEVER = 1_000_000


class IdleGarbage:
    """Takes over from Python when to look through all objects; young ones stay with Python."""

    def __init__(self, app: OneKeyAtATime) -> None:
        self._app = app
        self._before = gc.get_threshold()
        gc.set_threshold(*self._before[:2], _NEVER)
        app.set_interval(_LOOK_SECONDS, self._look)

    def clear(self) -> None:
        """Collect what is garbage now; what is left then will not be gone through again."""
        gc.collect()
        gc.freeze()

    def _look(self) -> None:
        # A dialog would be frozen with the rest and, once closed, not be collected any more.
        dialog = len(self._app.screen_stack) > 1
        if not dialog and self._app.quiet_seconds > _QUIET_SECONDS and gc.get_count()[2] >= _WORTH:
            self.clear()

    def end(self) -> None:
        """Leave it to Python again."""
        gc.set_threshold(*self._before)
        gc.unfreeze()
