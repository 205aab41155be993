"""Find what to give up for a whole rig: on its own board, or on other boards too."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from itertools import pairwise

from rigtui.advice.giving_up.frontier import Frontier, FrontierStep, Search
from rigtui.advice.giving_up.one_song import Level
from rigtui.advice.giving_up.point import FrontierPoint, point_of
from rigtui.model.edits import take_outside
from rigtui.model.edits.folding import folds
from rigtui.model.playable import in_range
from rigtui.model.rig import Rig
from rigtui.plan.answer import nonsense, plan
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError, Stopped

MOST_SHOWN = 8
_MOST_BOARDS = 8
_UNPLAYABLE = 4
"""What a section that can't be played weighs in extra presses, to choose the steps to show."""


@dataclass(frozen=True)
class BoardTried:
    """One board that was tried."""

    name: str
    """What is different about it; nothing for the board as it is."""
    search: Search
    frontier: Frontier


@dataclass
class JointFrontier:
    """The frontier over all boards that were tried."""

    evening: Evening
    boards: tuple[BoardTried, ...]
    steps: tuple[tuple[int, FrontierStep], ...]
    """Each step of it with its board, cheapest first."""
    untried: int = 0
    """Boards for which there was no time."""
    _points: dict[int, FrontierPoint] = field(default_factory=dict)

    @property
    def proved(self) -> bool:
        """Whether no choice of sounds is better on any of the boards tried."""
        return all(board.frontier.proved for board in self.boards)

    def point(self, at: int) -> FrontierPoint:
        """Return a step, from 0, as a rig that is counted."""
        if at not in self._points:
            board, step = self.steps[at]
            self._points[at] = point_of(self.boards[board].search, step)
        return self._points[at]

    def board_of(self, at: int) -> str:
        """Return how a step's board differs from today's; nothing if it doesn't."""
        return self.boards[self.steps[at][0]].name

    def least(self, at: int) -> Level:
        """Return what no choice of sounds can better at the price of a step."""
        price = self.steps[at][1].price
        under = [
            step.level for board in self.boards for step in board.frontier.least
            if step.price <= price
        ]  # fmt: skip
        return min(under)

    def shown(self, most: int = MOST_SHOWN) -> list[int]:
        """Return the steps that tell most: the ends, where all can be played, and the knees."""
        values = [level.unplayable * _UNPLAYABLE + level.extra_presses
                  for level in (step.level for _, step in self.steps)]  # fmt: skip
        prices = [step.price for _, step in self.steps]
        last = len(self.steps) - 1
        least = self.steps[last][1].level.unplayable
        playable = next(
            at for at, (_, step) in enumerate(self.steps) if step.level.unplayable == least
        )
        chosen = sorted({0, playable, last})
        while len(chosen) < min(most, last + 1):
            below = {
                at: _below(prices, values, left, right, at)
                for left, right in pairwise(chosen)
                for at in range(left + 1, right)
            }
            chosen = sorted([*chosen, max(below, key=lambda at: (below[at], -at))])
        return chosen

    def within(self, sections: int) -> int:
        """Return the best step with at most so many sections played with another sound."""
        for at in reversed(range(len(self.steps))):
            if self.point(at).sections <= sections:
                return at
        return 0


def _below(prices: Sequence[float], values: Sequence[int], left: int, right: int, at: int) -> float:
    """How far a step is below the straight line between two others."""
    share = (prices[at] - prices[left]) / ((prices[right] - prices[left]) or 1)
    return values[left] + share * (values[right] - values[left]) - values[at]


def what_to_give_up(
    rig: Rig,
    setlists: Sequence[str] = (),
    keep: Collection[str] = (),
    *,
    boards: bool = False,
    control: Control | None = None,
) -> JointFrontier:
    """Find the frontier of what to give up.

    Args:
        rig: The rig.
        setlists: Ids; all setlists where none is named.
        keep: Ids of presets that are never changed: their sections, sounds and memories.
        boards: Whether pedals may move: the plan of everything is a board too, and so is one
            pedal taken outside where that makes presets alike.
        control: Progress out, cancel in, and the time that there is.

    Raises:
        PlanError: there is no such setlist or preset, nothing to play, no switcher to move
            pedals on, or no time for an answer.
    """
    control = control or Control()
    evening = evening_of(rig, setlists)
    lost = [preset for preset in keep if all(row.id != preset for row in rig.presets)]
    if lost:
        raise PlanError(*(f'there is no preset "{preset}" to keep' for preset in lost))
    shared = clashing(rig)
    if shared:
        raise PlanError(f"two presets are in memory {shared[0]}: move one of them first")
    tried = [("", rig)]
    if boards:
        tried += _boards(rig, tuple(setlists), tuple(keep), control)
    made = []
    with suppress(Stopped):
        for nth, (name, board) in enumerate(tried):
            control.tell("choosing what to give up", nth / len(tried))
            search = Search(board, evening_of(board, setlists), keep, control)
            made.append(BoardTried(name, search, search.frontier()))
    if not made:
        raise PlanError(
            "time ran out before there was an answer: name one setlist, or allow more time"
        )
    all_steps = sorted(
        (step.price, step.level, nth, step)
        for nth, board in enumerate(made)
        for step in board.frontier.steps
    )
    steps: list[tuple[int, FrontierStep]] = []
    for _, level, nth, step in all_steps:
        if not steps or level < steps[-1][1].level:
            steps.append((nth, step))
    return JointFrontier(evening, tuple(made), tuple(steps), len(tried) - len(made))


def clashing(rig: Rig) -> list[int]:
    """Return the memories that two presets are in: nobody knows which of them sounds there."""
    most = rig.switcher.memories if rig.switcher is not None else 0
    times = Counter(memory for preset in rig.presets for memory in set(in_range(preset, most)))
    return sorted(memory for memory, number in times.items() if number > 1)


def _boards(
    rig: Rig, setlists: tuple[str, ...], keep: tuple[str, ...], control: Control
) -> Iterator[tuple[str, Rig]]:
    question = Question("all", setlists, keep=keep)
    senseless = nonsense(rig, question)
    if senseless:
        raise PlanError(*senseless)
    left = control.seconds_left
    planned = plan(rig, question, control if left is None else control.within(left / 2)).rig
    if planned is not None and planned != rig:
        yield "as rigtui plan all has it", planned
    left = _MOST_BOARDS
    for pedal in rig.pedals:
        loops = [loop for loop in rig.loops if loop.pedals == (pedal.id,)]
        if not loops or not folds(rig, loops[0].number) or pedal.kind == "tuner" or not left:
            continue
        if any(loops[0].number in preset.loops for preset in rig.presets if preset.id in keep):
            continue
        left -= 1
        yield f"{pedal.label} outside", take_outside(rig, pedal.id)
