"""Do these first, as the report's list shows it: worked out beside the screen, then a row each."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from textual.content import Content

from rigtui.model.cells import cells
from rigtui.model.text import count
from rigtui.tui.adviser import Adviser
from rigtui.tui.once import once
from rigtui.tui.text import fit, plain
from rigtui.tui.widgets.lazy_rows import GridRow

if TYPE_CHECKING:
    from textual.timer import Timer
    from textual.widget import Widget

    from rigtui.advice.first import First
    from rigtui.advice.remedy import Remedy
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig

_MARK = 4


@dataclass(frozen=True, slots=True)
class FirstKey:
    """A remedy, by its place in the list."""

    at: int
    what: str


class FirstSteps:
    """Has the adviser work out what to do first with the rig at hand, and keeps its answer."""

    WAIT_SECONDS: ClassVar[float] = 0.4
    """How long after an edit it waits for another one."""
    starts: ClassVar[bool] = True
    """Whether it works by itself at all."""

    def __init__(self, owner: Widget, ready: Callable[[], None]) -> None:
        """Take whom to tell.

        Args:
            owner: The widget whose workers listen to the adviser.
            ready: Called when there is an answer.
        """
        self._owner, self._ready = owner, ready
        self.first: First | None = None
        """The last answer; it stands until the next one comes."""
        self.rig: Rig | None = None
        """The rig that the answer is of."""
        self.fault = ""
        self._asked: Rig | None = None
        self._adviser: Adviser | None = None
        self._timer: Timer | None = None

    @property
    def waiting(self) -> bool:
        """Whether an answer is on its way."""
        return self._asked is not None

    def is_of(self, rig: Rig | None) -> bool:
        """Whether the answer is of a rig."""
        return self.rig is not None and (self.rig is rig or self.rig == rig)

    def ask(self, rig: Rig) -> None:
        """Have it worked out for a rig, unless that is known or under way."""
        if not self.starts or self._asked is rig:
            return
        self.kill()
        if self.is_of(rig):
            return
        self._asked = rig
        self._timer = once(self._owner, self.WAIT_SECONDS if self.rig else 0.01, self._start)

    def forget(self) -> None:
        """Forget the remedies, because another file is open."""
        self.kill()
        self.first, self.rig, self.fault = None, None, ""

    def kill(self) -> None:
        """Leave what is being worked out."""
        self._asked = None
        if self._timer is not None:
            self._timer.stop()
        if self._adviser is not None:
            self._adviser.kill()
            self._adviser = None

    def _start(self) -> None:
        if self._asked is not None:
            self._owner.run_worker(self._hear(self._asked), group="adviser", exclusive=True)

    async def _hear(self, rig: Rig) -> None:
        from rigtui.advice.wire import first_of, first_task

        adviser = self._adviser = Adviser(
            lambda: first_task(rig), lambda data: first_of(data["first"], rig)
        )
        answer = await adviser.answer()
        if self._asked is not rig:
            return
        self._asked = self._adviser = None
        self.rig, self.fault = rig, answer if isinstance(answer, str) else ""
        self.first = None if isinstance(answer, str) else answer
        self._ready()

    # Showing

    def rows(self, rig: Rig, width: int) -> list[tuple[GridRow, FirstKey | None]]:
        """The rows at the head of the findings, with what each stands for."""
        from rigtui.advice.words import TITLE, nothing_helps, untried

        state = self._state(rig)
        remedies = self.first.remedies if self.first is not None else ()
        nothing = nothing_helps(self.first) if self.first is not None else None
        rest = untried(self.first) if self.first is not None else None
        if not (state or remedies or nothing or rest):
            return []
        title = nothing if nothing is not None and not state else f"{TITLE}{state}"
        rows: list[tuple[GridRow, FirstKey | None]] = [
            (GridRow(note=title, look="grid--strong"), None)
        ]
        told = [plain(remedy.proposal.what).plain for remedy in remedies]
        effects = [_effect(remedy) for remedy in remedies]
        after = max(map(len, effects), default=0)
        room = min(max(map(cells, told), default=0), width - _MARK - after - 4)
        for at, remedy in enumerate(remedies):
            row = _row(at, fit(told[at], room), f"{effects[at]:>{after}}", stale=bool(state))
            rows.append((row, FirstKey(at, remedy.proposal.what)))
        if rest is not None:
            rows.append((GridRow(note=f"  {fit(rest, width - 4)}"), None))
        return rows

    def leads(self, findings: Iterable[Finding]) -> bool:
        """Whether it comes before what can't be played: it leaves nothing of that."""
        return self.first is None or not self.first.leaves(findings)

    def _state(self, rig: Rig) -> str:
        if self.fault:
            return f": {self.fault}"
        if self.waiting or not self.is_of(rig):
            return ": trying them on your rig ..." if self.starts else ""
        return ""

    def remedy(self, key: FirstKey) -> Remedy | None:
        """The remedy of a row."""
        remedies = self.first.remedies if self.first is not None else ()
        return remedies[key.at] if key.at < len(remedies) else None

    def words(self, key: FirstKey) -> list[Content]:
        """A remedy in full: what to do, what it clears and costs, where and how."""
        from rigtui.advice.words import does, remedy_in_full

        remedy = self.remedy(key)
        if remedy is None:
            return []
        return [
            Content.styled(plain(remedy.proposal.what).plain, "bold"),
            plain(does(remedy)),
            plain("Enter shows it section by section; y there accepts it"),
            *map(plain, remedy_in_full(remedy)),
        ]


def _row(at: int, what: str, effect: str, *, stale: bool) -> GridRow:
    look = "grid--dim" if stale else "grid--strong"
    return GridRow(
        pieces=(
            (f" {at + 1:<{_MARK - 1}}", look),
            (what, "grid--dim" if stale else ""),
            (f"   {effect}", "grid--dim" if stale else "grid--on"),
        )
    )


def _effect(remedy: Remedy) -> str:
    """What it does in a few words: what counts most of it."""
    clears = remedy.clears
    for key, noun, nouns in (
        ("unplayable", "unplayable", "unplayable"),
        ("extra_presses", "extra press", "extra presses"),
        ("moves", "move", "moves"),
        ("findings", "finding", "findings"),
    ):
        if clears[key] > 0:
            return f"-{count(clears[key], noun, nouns)}"
    return ""
