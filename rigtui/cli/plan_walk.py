"""The least-moves walk in words: what to press on the way to each section."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from rigtui.model.cells import wrap
from rigtui.model.text import count

if TYPE_CHECKING:
    from rigtui.cli.plan import Outcome
    from rigtui.cli.terminal import Terminal
    from rigtui.model.rig import Song


def walk_text(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    """Say the walk of each evening, or of each song where there is no setlist."""
    songs = {song.id: song for song in outcome.rig.songs}
    labels = {setlist.id: setlist.label for setlist in outcome.rig.setlists}
    for walk in outcome.plan.details.get("walks", ()):
        name = labels.get(walk["setlist"], "all songs")
        moves = f"{count(walk['moves'], 'move')}, {walk['set_up_moves']} between songs"
        for line in wrap(terminal.show(f"The walk through {name}: {moves}"), terminal.width):
            yield terminal.paint(line, "bold")
        before = None
        for number, step in enumerate(walk["steps"]):
            song = songs[step["song"]]
            if step["between_songs"] or number == 0 or before != song.id:
                yield from wrap(terminal.show(song.label), terminal.width, "  ")
            before = song.id
            yield from _step(song, step, terminal)
        yield ""


def _step(song: Song, step: dict[str, Any], terminal: Terminal) -> Iterator[str]:
    if not step["presses"]:
        return
    section = song.sections[step["section"]]
    when = "before it, " if step["between_songs"] else ""
    said = f"{when}{', '.join(step['words'])}"
    text = f"{section.name}: {said}"
    yield from wrap(terminal.show(text), terminal.width, f"{step['section'] + 1:6}  ", " " * 10)
