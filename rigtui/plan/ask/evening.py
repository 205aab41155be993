"""Which songs a plan is for, how often each is played, and what they cost as they stand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from rigtui.model.rig import Rig, Setlist, Song
from rigtui.model.text import count
from rigtui.moves import changes_as_written, evening_as_written
from rigtui.plan.ask.checked import unknown
from rigtui.plan.ask.result import Figures, PlanError


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
    moves = worst = beat = 0
    for song, times in evening.times.items():
        for change in changes_as_written(rig, songs[song]):
            moves += times * change.moves
            worst = max(worst, change.moves)
            beat = max(beat, change.on_the_beat)
    set_up = sum(evening_as_written(rig, setlists[setlist.id])[1] for setlist in evening.setlists)
    return Figures(moves, set_up, worst, beat)
