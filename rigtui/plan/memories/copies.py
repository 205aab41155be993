"""Copies of presets in spare memories, so that a change finds its sound in the bank shown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from rigtui.model.edits import duplicate_preset, set_preset, set_section
from rigtui.model.rig import Rig, Song
from rigtui.moves import board_of
from rigtui.moves.board import Board
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, figures
from rigtui.plan.ask.goal import OF_GOAL
from rigtui.plan.ask.result import Plan, Proof, Status


def add_copies(rig: Rig, evening: Evening, most: int, control: Control) -> Rig:
    """Add up to so many copies, each where it saves the most bank steps, until none saves any.

    Every song is then mapped to the copies along its cheapest route.
    """
    return _copied(rig, evening, most, control)[0]


def _copied(
    rig: Rig, evening: Evening, most: int, control: Control
) -> tuple[Rig, list[tuple[str, int]]]:
    """The rig with copies, and of which preset in which memory they are."""
    switcher = rig.switcher
    if switcher is None:
        return rig, []
    board = board_of(rig)
    homes: dict[str, tuple[int, ...]] = {
        preset.id: (stored.bank,)
        for preset, stored in zip(rig.presets, board.stored)
        if stored.bank is not None
    }
    taken = {memory for preset in rig.presets for memory in preset.memories}
    spare = [memory for memory in range(1, switcher.memories + 1) if memory not in taken]
    songs = [song for song in rig.songs if song.id in evening.times]
    used = {section.preset for song in songs for section in song.sections}
    added: list[tuple[str, int]] = []
    cost = {song.id: _steps(board, song, homes)[0] for song in songs}
    while spare and len(added) < most:
        best: tuple[int, str, int] | None = None
        lowest = {switcher.spot(memory).bank: memory for memory in reversed(spare)}
        for bank, memory in lowest.items():
            for preset, banks in homes.items():
                control.stop_if_over()
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
        homes[preset] = (*homes[preset], switcher.spot(memory).bank)
        spare.remove(memory)
        added.append((preset, memory))
        cost = {song.id: _steps(board, song, homes)[0] for song in songs}
    return _written(rig, board, songs, homes, added), added


def with_copies(plan: Plan, evening: Evening, most: int, bound: int, control: Control) -> Plan:
    """A plan and up to so many copies, if any saves moves.

    Args:
        plan: The plan, of loops, memories and route.
        evening: The songs that count.
        most: How many copies at most.
        bound: No plan needs fewer moves, bank steps aside: copies save no others.
        control: Cancel.
    """
    if plan.rig is None or plan.after is None or not most:
        return plan
    new = add_copies(plan.rig, evening, most, control)
    after, goal = figures(new, evening), plan.goal
    made = len(new.presets) - len(plan.rig.presets)
    if after.moves >= plan.after.moves:
        new, after, made = plan.rig, plan.after, 0
    weighed = goal.weighed(after)
    lower = min(bound, weighed)
    status = plan.status if plan.status is Status.TIMED_OUT else Status.FEASIBLE
    part = Proof(
        "copies", f"{OF_GOAL[goal.first]} as written, with the copies", goal.value(after),
        goal.shown(lower),
    )  # fmt: skip
    return replace(
        plan,
        status=Status.OPTIMAL if weighed <= lower else status,
        rig=new,
        after=after,
        bound=lower,
        objective={**plan.objective, "moves": after.moves},
        parts=(*plan.parts, part),
        details={**plan.details, **_told(plan, new, control), "copies": made},
    )


def _told(plan: Plan, new: Rig, control: Control) -> dict[str, Any]:
    """The walks of the songs, where a plan tells them."""
    from rigtui.plan.route.planner import song_data

    songs = {song.id: song for song in new.songs}
    rows = [
        song_data(new, new, songs[row["id"]], control) | {"moves_before": row["moves_before"]}
        for row in plan.details.get("songs", ())
    ]
    return {"songs": rows} if rows else {}


def copies_worth(plan: Plan, evening: Evening, control: Control) -> dict[str, Any] | None:
    """What copies in the memories that a plan leaves free would save besides; None for nothing.

    Returns:
        `moves` that they save, `memories` that they take, and the `presets` copied (ids).
    """
    rig = plan.rig
    if rig is None or plan.after is None or rig.switcher is None:
        return None
    used = {section.preset for song in rig.songs for section in song.sections}
    if any(not preset.memories and preset.id in used for preset in rig.presets):
        return None
    new, added = _copied(rig, evening, rig.switcher.memories, control)
    control.stop_if_over()
    saved = plan.after.moves - figures(new, evening).moves
    if saved <= 0:
        return None
    return {
        "moves": saved,
        "memories": sorted(memory for _, memory in added),
        "presets": [preset for preset, _ in added],
    }


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
            ways = [(cost + board.steps[here][bank], here) for here, (cost, _) in layer.items()]
            ahead[bank] = min(ways) if ways else (0, None)
        layer, before = ahead, preset
        layers.append(layer)
        places.append(at)
    banks: list[int | None] = [None] * len(song.sections)
    if not layers:
        return 0, banks
    last = min(layer, key=lambda bank: layer[bank][0])
    total = layer[last][0]
    here_: int | None = last
    for at, layer_ in zip(reversed(places), reversed(layers)):
        banks[at] = here_
        here_ = layer_[here_][1] if here_ is not None else None
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
) -> Rig:
    """Make the copies, and map the songs to them."""
    if not added:
        return rig
    switcher = rig.switcher
    assert switcher is not None
    at_home = {(preset, homes[preset][0]): preset for preset in homes}
    for preset, memory in added:
        known = {row.id for row in rig.presets}
        rig = duplicate_preset(rig, preset)
        copy = next(row.id for row in rig.presets if row.id not in known)
        rig = set_preset(rig, copy, memory=memory)
        at_home[preset, switcher.spot(memory).bank] = copy
    for song in songs:
        _, banks = _steps(board, song, homes)
        for at, section in enumerate(song.sections):
            preset_, bank_ = section.preset, banks[at]
            if preset_ is not None and preset_ in homes and bank_ is not None:
                mapped = at_home[preset_, bank_]
                if mapped != section.preset:
                    rig = set_section(rig, song.id, at, preset=mapped)
    return rig
