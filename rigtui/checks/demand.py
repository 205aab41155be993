"""What a change asks of feet and hands, in seconds, and the time that there is for it.

A hand's note usually says in words what the figures beside it say (a pickup, a volume), so that
the longer of the two counts, not their sum. Where no foot moves, a note takes no time: it says how
to play ("palm mute").
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from rigtui.checks.finding import View
from rigtui.checks.played import Part, played, remembered
from rigtui.checks.words import quoted
from rigtui.model import Player, Section, Song
from rigtui.model.text import listed, number_text, visible
from rigtui.moves import Press, Presses, count_kind, count_song, on_the_beat
from rigtui.moves.clock import beat_seconds, section_seconds
from rigtui.moves.words import presses_in_words

TIGHT = 0.8
"""Share of the time there is above which it gets tight (a default, not measured)."""


class Hands(NamedTuple):
    """What the hands do between two sections."""

    words: tuple[str, ...]
    seconds: float


class Demand(NamedTuple):
    """What one change inside a song asks for; sections are counted from 0."""

    to_section: int
    presses: Presses
    hands: Hands
    feet_seconds: float
    """Presses on the beat."""
    ahead_seconds: float
    """Bank steps, which can be made while the section before is still played."""
    window_seconds: float
    """Rest before the section and the lead-in: when hands and feet are free for the change."""
    before_seconds: float
    """All of the section before."""

    @property
    def on_the_beat(self) -> int:
        """Presses that must happen at the change itself."""
        return len(on_the_beat(self.presses))

    @property
    def bank_steps(self) -> int:
        """Presses of the bank buttons."""
        return count_kind(self.presses, "bank")

    @property
    def seconds(self) -> float:
        """What must happen in the window."""
        return self.feet_seconds + self.hands.seconds

    @property
    def ratio(self) -> float:
        """What must happen in the window, over the window: above 1 it cannot be done."""
        return need_over_time(self.seconds, self.window_seconds)

    @property
    def whole_ratio(self) -> float:
        """All of it, bank steps included, over the section before."""
        time = max(self.before_seconds, self.window_seconds)
        return need_over_time(self.seconds + self.ahead_seconds, time)


def need_over_time(need: float, time: float) -> float:
    """Return need over time; nothing to do fits in no time."""
    if need <= 0:
        return 0.0
    return need / time if time > 0 else float("inf")


def press_seconds(player: Player, presses: Iterable[Press]) -> float:
    """Return how long a foot takes for presses in a row.

    The first costs `press_seconds`, each further one `extra_press_seconds`, but
    `far_press_seconds` where the foot must leave the switcher for a pedal or the amp's own switch.

    Source: the player's own figures; their defaults are proposals, not measured.
    """
    seconds = 0.0
    for at, press in enumerate(presses):
        if at == 0:
            seconds += player.press_seconds
        elif press.is_far:
            seconds += player.far_press_seconds
        else:
            seconds += player.extra_press_seconds
    return seconds


def hands_between(player: Player, before: Part, after: Part, with_feet: bool) -> Hands:
    """Return what the hands do from one section to the next."""
    words, seconds = figures_set(player, before.volume, before.pickup, after)
    note = after.section.hands
    if note and note != before.section.hands:
        words = (*words, quoted(note))
        seconds = max(seconds, player.hands_seconds) if with_feet else seconds
    return Hands(words, seconds)


def figures_set(player: Player, volume: float | None, pickup: str | None, after: Part) -> Hands:
    """Return what has to be set on the guitar, from where it is known to stand."""
    words: list[str] = []
    seconds = 0.0
    if volume is not None and after.named_volume not in (None, volume):
        words.append(f"guitar volume to {number_text(after.named_volume or 0)}")
        seconds += player.volume_seconds
    if pickup is not None and after.named_pickup not in (None, pickup):
        words.append(f"pickup to {visible(after.named_pickup or '')}")
        seconds += player.pickup_seconds
    return Hands(tuple(words), seconds)


def window_seconds(player: Player, rest_beats: float | None, beat: float) -> float:
    """Return the rest before a section and the lead-in, in seconds."""
    return ((rest_beats or 0) + player.lead_in_beats) * beat


def demands(view: View, song: Song) -> tuple[Demand, ...]:
    """Return what every change of a song asks for, also those that ask for nothing."""
    return remembered(view, song, _demands)


def _demands(view: View, song: Song) -> tuple[Demand, ...]:
    player, parts = view.player, played(view, song)
    made = []
    for change in count_song(view.rig, song).changes:
        before, after = parts[change.from_section], parts[change.to_section]
        beat = beat_seconds(song, before.section)
        now = on_the_beat(change.presses)
        ahead = [press for press in change.presses if press.can_wait]
        made.append(
            Demand(
                change.to_section,
                change.presses,
                hands_between(player, before, after, bool(change.presses)),
                press_seconds(player, now),
                press_seconds(player, ahead),
                window_seconds(player, after.section.rest_beats, beat),
                section_seconds(song, before.section),
            )
        )
    return tuple(made)


def in_words(view: View, section: Section, demand: Demand, with_banks: bool = False) -> str:
    """Say what a change asks for: "switch 3 (Lead) and guitar volume to 10"."""
    presses = demand.presses if with_banks else on_the_beat(demand.presses)
    return listed((*presses_in_words(view.rig, section, presses, timed=False), *demand.hands.words))


def say_seconds(seconds: float) -> str:
    """Write seconds to a hundredth at most: "0.43 s", "2 s"."""
    return f"{f'{seconds:.2f}'.rstrip('0').rstrip('.')} s"
