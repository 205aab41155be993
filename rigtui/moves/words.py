"""Presses in the player's words: which preset a switch recalls, whether a pedal goes on or off."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import Literal

from rigtui.model.cells import cells
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.playable import is_unplayable, nearest_stored
from rigtui.model.rig import Rig, Section
from rigtui.model.text import count, listed, visible
from rigtui.moves.board import Board, Target
from rigtui.moves.boards import board_of
from rigtui.moves.press import Press

_TIMES = {1: "", 2: " twice"}
_WHEN = {
    "now": {"full": "", "short": "", "bare": ""},
    "ahead": {"full": " ahead of time", "short": " ahead", "bare": ""},
    "later": {"full": " later", "short": " later", "bare": ""},
}


Brevity = Literal["full", "short", "bare"]
BREVITIES: tuple[Brevity, ...] = ("full", "short", "bare")
"""From all there is to say of a press to the press alone; what goes on or off is always said."""


def presses_in_words(
    rig: Rig,
    section: Section,
    presses: Iterable[Press],
    brevity: Brevity = "full",
    *,
    timed: bool = True,
) -> tuple[str, ...]:
    """Spell out the presses that lead to a section.

    Args:
        rig: The rig.
        section: The section entered: what it asks for says whether a press is on or off.
        presses: As counted.
        brevity: "short" for "sw 3 Lead", "bare" for "sw 3".
        timed: Whether to say which press can wait; between songs every one can.

    Returns:
        One phrase a press, bank steps taken together: "bank up twice", "switch 3 (Lead)",
        "Rocker wah on ahead of time".
    """
    board, known = board_of(rig), lookup(rig)
    target = board.target(section)
    words = []
    for press, same in groupby(presses):
        times = sum(1 for _ in same)
        said = str(press) if target is None else _phrase(known, board, target, press, brevity)
        said = visible(said) + _TIMES.get(times, f" {times} times")
        words.append(said + _WHEN[press.when][brevity] if timed else said)
    return tuple(words)


def presses_within(
    rig: Rig, section: Section, presses: Iterable[Press], room: int, *, timed: bool = True
) -> str:
    """Spell out presses in one line as fully as the cells that there are allow."""
    text, pressed = "", tuple(presses)
    for brevity in BREVITIES:
        text = ", ".join(presses_in_words(rig, section, pressed, brevity, timed=timed))
        if cells(text) <= room:
            break
    return text


def _phrase(known: Lookup, board: Board, target: Target, press: Press, brevity: Brevity) -> str:
    what = press.what
    if press.kind == "switch":
        label = known.presets[board.preset_ids[target.preset.place]].label
        if not target.preset.switch:
            unstored = {"full": " (not stored yet)", "short": " (not stored)", "bare": ""}
            return f"recall {label}{unstored[brevity]}"
        return {"full": f"{press} ({label})", "short": f"sw {what} {label}", "bare": f"sw {what}"}[
            brevity
        ]
    if press.kind == "loop":
        number = int(what)
        inside = " and ".join(known.label(pedal) for pedal in known.loops[number].pedals)
        is_on = bool(target.mask & board.loop_bit[number])
        return _on(is_on, str(press), "" if brevity == "bare" else inside)
    if press.kind == "pedal":
        is_on = bool(target.outside & board.outside_bit[str(what)])
        return _on(is_on, known.label(str(what)))
    return f"amp to {what}" if press.kind == "channel" else str(press)


def _on(is_on: bool, what: str, inside: str = "") -> str:
    return f"{what} {'on' if is_on else 'off'}" + (f" ({inside})" if inside else "")


def burden_in_words(unplayable: int, extra_presses: int, *, brief: bool = False) -> list[str]:
    """Say how many sections can't be played, and how many presses are more than one on a beat.

    In brief: "13 can't play", "7 extra".
    """
    lost = (
        f"{unplayable} can't play" if brief else f"{count(unplayable, 'section')} can't be played"
    )
    extra = "extra" if brief else "extra press" if extra_presses == 1 else "extra presses"
    return [lost] * bool(unplayable) + [f"{extra_presses} {extra}"] * bool(extra_presses)


def unplayable_in_words(rig: Rig, section: Section) -> str | None:
    """Say that no memory holds a section's sound, and what is stored nearest; None where one does.

    "Can't be played: Ballad Wide is in no memory. Nearest is Clean Chop, without Wide chorus".
    """
    if not is_unplayable(rig, section):
        return None
    preset = lookup(rig).presets[section.preset or ""]
    nearest = nearest_in_words(rig, section)
    said = f"Can't be played: {visible(preset.label)} is in no memory"
    return (
        (f"{said}, and no other preset is stored either")
        if nearest is None
        else f"{said}. {nearest}"
    )


def nearest_in_words(rig: Rig, section: Section) -> str | None:
    """Say which stored preset comes nearest to a section, and how it differs; None for none.

    "Nearest is Clean Chop, without Wide chorus".
    """
    known, nearest = lookup(rig), nearest_stored(rig, section)
    if nearest is None:
        return None
    differs = [f"without {_named(known, nearest.missing)}"] * bool(nearest.missing)
    differs += [f"with {_named(known, nearest.too_many)} on"] * bool(nearest.too_many)
    differs += ["on another channel"] * nearest.other_channel
    tail = f", {' and '.join(differs)}" if differs else ", which sends other MIDI messages"
    return f"Nearest is {visible(nearest.preset.label)}{tail}"


def _named(known: Lookup, pedals: Iterable[str]) -> str:
    return listed(visible(known.label(pedal)) for pedal in pedals)
