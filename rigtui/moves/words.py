"""Presses in the player's words: which preset a switch recalls, whether a pedal goes on or off."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import Literal

from rigtui.model.cells import cells
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.rig import Rig, Section
from rigtui.model.text import visible
from rigtui.moves.board import Board, Target, board_of
from rigtui.moves.press import Press

_TIMES = {1: "", 2: " twice"}


Brevity = Literal["full", "short", "bare"]
BREVITIES: tuple[Brevity, ...] = ("full", "short", "bare")
"""From all there is to say of a press to the press alone; what goes on or off is always said."""


def presses_in_words(
    rig: Rig, section: Section, presses: Iterable[Press], brevity: Brevity = "full"
) -> tuple[str, ...]:
    """Spell out the presses that lead to a section.

    Args:
        rig: The rig.
        section: The section entered: what it asks for says whether a press is on or off.
        presses: As counted.
        brevity: "short" for "sw 3 Lead", "bare" for "sw 3".

    Returns:
        One phrase a press, bank steps taken together: "bank up twice", "switch 3 (Lead)",
        "Rocker wah on".
    """
    board, found = board_of(rig), lookup(rig)
    target = board.target(section)
    words = []
    for press, same in groupby(presses):
        times = sum(1 for _ in same)
        said = str(press) if target is None else _phrase(found, board, target, press, brevity)
        words.append(visible(said) + _TIMES.get(times, f" {times} times"))
    return tuple(words)


def presses_within(rig: Rig, section: Section, presses: Iterable[Press], room: int) -> str:
    """Spell out presses in one line as fully as the cells that there are allow."""
    text, pressed = "", tuple(presses)
    for brevity in BREVITIES:
        text = ", ".join(presses_in_words(rig, section, pressed, brevity))
        if cells(text) <= room:
            break
    return text


def _phrase(found: Lookup, board: Board, target: Target, press: Press, brevity: Brevity) -> str:
    what = press.what
    if press.kind == "switch":
        label = found.presets[board.preset_ids[target.preset.place]].label
        if not target.preset.switch:
            unstored = {"full": " (no memory holds it yet)", "short": " (not stored)", "bare": ""}
            return f"recall {label}{unstored[brevity]}"
        return {"full": f"{press} ({label})", "short": f"sw {what} {label}", "bare": f"sw {what}"}[
            brevity
        ]
    if press.kind == "loop":
        number = int(what)
        inside = " and ".join(found.label(pedal) for pedal in found.loops[number].pedals)
        is_on = bool(target.mask & board.loop_bit[number])
        return _on(is_on, str(press), "" if brevity == "bare" else inside)
    if press.kind == "pedal":
        is_on = bool(target.outside & board.outside_bit[str(what)])
        return _on(is_on, found.label(str(what)))
    return f"amp to {what}" if press.kind == "channel" else str(press)


def _on(is_on: bool, what: str, inside: str = "") -> str:
    return f"{what} {'on' if is_on else 'off'}" + (f" ({inside})" if inside else "")
