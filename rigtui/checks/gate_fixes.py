"""Taking a gate out of a preset or section without taking anything else along."""

from __future__ import annotations

from functools import partial

from rigtui.checks.finding import Fix, RigView
from rigtui.checks.words import named, section_of
from rigtui.model import Pedal, Preset, Song
from rigtui.model.edits import set_preset, set_section
from rigtui.model.text import listed, visible


def gate_loop(view: RigView, gate: Pedal) -> int | None:
    """Return the loop that holds this gate and nothing but gates; None if there is none such."""
    number = view.known.loop_of.get(gate.id)
    if number is None:
        return None
    inside = (view.known.pedals.get(pedal) for pedal in view.known.loops[number].pedals)
    return number if all(pedal and pedal.kind == "gate" for pedal in inside) else None


def neighbours(view: RigView, gate: Pedal) -> str:
    """Say what a gate in a loop shares it with: "Gate shares loop 3 with Mid drive"."""
    number = view.known.loop_of[gate.id]
    others = [pedal for pedal in view.known.loops[number].pedals if pedal != gate.id]
    shared = listed(visible(view.known.label(pedal)) for pedal in others)
    return f"{named(gate)} shares loop {number} with {shared}"


def why_it_stays(view: RigView, gates: list[Pedal]) -> str:
    """Say, as the tail of a sentence, why a preset cannot do without its gates; "" if it can."""
    for gate in gates:
        if gate.id not in view.known.loop_of:
            return f"; {named(gate)} is left on outside the loops"
        if gate_loop(view, gate) is None:
            return f"; {neighbours(view, gate)}, so it can't be switched out alone"
    return ""


def out_of_preset(view: RigView, preset: Preset, gates: list[Pedal]) -> Fix | None:
    """Switch the gates' loops out of a preset, if nothing else is in them."""
    loops = [gate_loop(view, gate) for gate in gates]
    numbers = sorted({number for number in loops if number is not None})
    if None in loops or not {*numbers} <= {*preset.loops}:
        return None
    kept = tuple(number for number in preset.loops if number not in numbers)
    words = f"loop{'s' if len(numbers) > 1 else ''} {listed(map(str, numbers))}"
    return Fix(
        f"switch {words} out of {named(preset)}",
        partial(set_preset, preset_id=preset.id, loops=kept),
    )


def out_of_section(view: RigView, song: Song, at: int, gates: list[Pedal]) -> Fix | None:
    """Take the gates out of a section's `plus`, if they come from there and bring nothing else."""
    section, loop_of = song.sections[at], view.known.loop_of
    preset = view.known.presets.get(section.preset or "")
    outside = {gate.id for gate in gates if gate.id not in loop_of}
    loops = {gate_loop(view, gate) for gate in gates if gate.id in loop_of}
    if preset is None or None in loops or loops & {*preset.loops}:
        return None
    if not outside <= {*section.plus}:
        return None
    kept = tuple(p for p in section.plus if p not in outside and loop_of.get(p, 0) not in loops)
    if kept == section.plus:
        return None  # a gate in two loops: what switches it on is not what would be taken out
    return Fix(
        f"take {listed(map(named, gates))} out of {section_of(song, at)}",
        partial(set_section, song_id=song.id, at=at, plus=kept),
    )
