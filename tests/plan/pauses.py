"""How long a planner works without asking whether to stop, and how soon it ends when told to.

Times are of this thread's own work, so that they tell little of what else the machine does.
"""

from __future__ import annotations

import gc
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field

from rigtui.plan.ask.control import Control


def _place(depth: int = 3) -> str:
    """The line of the planners that is asking."""
    frame = sys._getframe(depth)
    names = []
    while frame is not None and len(names) < 4:
        file = frame.f_code.co_filename
        if "/rigtui/" in file and not file.endswith("control.py"):
            names.append(f"{file.rsplit('/', 1)[1]}:{frame.f_lineno} {frame.f_code.co_name}")
        frame = frame.f_back  # type: ignore[assignment]
    return " < ".join(names)


@dataclass
class Pauses:
    """Asked whether to stop, it notes how long it was since it was last asked, and never stops."""

    enough: float = 0.02
    """Seconds; shorter pauses are not worth a line."""
    since: float = field(default_factory=time.thread_time)
    where: str = "start"
    longest: dict[tuple[str, str], float] = field(default_factory=dict)
    asked: int = 0

    def __call__(self) -> bool:
        self.note(_place())
        return False

    def note(self, here: str) -> None:
        """Take down a pause that ends here."""
        now = time.thread_time()
        pause = now - self.since
        if pause >= self.enough:
            key = (self.where, here)
            self.longest[key] = max(self.longest.get(key, 0.0), pause)
        self.asked += 1
        self.since, self.where = time.thread_time(), here

    def worst(self, most: int = 5) -> list[tuple[float, str]]:
        """The longest pauses, and between which lines."""
        ranked = sorted(((took, f"{a}  ->  {b}") for (a, b), took in self.longest.items()))
        return ranked[::-1][:most]


def pauses(work: Callable[[Control], object], seconds: float | None = None) -> Pauses:
    """Run a planner to its end, and note its pauses.

    What else is in memory is left out of the search for garbage, as the planner's own process does
    it; else a pause would be that search, wherever it happens to fall.
    """
    gc.collect()
    gc.freeze()
    noted = Pauses()
    try:
        work(Control(cancelled=noted, seconds=seconds))
    finally:
        gc.unfreeze()
    noted.note("end")
    return noted
