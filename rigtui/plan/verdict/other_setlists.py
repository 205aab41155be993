"""What a plan for some setlists does to the others, and to songs that no setlist plays."""

from __future__ import annotations

from dataclasses import dataclass

from rigtui.model.places import taken_apart
from rigtui.model.rig import Rig
from rigtui.plan.ask.evening import Evening, evening_of, figures
from rigtui.plan.ask.result import PlanError
from rigtui.plan.verdict.unstored import unstored


@dataclass(frozen=True, slots=True)
class OtherSetlist:
    """A setlist that a plan was not made for."""

    setlist: str
    """Its id; "" for the songs that no setlist plays."""
    label: str
    moves_before: int
    """Moves inside its songs, repeats included."""
    moves_after: int
    lost: tuple[str, ...]
    """Sections that can be recalled now and no more with the plan: "songs.low-fen.sections.3"."""
    presets: tuple[str, ...]
    """Ids of the presets that those are on."""
    newly_recalled: int
    """How many sections can be recalled with the plan and cannot now."""


def other_setlists(now: Rig, then: Rig, evening: Evening) -> list[OtherSetlist]:
    """Hold the setlists that a plan was not made for against the rig as it is.

    Args:
        now: The rig.
        then: The rig as planned.
        evening: What it was planned for.
    """
    chosen = {setlist.id for setlist in evening.setlists}
    rows = []
    for setlist in now.setlists:
        if setlist.id not in chosen:
            try:
                rows.append(_other(now, then, setlist.id, setlist.label,
                                   evening_of(now, (setlist.id,))))  # fmt: skip
            except PlanError:
                continue  # it has no songs yet
    played = {song for setlist in now.setlists for song in setlist.song_ids}
    idle = tuple(
        song for song in now.songs if song.id not in played and song.id not in evening.times
    )
    if idle:
        alone = Evening((), idle, {song.id: 1 for song in idle}, (), whole=False)
        rows.append(_other(now, then, "", "songs that no setlist plays", alone))
    return rows


def _other(now: Rig, then: Rig, setlist: str, label: str, evening: Evening) -> OtherSetlist:
    before, after = unstored(now, evening), unstored(then, evening)
    was = set(before.sections if before else ())
    lost = tuple(place for place in (after.sections if after else ()) if place not in was)
    songs = {song.id: song for song in then.songs}
    used: dict[str, None] = {}
    for place in lost:
        section = taken_apart(place)
        if section.section is not None:
            used[songs[section.row].sections[section.section].preset or ""] = None
    return OtherSetlist(
        setlist, label, figures(now, evening).moves, figures(then, evening).moves, lost,
        tuple(used), len(was) - (len(after.sections) if after else 0) + len(lost),
    )  # fmt: skip
