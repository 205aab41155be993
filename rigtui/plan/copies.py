"""Copies of presets in spare memories, so that a change finds its sound in the bank shown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rigtui.model.edits import duplicate_preset, set_preset, set_section
from rigtui.model.rig import Rig, Song
from rigtui.model.text import visible
from rigtui.moves import board_of
from rigtui.moves.board import Board
from rigtui.plan.control import Control
from rigtui.plan.evening import Evening


def add_copies(rig: Rig, evening: Evening, most: int, control: Control) -> tuple[Rig, list[str]]:
    """Add up to so many copies, each where it saves the most bank steps, until none saves any.

    Every song is then mapped to the copies along its cheapest route.

    Returns:
        The rig, and what was done, in words.
    """
    switcher = rig.switcher
    if switcher is None:
        return rig, []
    board = board_of(rig)
    homes: dict[str, tuple[int, ...]] = {
        preset.id: (stored.bank,)
        for preset, stored in zip(rig.presets, board.stored)
        if stored.bank is not None
    }
    taken = {preset.memory for preset in rig.presets}
    spare = [one for one in range(1, switcher.memories + 1) if one not in taken]
    songs = [song for song in rig.songs if song.id in evening.times]
    used = {section.preset for song in songs for section in song.sections}
    added: list[tuple[str, int]] = []
    cost = {song.id: _steps(board, song, homes)[0] for song in songs}
    while spare and len(added) < most:
        best: tuple[int, str, int] | None = None
        for memory in {(m - 1) // switcher.bank_size: m for m in reversed(spare)}.values():
            bank = (memory - 1) // switcher.bank_size
            for preset, banks in homes.items():
                control.check()
                if bank in banks or preset not in used:
                    continue
                trial = {**homes, preset: (*banks, bank)}
                saved = sum(
                    evening.times[song.id] * (cost[song.id] - _steps(board, song, trial)[0])
                    for song in songs
                    if any(section.preset == preset for section in song.sections)
                )
                if saved > 0 and (best is None or saved > best[0]):
                    best = (saved, preset, memory)
        if best is None:
            break
        _, preset, memory = best
        homes[preset] = (*homes[preset], (memory - 1) // switcher.bank_size)
        spare.remove(memory)
        added.append((preset, memory))
        cost = {song.id: _steps(board, song, homes)[0] for song in songs}
    return _written(rig, board, songs, homes, added)


def _steps(
    board: Board, song: Song, homes: Mapping[str, Sequence[int]]
) -> tuple[int, list[int | None]]:
    """The fewest bank steps of a song, and the bank in which each section's preset is recalled."""
    layers: list[dict[int, tuple[int, int | None]]] = []
    places: list[int] = []
    before: str | None = None
    layer: dict[int, tuple[int, int | None]] = {}
    for at, section in enumerate(song.sections):
        preset = section.preset
        if preset is None or preset not in homes or preset == before:
            continue
        ahead: dict[int, tuple[int, int | None]] = {}
        for bank in homes[preset]:
            ways = [
                (cost + board.bank_steps(here, bank)[0], here) for here, (cost, _) in layer.items()
            ]
            ahead[bank] = min(ways) if ways else (0, None)
        layer, before = ahead, preset
        layers.append(layer)
        places.append(at)
    banks: list[int | None] = [None] * len(song.sections)
    if not layers:
        return 0, banks
    last = min(layer, key=lambda one: layer[one][0])
    total = layer[last][0]
    here_: int | None = last
    for at, one in zip(reversed(places), reversed(layers)):
        banks[at] = here_
        here_ = one[here_][1] if here_ is not None else None
    for at in range(1, len(banks)):  # sections that stay on their preset stay on its copy
        if banks[at] is None:
            banks[at] = banks[at - 1]
    return total, banks


def _written(
    rig: Rig,
    board: Board,
    songs: Sequence[Song],
    homes: Mapping[str, Sequence[int]],
    added: Sequence[tuple[str, int]],
) -> tuple[Rig, list[str]]:
    """Make the copies, and map the songs to them."""
    if not added:
        return rig, []
    switcher = rig.switcher
    assert switcher is not None
    name = {preset.id: preset.label for preset in rig.presets}
    at_home = {(preset, homes[preset][0]): preset for preset in homes}
    steps = []
    for preset, memory in added:
        known = {one.id for one in rig.presets}
        rig = duplicate_preset(rig, preset)
        copy = next(one.id for one in rig.presets if one.id not in known)
        rig = set_preset(rig, copy, memory=memory)
        bank, switch = divmod(memory - 1, switcher.bank_size)
        at_home[preset, bank] = copy
        steps.append(
            f"store a copy of {visible(name[preset])} in memory {memory} "
            f"(bank {bank + 1}, switch {switch + 1})"
        )
    for song in songs:
        _, banks = _steps(board, song, homes)
        for at, section in enumerate(song.sections):
            preset_, bank_ = section.preset, banks[at]
            if preset_ is not None and preset_ in homes and bank_ is not None:
                mapped = at_home[preset_, bank_]
                if mapped != section.preset:
                    rig = set_section(rig, song.id, at, preset=mapped)
    return rig, steps
