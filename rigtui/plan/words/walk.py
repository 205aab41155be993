"""The walk through an evening in words, with the sums that what is listed adds up to."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rigtui.model.rig import Rig
from rigtui.model.text import count, visible
from rigtui.plan.ask.result import Plan


@dataclass(frozen=True, slots=True)
class WalkLine:
    """What to press on the way to one section."""

    song: str
    section: int
    """From 0."""
    name: str
    words: str
    """Empty where there is nothing to press."""


@dataclass(frozen=True, slots=True)
class WalkSong:
    """One song of the walk."""

    song: str
    title: str
    sums: str
    """Its presses on this walk, and as many as it needs alone: "3 before it, 7 inside"."""
    lines: tuple[WalkLine, ...]


@dataclass(frozen=True, slots=True)
class SaidWalk:
    """The walk of one setlist, or of all songs."""

    title: str
    sums: tuple[str, ...]
    """Its presses in all, and how that goes with the moves of the songs alone."""
    songs: tuple[WalkSong, ...]


def said_walks(plan: Plan, rig: Rig) -> list[SaidWalk]:
    """Say the walks of a route.

    Args:
        plan: The plan of the route.
        rig: The rig that it was made for.
    """
    labels = {setlist.id: setlist.label for setlist in rig.setlists}
    alone = {song["id"]: song["moves_after"] for song in plan.details.get("songs", ())}
    walks = []
    for walk in plan.details.get("walks", ()):
        songs = [_song(rig, steps, alone) for steps in _by_song(walk["steps"])]
        inside, between = walk["moves"], walk["set_up_moves"]
        sums = [
            f"{count(inside, 'press', 'presses')} inside songs, {between} between songs, "
            f"{inside + between} in all"
        ]
        apart = sum(alone[song.song] for song in songs)
        if apart != inside:
            sums.append(
                f"song by song, as the report counts, it is {apart} inside songs: a song alone "
                f"starts just as it is written, while on the walk pedals are set ahead between "
                f"songs, and what the song before left on or off stays where that is fine"
            )
        title = visible(labels.get(walk["setlist"], "all songs"))
        walks.append(SaidWalk(title, tuple(sums), tuple(songs)))
    return walks


def _by_song(steps: Sequence[Mapping[str, Any]]) -> Iterator[list[Mapping[str, Any]]]:
    """The steps of each song as it comes; a song that is played twice comes twice."""
    here: list[Mapping[str, Any]] = []
    for step in steps:
        if step["between_songs"] and here:
            yield here
            here = []
        here.append(step)
    if here:
        yield here


def _song(rig: Rig, steps: Sequence[Mapping[str, Any]], alone: Mapping[str, int]) -> WalkSong:
    song = next(row for row in rig.songs if row.id == steps[0]["song"])
    before = sum(len(step["presses"]) for step in steps if step["between_songs"])
    inside = sum(len(step["presses"]) for step in steps if not step["between_songs"])
    sums = f"{before} before it, {inside} inside"
    if alone[song.id] != inside:
        sums += f" ({alone[song.id]} as the report counts it alone)"
    lines = [
        WalkLine(
            song.id,
            step["section"],
            visible(song.sections[step["section"]].name),
            visible(", ".join(step["words"])),
        )
        for step in steps
    ]
    return WalkSong(song.id, visible(song.label), sums, tuple(lines))
