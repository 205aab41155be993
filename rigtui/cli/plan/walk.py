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
        for line in wrap(terminal.show(f"The walk through {walk.title}"), width):
            yield terminal.paint(line, "bold")
        for text in walk.sums:
            yield from wrap(terminal.show(text), width, "  ", "    ")
        yield from wrap("Sections that are left out need no press.", width, "  ", "    ")
        for song in walk.songs:
            yield from wrap(terminal.show(f"{song.title}: {song.sums}"), width, "  ", "    ")
            for number, one in enumerate(song.lines):
                if one.words:
                    when = "before it, " if number == 0 else ""
                    text = f"{one.name}: {when}{one.words}"
                    yield from wrap(terminal.show(text), width, f"{one.section + 1:6}  ", " " * 10)
        yield ""
