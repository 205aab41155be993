"""Presses in the player's words: which preset a switch recalls, whether a pedal goes on or off."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from rigtui.model.lookup import Lookup, lookup
from rigtui.model.rig import Rig, Section
from rigtui.model.text import visible
from rigtui.moves.board import Board, Target, board_of

_TIMES = {1: "", 2: " twice"}


def presses_in_words(rig: Rig, section: Section, presses: Iterable[str]) -> tuple[str, ...]:
    """Spell out the presses that lead to a section.

    Args:
        rig: The rig.
        section: The section entered: what it asks for says whether a press is on or off.
        presses: As counted, e.g. "bank up", "switch 3", "pedal wah".

    Returns:
        One phrase a press, bank steps taken together: "bank up twice", "switch 3 (Lead)",
        "Rocker wah on".
    """
    board, found = board_of(rig), lookup(rig)
    target = board.target(section)
    words = []
    for press, same in groupby(presses):
        times = sum(1 for _ in same)
        said = press if target is None else _phrase(found, board, target, press)
        words.append(visible(said) + _TIMES.get(times, f" {times} times"))
    return tuple(words)


def _phrase(found: Lookup, board: Board, target: Target, press: str) -> str:
    kind, _, what = press.partition(" ")
    if kind == "switch":
        preset = found.presets[board.preset_ids[target.preset.place]]
        if not target.preset.switch:
            return f"recall {preset.label} (no memory holds it yet)"
        return f"{press} ({preset.label})"
    if kind == "loop":
        number = int(what)
        inside = " and ".join(found.label(pedal) for pedal in found.loops[number].pedals)
        return _on(bool(target.mask & board.loop_bit[number]), press, inside)
    if kind == "pedal":
        return _on(bool(target.outside & board.outside_bit[what]), found.label(what))
    return f"amp to {what}" if kind == "channel" else press


def _on(is_on: bool, what: str, inside: str = "") -> str:
    return f"{what} {'on' if is_on else 'off'}" + (f" ({inside})" if inside else "")
