"""The least-moves walk in words: what to press on the way to each section."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rigtui.model.cells import wrap
from rigtui.plan.words.walk import said_walks

if TYPE_CHECKING:
    from rigtui.cli.plan.outcome import Outcome
    from rigtui.cli.terminal import Terminal


def walk_text(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    """Say the walk of each evening, or of all songs where there is no setlist."""
    width = terminal.width
    for walk in said_walks(outcome.plan, outcome.rig):
        for text in wrap(terminal.show(f"The walk through {walk.title}"), width):
            yield terminal.paint(text, "bold")
        for text in walk.sums:
            yield from wrap(terminal.show(text), width, "  ", "    ")
        yield from wrap("Sections that are left out need no press.", width, "  ", "    ")
        for song in walk.songs:
            yield from wrap(terminal.show(f"{song.title}: {song.sums}"), width, "  ", "    ")
            for number, line in enumerate(song.lines):
                if line.words:
                    when = "before it, " if number == 0 else ""
                    said = f"{line.name}: {when}{line.words}"
                    yield from wrap(terminal.show(said), width, f"{line.section + 1:6}  ", " " * 10)
        yield ""
