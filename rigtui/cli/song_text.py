"""A single song, section by section, with every press."""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.cli.song_table import clock
from rigtui.cli.terminal import Terminal
from rigtui.model.cells import wrap
from rigtui.model.lookup import lookup
from rigtui.model.meter import tempo_in_words
from rigtui.model.rig import Rig, Section, Song
from rigtui.model.text import count, number_text
from rigtui.moves import Change, count_song
from rigtui.moves.words import burden_in_words, presses_in_words, unplayable_in_words


def _moves(change: Change) -> str:
    moves = count(change.moves, "move")
    if not change.moves:
        return "no move"
    if change.on_the_beat == change.moves:
        return f"{moves}, all on the beat" if change.moves > 1 else moves
    return f"{moves}, {change.on_the_beat} on the beat"


def _spelt(rig: Rig, entered: Section, change: Change, terminal: Terminal) -> list[str]:
    words = ", ".join(presses_in_words(rig, entered, change.presses))
    return wrap(terminal.show(words), terminal.width, terminal.show("      → "), " " * 8)


def song_view(rig: Rig, song: Song, terminal: Terminal) -> Iterator[str]:
    """Go through one song section by section, with every press between."""
    counted = count_song(rig, song)
    burden = burden_in_words(counted.unplayable, counted.extra_presses)
    for line in wrap(terminal.show(f"{song.label} ({song.id})"), terminal.width):
        yield terminal.paint(line, "bold")
    for line in (
        f"{count(counted.moves, 'move')} as written, {counted.least_moves} at the least; "
        f"at worst {counted.on_the_beat_worst} on one beat; "
        f"{count(counted.hand_moves, 'hand move')}",
        *["; ".join(burden)] * bool(burden),
        f"{tempo_in_words(song.tempo, song.meter, song.beat)}, {song.meter}; "
        f"{clock(counted.seconds)} long",
    ):
        yield from wrap(line, terminal.width, "  ", "    ")
    yield ""
    if not song.sections:
        yield "  No sections yet"
    changes = {change.to_section: change for change in counted.changes}
    for at, section in enumerate(song.sections):
        if at in changes and changes[at].moves:
            yield from _spelt(rig, section, changes[at], terminal)
        yield from _section(rig, at, section, changes.get(at), terminal)
    yield ""


def _section(
    rig: Rig, at: int, section: Section, change: Change | None, terminal: Terminal
) -> Iterator[str]:
    if section.preset is None:
        sound = "no preset yet"
    else:
        preset = lookup(rig).presets.get(section.preset)
        sound = preset.label if preset else f'no preset "{section.preset}"'
    bars = "1 bar" if section.bars == 1 else f"{number_text(section.bars)} bars"
    arrived = f": {_moves(change)}" if change else ""
    text = terminal.show(f"{section.name}, {bars}, {sound}{arrived}")
    yield from wrap(text, terminal.width, f"{at + 1:4}  ", " " * 6)
    cannot = unplayable_in_words(rig, section)
    if cannot is not None:
        yield from wrap(terminal.show(cannot), terminal.width, " " * 6)
    if section.hands:
        yield from wrap(terminal.show(f"hands: {section.hands}"), terminal.width, " " * 6)
