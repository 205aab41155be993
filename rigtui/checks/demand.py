"""How many seconds feet and hands need for a change, and how many they have.

Hand and foot work at once, so the longer of the two counts. The foot hovers before a change, so
its first press is never late. A hand's note usually says in words what the figures beside it say
(a pickup, a volume), so that the longer of these counts, not their sum.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from typing import NamedTuple

from rigtui.checks.finding import RigView
from rigtui.checks.played import PlayedSection, played, remembered
from rigtui.checks.words import named, quoted
from rigtui.model import Pedal, Player, Section, Song
from rigtui.model.text import listed, number_text, visible
from rigtui.moves import Press, Presses, changes_as_written, count_kind, on_the_beat
from rigtui.moves.clock import beat_seconds, section_seconds
from rigtui.moves.words import presses_in_words

_EDGE = 1e-9
"""Seconds by which a need may pass the time there is: floating point, not playing."""


class HandWork(NamedTuple):
    """What the hands do between two sections."""

    words: tuple[str, ...] = ()
    seconds: float = 0.0
    sets_volume: bool = False
    """Whether the guitar's volume is among it: that takes the eye as well."""


class Demand(NamedTuple):
    """What one change inside a song asks for; sections are counted from 0."""

    to_section: int
    presses: Presses
    now: Presses
    """Those that must happen at the change itself."""
    hands: HandWork
    feet_seconds: float
    """Presses on the beat after the first."""
    ahead_seconds: float
    """What is pressed ahead, while the section before is still played."""
    window_seconds: float
    """Rest before the section and the lead-in: when hands and feet are free for the change."""
    before_seconds: float
    """All of the section before."""
    treadles: tuple[str, ...] = ()
    """The way to or from pedals that the foot rocks, in words; they are no presses."""

    @property
    def on_the_beat(self) -> int:
        """Presses that must happen at the change itself."""
        return len(self.now)

    @property
    def bank_steps(self) -> int:
        """Presses of the bank buttons."""
        return count_kind(self.presses, "bank")

    @property
    def seconds(self) -> float:
        """What must happen in the window: the longer of feet and hands."""
        return max(self.feet_seconds, self.hands.seconds)

    @property
    def is_late(self) -> bool:
        """Whether what must happen in the window does not fit it."""
        return is_over(self.seconds, self.window_seconds)

    @property
    def is_late_ahead(self) -> bool:
        """Whether what is pressed ahead does not fit the section before."""
        return is_over(self.ahead_seconds, max(self.before_seconds, self.window_seconds))


def is_over(need: float, time: float) -> bool:
    """Whether a need, in seconds, is more than the time there is."""
    return need > time + _EDGE


def feet_seconds(
    player: Player, presses: Iterable[Press], leaves: int = 0, enters: int = 0
) -> float:
    """Return how long a foot takes for presses in a row, once the first of them is made.

    Each further press costs `extra_press_seconds`, but `far_press_seconds` where the foot leaves
    the switcher for a pedal, a treadle or the amp's own switch, or comes back from there.

    Args:
        player: Whose figures hold.
        presses: The presses, in order.
        leaves: Treadles that the foot comes from.
        enters: Treadles that it goes to.

    Source: the player's own figures; their defaults are proposals, not measured.
    """
    away = [True] * leaves + [press.is_far for press in presses] + [True] * enters
    if len(away) < 2:  # nearly always
        return 0.0
    return sum(
        player.far_press_seconds if before or after else player.extra_press_seconds
        for before, after in pairwise(away)
    )


def ahead_seconds(player: Player, presses: Iterable[Press]) -> float:
    """Return how long the presses that are made ahead take, each by itself."""
    return player.press_seconds * len([press for press in presses if press.when != "now"])


def hands_between(player: Player, before: PlayedSection, after: PlayedSection) -> HandWork:
    """Return what the hands do from one section to the next."""
    work = figures_set(player, before.volume, before.pickup, after)
    note = after.section.hands
    if not note or note == before.section.hands:
        return work
    own = after.section.hands_seconds
    seconds = player.hands_seconds if own is None else own
    return work._replace(words=(*work.words, quoted(note)), seconds=max(work.seconds, seconds))


def figures_set(
    player: Player, volume: float | None, pickup: str | None, after: PlayedSection
) -> HandWork:
    """Return what to set on the guitar, compared with what it is known to be set to."""
    words: list[str] = []
    seconds = 0.0
    sets_volume = volume is not None and after.named_volume not in (None, volume)
    if sets_volume:
        words.append(f"guitar volume to {number_text(after.named_volume or 0)}")
        seconds += player.volume_seconds
    if pickup is not None and after.named_pickup not in (None, pickup):
        words.append(f"pickup to {visible(after.named_pickup or '')}")
        seconds += player.pickup_seconds
    return HandWork(tuple(words), seconds, sets_volume)


def window_seconds(player: Player, rest_beats: float | None, beat: float) -> float:
    """Return the rest before a section and the lead-in, in seconds."""
    return ((rest_beats or 0) + player.lead_in_beats) * beat


def demands(view: RigView, song: Song) -> tuple[Demand, ...]:
    """Return what every change of a song asks for, also those that ask for nothing."""
    return remembered(view, song, _demands)


def _demands(view: RigView, song: Song) -> tuple[Demand, ...]:
    player, parts = view.player, played(view, song)
    rocked = any(pedal.used == "treadle" for pedal in view.rig.pedals)
    made = []
    for change in changes_as_written(view.rig, song):
        before, after = parts[change.from_section], parts[change.to_section]
        leaves, enters = _treadles(view, before, after) if rocked else ([], [])
        beat, now = beat_seconds(song, before.section), on_the_beat(change.presses)
        made.append(
            Demand(
                change.to_section,
                change.presses,
                now,
                hands_between(player, before, after),
                feet_seconds(player, now, len(leaves), len(enters)),
                ahead_seconds(player, change.presses),
                window_seconds(player, after.section.rest_beats, beat),
                section_seconds(song, before.section),
                (
                    *(f"the way from {named(pedal)}" for pedal in leaves),
                    *(f"the way to {named(pedal)}" for pedal in enters),
                ),
            )
        )
    return tuple(made)


def _treadles(
    view: RigView, before: PlayedSection, after: PlayedSection
) -> tuple[list[Pedal], list[Pedal]]:
    """Pedals that the foot stops rocking and those that it starts, but for those that can wait."""
    waiting = {*before.section.may, *after.section.may, *after.section.early}
    stops, starts = (
        [
            view.known.pedals[name]
            for name in there
            if name not in not_there
            and name not in view.known.loop_of
            and name not in waiting
            and view.known.pedals[name].used == "treadle"
        ]
        for there, not_there in ((before.sound, after.sound), (after.sound, before.sound))
    )
    return stops, starts


def in_words(view: RigView, section: Section, demand: Demand, with_banks: bool = False) -> str:
    """Say what a change asks for: "switch 3 (Lead) and guitar volume to 10"."""
    presses = demand.presses if with_banks else demand.now
    return listed((*presses_in_words(view.rig, section, presses, timed=False), *demand.hands.words))


def say_seconds(seconds: float) -> str:
    """Write seconds to a hundredth at most: "0.43 s", "2 s"."""
    return f"{f'{seconds:.2f}'.rstrip('0').rstrip('.')} s"
