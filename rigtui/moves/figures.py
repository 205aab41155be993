"""What the counting works out, as values that know no board: where feet and switcher are, what a
change, a song and an evening take, and what that depends on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from rigtui.model.rig import Song
from rigtui.moves.press import Presses, count_kind


class State(NamedTuple):
    """What is shown, recalled, toggled and on."""

    bank: int = 0
    preset: int | None = None
    mask: int = 0
    outside: int = 0
    channel: str | None = None


@dataclass(frozen=True, slots=True)
class Change:
    """The step from one section to the next; sections are counted from 0."""

    from_section: int
    to_section: int
    presses: Presses
    """Each press of a foot, in order."""

    @property
    def moves(self) -> int:
        """Presses in all."""
        return len(self.presses)

    @property
    def on_the_beat(self) -> int:
        """Presses that must happen at the change itself."""
        return [press.when for press in self.presses].count("now")

    @property
    def crowded(self) -> bool:
        """Whether two or more presses must happen at the change itself."""
        return self.on_the_beat > 1

    @property
    def extra_presses(self) -> int:
        """Presses at the change itself, beyond the first."""
        return max(0, self.on_the_beat - 1)

    @property
    def bank_steps(self) -> int:
        """Presses of the bank buttons."""
        return count_kind(self.presses, "bank")


@dataclass(frozen=True, slots=True)
class SongCount:
    """What one song asks of feet and hands."""

    song_id: str
    moves: int
    least_moves: int
    on_the_beat_worst: int
    hand_moves: int
    seconds: float
    changes: tuple[Change, ...]
    crowded: int
    """Changes with two or more presses on the beat."""
    extra_presses: int
    """Presses on the beat beyond the first of each change."""
    unplayable: int
    """Sections whose sound no memory holds."""
    weight: float
    """What the player counts for an extra press."""

    @property
    def effort(self) -> float:
        """What the feet have to do, to compare plans by: moves, and more for extra presses."""
        return effort_of(self.moves, self.extra_presses, self.weight)


class AskedOfFeet(NamedTuple):
    """What some songs ask of the feet as written, songs that are played twice counted twice."""

    unplayable: int
    """Sections whose sound no memory holds."""
    extra_presses: int
    moves: int
    """Inside songs."""
    set_up_moves: int


@dataclass(frozen=True, slots=True)
class SetUp:
    """What has to be pressed before a song of a setlist starts."""

    song_id: str
    place: int
    """The song's place in the setlist, from 0."""
    presses: Presses


@dataclass(frozen=True, slots=True)
class SetlistCount:
    """What an evening asks of the feet; songs that do not exist are passed over."""

    setlist_id: str
    moves: int
    least_moves: int
    set_ups: tuple[SetUp, ...]
    song_ids: tuple[str, ...]
    guitar_changes: int
    crowded: int
    extra_presses: int
    unplayable: int
    weight: float

    @property
    def effort(self) -> float:
        """What the feet have to do inside songs, to compare plans by."""
        return effort_of(self.moves, self.extra_presses, self.weight)

    @property
    def set_up_moves(self) -> int:
        """Presses between songs, and before the first."""
        return sum(len(set_up.presses) for set_up in self.set_ups)


def effort_of(moves: int, extra_presses: int, weight: float) -> float:
    """Return moves and, for each extra press, its weight; a whole number where it is one."""
    effort = moves + weight * extra_presses
    return int(effort) if float(effort).is_integer() else effort


class SongWritten(NamedTuple):
    """A song that starts set up on its first section, as written."""

    song: Song
    moves: int
    extra_presses: int
    ends_on: State
    changes: tuple[Change, ...]


class DependsOn(NamedTuple):
    """What a song's figures depend on."""

    preset_ids: frozenset[str | None]
    sounds: frozenset[tuple[int, int]]
    """What its sections ask of the loops: those on, and those that may not differ."""
