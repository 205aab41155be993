"""Where a gate chops what should ring, and where hiss goes through for want of one.

A gate is judged by the preset where the preset brings it, and by the section where it comes on
top; a preset that is at fault is not reported again by each of its sections.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import partial
from typing import NamedTuple

from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.gate_fixes import (
    gate_loop,
    neighbours,
    out_of_preset,
    out_of_section,
    why_it_stays,
)
from rigtui.checks.played import played, preset_sound
from rigtui.checks.words import named, section_of
from rigtui.model import Pedal, Preset, Song
from rigtui.model.edits import set_preset
from rigtui.model.places import place_at, section_place
from rigtui.model.text import listed, number_text

ROLLED_DOWN = 6
"""Guitar volume at which a gate set for a full guitar starts to bite (a default, not measured)."""

Sound = tuple[str, ...]


class _GateOn(NamedTuple):
    """A role in which a gate is out of place."""

    role: str
    beside_echo: bool
    """Only beside a delay or reverb."""

    def at_fault(self, view: RigView, preset: Preset, sound: Sound) -> bool:
        wrong = preset.role == self.role and bool(_of_kind(view, sound, "gate"))
        return wrong and (not self.beside_echo or bool(_of_kind(view, sound, "delay", "reverb")))

    def preset(self, view: RigView, preset: Preset) -> Iterator[Hit]:
        """Check a preset by itself."""
        sound = preset_sound(view, preset)
        if self.at_fault(view, preset, sound):
            gates = _of_kind(view, sound, "gate")
            yield Hit(
                place_at("presets", preset.id),
                f"{named(preset)} is {self._kind()} with {self._on(view, sound)}"
                f"{self._at_volume(preset.guitar_volume)}{why_it_stays(view, gates)}",
                out_of_preset(view, preset, gates),
                about=_places(gates),
            )

    def song(self, view: RigView, song: Song) -> Iterator[Hit]:
        """Check what sections put on top of presets that are right by themselves."""
        if not any(pedal.kind == "gate" for pedal in view.rig.pedals):
            return
        for at, part in enumerate(played(view, song)):
            preset, section = part.preset, part.section
            if preset is None or not (section.plus or section.minus):
                continue
            own = preset_sound(view, preset)
            if self.at_fault(view, preset, part.sound) and not self.at_fault(view, preset, own):
                yield Hit(
                    section_place(song.id, at),
                    f"{section_of(song, at)} has {self._on(view, part.sound)}"
                    f"{self._at_volume(part.volume)}; {named(preset)} is {self._kind()}",
                    out_of_section(view, song, at, _of_kind(view, part.sound, "gate")),
                )

    def _kind(self) -> str:
        return f"{'an' if self.role[0] in 'ao' else 'a'} {self.role} sound"

    def _on(self, view: RigView, sound: Sound) -> str:
        on = f"{listed(map(named, _of_kind(view, sound, 'gate')))} on"
        if self.beside_echo:
            on += f" beside {listed(map(named, _of_kind(view, sound, 'delay', 'reverb')))}"
        return on

    def _at_volume(self, volume: float | None) -> str:
        """For a clean sound only: the others have a rule of their own for it, gate-vs-volume."""
        if self.role != "clean" or volume is None or volume > ROLLED_DOWN:
            return ""
        return f", and with the guitar at {number_text(volume)} it chokes soft notes"


_CLEAN = _GateOn("clean", beside_echo=False)
_LEAD = _GateOn("lead", beside_echo=True)
_AMBIENT = _GateOn("ambient", beside_echo=False)


def _of_kind(view: RigView, sound: Sound, *kinds: str) -> list[Pedal]:
    pedals = (view.known.pedals[pedal] for pedal in sound)
    return [pedal for pedal in pedals if pedal.kind in kinds]


def _places(pedals: Iterable[Pedal]) -> tuple[str, ...]:
    return tuple(place_at("pedals", pedal.id) for pedal in pedals)


def _without_gate(view: RigView, preset: Preset) -> Iterator[Hit]:
    if preset.role != "high-gain" or _of_kind(view, preset_sound(view, preset), "gate"):
        return
    gates = _of_kind(view, view.known.order, "gate")
    free = [number for gate in gates if (number := gate_loop(view, gate)) is not None]
    fix, tail = None, ""
    if free:
        loops = tuple(sorted({*preset.loops, free[0]}))
        fix = Fix(
            f"switch loop {free[0]} into {named(preset)}",
            partial(set_preset, preset_id=preset.id, loops=loops),
        )
    elif not gates:
        tail = ", and the rig has none"
    elif gates[0].id in view.known.loop_of:
        tail = f"; {neighbours(view, gates[0])}, so it can't be switched in alone"
    else:
        tail = f"; {named(gates[0])} stands outside the loops, where no preset switches it"
    where = place_at("presets", preset.id)
    says = f"{named(preset)} is a high-gain sound with no gate on{tail}"
    yield Hit(where, says, fix, about=_places(gates))


def _gated_and_down(view: RigView, preset: Preset) -> bool:
    volume = preset.guitar_volume
    down = volume is not None and volume <= ROLLED_DOWN and preset.role != "clean"
    return down and bool(_of_kind(view, preset_sound(view, preset), "gate"))


def _down_preset(view: RigView, preset: Preset) -> Iterator[Hit]:
    if _gated_and_down(view, preset):
        gates = _of_kind(view, preset_sound(view, preset), "gate")
        yield Hit(
            place_at("presets", preset.id),
            f"{named(preset)} has {listed(map(named, gates))} on with the guitar at "
            f"{number_text(preset.guitar_volume or 0)}{why_it_stays(view, gates)}",
            out_of_preset(view, preset, gates),
            about=_places(gates),
        )


def _down_section(view: RigView, song: Song) -> Iterator[Hit]:
    for at, part in enumerate(played(view, song)):
        volume, preset = part.named_volume, part.preset
        if preset is None or volume is None or volume > ROLLED_DOWN or preset.role == "clean":
            continue
        gates = _of_kind(view, part.sound, "gate")
        if gates and not _gated_and_down(view, preset):
            yield Hit(
                section_place(song.id, at),
                f"{section_of(song, at)} has {listed(map(named, gates))} on with the guitar at "
                f"{number_text(volume)}",
                out_of_section(view, song, at, gates),
            )


_CLEAN_WHY = "A gate set for a loud sound takes soft notes and the ends of chords for noise."
_LEAD_WHY = (
    "The gate shuts on the end of a long note, so less of it reaches the echo that should carry it."
)
_AMBIENT_WHY = (
    "Long notes, swells and fades drop below a gate's threshold while you still want to hear them."
)
_DOWN_WHY = (
    "A gate set with the guitar full up chops the sound, or stays shut, once you turn the "
    "guitar down."
)
_DOWN_SOURCE = "common practice; the volume of 6 is a default, not measured"

RULES = (
    Rule(
        "gate-on-clean", "warning", "preset", "A clean preset has a gate on.",
        _CLEAN_WHY, "common practice", _CLEAN.preset,
    ),
    Rule(
        "gate-on-clean", "warning", "song", "A section puts a gate on top of a clean preset.",
        _CLEAN_WHY, "common practice", _CLEAN.song,
    ),
    Rule(
        "gate-on-lead", "advice", "preset", "A lead preset has a gate on beside a delay or reverb.",
        _LEAD_WHY, "common practice", _LEAD.preset,
    ),
    Rule(
        "gate-on-lead", "advice", "song",
        "A section on a lead preset has a gate on beside a delay or reverb.",
        _LEAD_WHY, "common practice", _LEAD.song,
    ),
    Rule(
        "gate-vs-sustain", "warning", "preset", "An ambient preset has a gate on.",
        _AMBIENT_WHY, "common practice", _AMBIENT.preset,
    ),
    Rule(
        "gate-vs-sustain", "warning", "song",
        "A section puts a gate on top of an ambient preset.",
        _AMBIENT_WHY, "common practice", _AMBIENT.song,
    ),
    Rule(
        "rhythm-without-gate", "advice", "preset", "A high-gain preset has no gate on.",
        "High gain makes hiss and hum louder too, and your stops are only as tight as the gate.",
        "common practice", _without_gate,
    ),
    Rule(
        "gate-vs-volume", "warning", "preset",
        "A preset has a gate on with the guitar's volume rolled down.",
        _DOWN_WHY, _DOWN_SOURCE, _down_preset,
    ),
    Rule(
        "gate-vs-volume", "warning", "song",
        "A section rolls the guitar's volume down with a gate on.",
        _DOWN_WHY, _DOWN_SOURCE, _down_section,
    ),
)  # fmt: skip
