"""Which songs a plan is for, how often each is played, and what they cost as they stand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from rigtui.model.rig import Rig, Setlist, Song
from rigtui.model.text import count
from rigtui.moves import board_of, changes_as_written, evening_as_written
from rigtui.moves.figures import effort_of
from rigtui.plan.ask.checked import unknown
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import Goal
from rigtui.plan.ask.result import PlanError

_FINEST = 100
"""An extra press is weighed in hundredths of a move at the finest."""


@dataclass(frozen=True, slots=True)
class Evening:
    """The chosen setlists of a rig; every song once where the rig has no setlists."""

    setlists: tuple[Setlist, ...]
    songs: tuple[Song, ...]
    """Songs to plan for, each once, in the rig's order."""
    times: dict[str, int]
    """How often each of them is played."""
    walks: tuple[tuple[str, tuple[str, ...]], ...]
    """Each setlist's id and the songs that it plays, in order, repeats included."""
    whole: bool = True
    """Whether these are all the setlists that there are."""

    @property
    def words(self) -> str:
        """Which setlists and how many songs: "all 2 setlists (Friday, Sunday): 36 songs"."""
        names = ", ".join(setlist.label for setlist in self.setlists)
        played = count(sum(self.times.values()), "song")
        if not self.setlists:
            return f"all {played} (there are no setlists)"
        if self.whole and len(self.setlists) > 1:
            return f"all {len(self.setlists)} setlists ({names}): {played}"
        return f"{names}{'' if self.whole else ' alone'}: {played}"


def evening_of(rig: Rig, setlist_ids: Sequence[str] = ()) -> Evening:
    """Return the songs of the setlists named, of all setlists where none is named.

    Raises:
        PlanError: there is no such setlist, or nothing to plan for.
    """
    known = {setlist.id: setlist for setlist in rig.setlists}
    labels = {setlist.id: setlist.label for setlist in rig.setlists}
    lost = [setlist for setlist in dict.fromkeys(setlist_ids) if setlist not in known]
    if lost:
        raise PlanError(*(unknown("setlist", setlist, labels) for setlist in lost))
    chosen = tuple(known[setlist] for setlist in dict.fromkeys(setlist_ids)) or rig.setlists
    ids = {song.id for song in rig.songs}
    walks = tuple(
        (setlist.id, tuple(song for song in setlist.song_ids if song in ids)) for setlist in chosen
    )
    if not rig.setlists:
        walks = (("", tuple(song.id for song in rig.songs)),)
    times = Counter(song for _, songs in walks for song in songs)
    songs = tuple(song for song in rig.songs if times[song.id])
    if not songs:
        raise PlanError("there is no song to plan for: put songs in the setlist first")
    return Evening(chosen, songs, dict(times), walks, len(chosen) == len(rig.setlists))


def figures(rig: Rig, evening: Evening) -> Figures:
    """Count an evening as the report does.

    The evening may have been made of another rig with the same songs and setlists.
    """
    songs = {song.id: song for song in rig.songs}
    setlists = {setlist.id: setlist for setlist in rig.setlists}
    unplayable, weight = board_of(rig).unplayable, rig.player.extra_press_weight
    moves = steps = crowded = extra_presses = lost = worst = beat = 0
    for song, times in evening.times.items():
        lost += times * sum(section.preset in unplayable for section in songs[song].sections)
        for change in changes_as_written(rig, songs[song]):
            moves += times * change.moves
            steps += times * change.bank_steps
            crowded += times * change.crowded
            extra_presses += times * change.extra_presses
            worst = max(worst, change.moves)
            beat = max(beat, change.on_the_beat)
    return Figures(
        moves=moves,
        set_up_moves=sum(
            evening_as_written(rig, setlists[setlist.id])[1] for setlist in evening.setlists
        ),
        worst_change=worst,
        on_the_beat_worst=beat,
        unplayable=lost,
        crowded=crowded,
        bank_steps=steps,
        extra_presses=extra_presses,
        effort=effort_of(moves, extra_presses, weight),
    )


def goal_of(rig: Rig, evening: Evening, first: str) -> Goal:
    """Return the goal of a plan for an evening.

    Args:
        rig: The rig; its player says what an extra press counts.
        evening: The songs that count.
        first: One of `FIRST`.
    """
    if first == "moves":
        return Goal()
    if first == "extra":
        return Goal(first, 1, 1 + _most_moves(rig, evening))
    weight = Fraction(str(rig.player.extra_press_weight)).limit_denominator(_FINEST)
    return Goal(first, weight.denominator, weight.numerator)


def _most_moves(rig: Rig, evening: Evening) -> int:
    """More moves than any plan of an evening has."""
    banks = rig.switcher.memories if rig.switcher is not None else 1
    of_a_change = len(rig.pedals) + len(rig.loops) + banks + 2
    return of_a_change * sum(evening.times[song.id] * len(song.sections) for song in evening.songs)
