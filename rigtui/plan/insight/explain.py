"""Why a plan is as it is: each pedal either way, what each preset is for, what forces a change."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, NamedTuple

from rigtui.model.lookup import lookup
from rigtui.model.places import section_place
from rigtui.model.rig import Rig
from rigtui.moves import Presses, count_song
from rigtui.plan.ask.checked import checked, needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of, figures
from rigtui.plan.ask.needs import Needs, needs_of
from rigtui.plan.ask.other_switcher import MOST_MEMORIES
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import PlanError, Stopped
from rigtui.plan.loops.limits import limits_of, memories_of
from rigtui.plan.loops.pricing import placed
from rigtui.plan.loops.search import LoopSearch
from rigtui.plan.verdict.unstored import unstored

_MOST_CHANGES = 12
_NEAR, _PRICED = 0.1, 32
"""Designs so near to the best, as a share of its moves, are priced with bank steps; the most."""


@dataclass(frozen=True, slots=True)
class PedalReason:
    """What a pedal costs in a loop and outside, all else then as good as can be."""

    pedal: str
    inside: bool
    """Whether it is in a loop in the rig that is explained."""
    moves_in: int | None
    """Moves of the best design with it in a loop (bank steps aside); None where there is none."""
    moves_out: int | None
    all_in: int | None
    """The fewest moves found with it in a loop, bank steps and all, as the report counts them."""
    all_out: int | None
    proved: bool = False
    """Whether fewer moves, bank steps aside, are proved to be impossible either way."""
    always: Literal["on", "off"] | None = None
    """"on" or "off" where no section wants it otherwise: then it is not weighed."""


@dataclass(frozen=True, slots=True)
class PresetReason:
    """What a preset is for."""

    preset: str
    sections: tuple[str, ...]
    """Sections that use it, as "songs.low-fen.sections.3"."""
    songs: tuple[str, ...]
    """Ids of the songs that those are in."""
    of_use: bool
    """Whether any of them is in the setlists that count."""


@dataclass(frozen=True, slots=True)
class ChangeReason:
    """What forces one of the worst changes."""

    place: str
    """The section entered."""
    song: str
    section: int
    """From 0."""
    moves: int
    presses: Presses


@dataclass(frozen=True, slots=True)
class Explanation:
    """All that can be said of a rig's layout."""

    pedals: tuple[PedalReason, ...]
    presets: tuple[PresetReason, ...]
    changes: tuple[ChangeReason, ...]
    complete: bool


def explain_plan(
    rig: Rig,
    question: Question | None = None,
    control: Control | None = None,
) -> Explanation:
    """Explain a rig, a plan's or the player's own.

    Args:
        rig: The rig to explain.
        question: What it was planned for, and with which options.
        control: Progress and cancel; what is known by then is given.

    Raises:
        PlanError: no switcher, or a question that makes no sense.
    """
    control = control or Control()
    question = checked(rig, (question or Question()).unset("pin_switch"))
    evening = evening_of(rig, question.setlists)
    needs = needs_of(rig, evening, question.keep)
    pedals: list[PedalReason] = []
    complete = True
    try:
        weigher = _Weigher(rig, evening, needs, question, control)
        names = needs.names((needs.ever_on | needs.ever_off) & ~needs.left_alone)
        for nth, pedal in enumerate(names):
            control.tell("weighing pedals", nth / len(names))
            pedals.append(weigher.reason(pedal))
    except Stopped:
        complete = False
    return Explanation(
        tuple(pedals),
        tuple(_presets(rig, evening)),
        tuple(_changes(rig, evening)),
        complete,
    )


class _Weighed(NamedTuple):
    moves: int | None
    """Bank steps aside; None where no design was found."""
    in_all: int | None
    """With bank steps."""
    proved: bool
    """Whether fewer moves, bank steps aside, are proved to be impossible."""


_NOTHING = _Weighed(None, None, False)


class _Weigher:
    def __init__(
        self, rig: Rig, evening: Evening, needs: Needs, question: Question, control: Control
    ) -> None:
        self.rig, self.needs, self.question, self.control = rig, needs, question, control
        held = unstored(rig, evening) is None
        self.as_it_is = figures(rig, evening).moves if held else None
        """Moves of the rig itself, where it can be played."""
        free = question.unset("pins")
        first = LoopSearch(needs, limits_of(rig, needs, free), MOST_MEMORIES, control=control)
        self.pool, self.costs = first.every_set(), first.costs

    def _weigh(self, question: Question) -> _Weighed:
        """Plan anew with other options, and price the best few designs with their bank steps."""
        switcher = needed_switcher(self.rig)
        control = self.control.within(3)
        search = LoopSearch(
            self.needs,
            limits_of(self.rig, self.needs, question),
            memories_of(self.rig, question),
            toggling=switcher.loop_switches,
            slack=_NEAR,
            most_kept=_PRICED,
            pool=self.pool,
            costs=self.costs,
            control=control,
        )
        outcome = search.run()
        self.control.stop_if_over()
        if not outcome.designs:
            return _Weighed(None, None, outcome.complete)
        prices = [
            design.cost + placed(self.needs, design, switcher, self.control, exact=False).bank_steps
            for design in outcome.designs
        ]
        moves = outcome.designs[0].cost
        return _Weighed(moves, min(prices), moves <= outcome.bound)

    def reason(self, pedal: str) -> PedalReason:
        """Weigh one pedal."""
        bit = self.needs.bit(pedal)
        inside = pedal in lookup(self.rig).loop_of
        if not self.needs.ever_off & bit:
            return PedalReason(pedal, inside, None, None, None, None, always="on")
        if not self.needs.ever_on & bit:
            return PedalReason(pedal, inside, None, None, None, None, always="off")
        ways = {True: _NOTHING, False: _NOTHING}
        try:
            ways[True] = self._weigh(self.question.pinned(pedal, "in"))
            ways[False] = self._weigh(self.question.pinned(pedal, "out"))
        except PlanError:
            pass
        here = ways[inside]
        if self.as_it_is is not None and here.in_all is not None:
            ways[inside] = here._replace(in_all=min(here.in_all, self.as_it_is))
        within, without = ways[True], ways[False]
        return PedalReason(
            pedal,
            inside,
            within.moves,
            without.moves,
            within.in_all,
            without.in_all,
            within.proved and without.proved,
        )


def _presets(rig: Rig, evening: Evening) -> list[PresetReason]:
    reasons = []
    for preset in rig.presets:
        users = [
            (song.id, at)
            for song in rig.songs
            for at, section in enumerate(song.sections)
            if section.preset == preset.id
        ]
        songs = tuple(dict.fromkeys(song for song, _ in users))
        places = tuple(section_place(song, at) for song, at in users)
        of_use = not evening.times.keys().isdisjoint(songs)
        reasons.append(PresetReason(preset.id, places, songs, of_use))
    return reasons


def _changes(rig: Rig, evening: Evening) -> list[ChangeReason]:
    """The worst changes."""
    rows = [
        ChangeReason(section_place(song.id, change.to_section), song.id, change.to_section,
                     change.moves, change.presses)
        for song in rig.songs
        if song.id in evening.times
        for change in count_song(rig, song).changes
        if change.moves >= 2
    ]  # fmt: skip
    return sorted(rows, key=lambda row: -row.moves)[:_MOST_CHANGES]
