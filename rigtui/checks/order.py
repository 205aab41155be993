"""What stands before what, while both are on: echoes into gain, pitch behind it, and the like.

A preset is judged by what it switches in and what is left on; a section only by what it puts on
top, so that a preset at fault is reported once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Literal

from rigtui.chain import SignalGraph
from rigtui.checks.finding import Fix, Hit, RigView, Rule, Severity
from rigtui.checks.played import played, preset_sound
from rigtui.checks.words import named, section_of
from rigtui.model import Pedal, Preset, Rig, Song
from rigtui.model.base import Side
from rigtui.model.edits import set_chain, set_pedal, take_from_chain
from rigtui.model.kind_words import TAIL_KINDS
from rigtui.model.places import place_at, section_place
from rigtui.model.text import listed, visible

GAIN = ("fuzz", "overdrive", "distortion")

Sound = tuple[str, ...]
Pair = tuple[str, str]
"""Two pedals in the wrong order: the one at fault, and the other (AMP for its drive channel)."""
AMP = ""


@dataclass(frozen=True, slots=True)
class _Ground:
    """What an order rule looks at: pedals on, where they stand, and whether the amp distorts."""

    view: RigView
    chain: SignalGraph
    preset: Preset
    on: tuple[Pedal, ...]

    def kinds(self, *kinds: str) -> list[Pedal]:
        """Pedals on of some kinds, in signal order."""
        return [pedal for pedal in self.on if pedal.kind in kinds]

    @property
    def amp_drives(self) -> bool:
        """Whether the preset's channel distorts."""
        return self.preset.channel in self.view.rig.amp.drive_channels

    def gain_after(self, pedal: Pedal) -> list[str]:
        """Gain stages on that a pedal feeds."""
        after = [stage.id for stage in self.kinds(*GAIN) if self.chain.before(pedal.id, stage.id)]
        return after + [AMP] * (self.amp_drives and self.chain.before_amp(pedal.id))

    def gain_before(self, pedal: Pedal) -> list[str]:
        """Gain stages on that feed a pedal."""
        before = [stage.id for stage in self.kinds(*GAIN) if self.chain.before(stage.id, pedal.id)]
        behind_amp = pedal.id in self.chain.places and not self.chain.before_amp(pedal.id)
        return before + [AMP] * (self.amp_drives and behind_amp)


def _smear(ground: _Ground) -> list[Pair]:
    return [
        (echo.id, gain) for echo in ground.kinds(*TAIL_KINDS) for gain in ground.gain_after(echo)
    ]


def _pitch_late(ground: _Ground) -> list[Pair]:
    return [
        (shifter.id, gain)
        for shifter in ground.kinds("pitch")
        for gain in ground.gain_before(shifter)
    ]


def _boost_no_lift(ground: _Ground) -> list[Pair]:
    """One boost behind all gain is lift enough."""
    if ground.preset.role != "lead":
        return []
    fed = [(boost.id, ground.gain_after(boost)) for boost in ground.kinds("boost")]
    if not all(gains for _, gains in fed):
        return []
    return [(boost, gain) for boost, gains in fed for gain in gains]


def _gate_after_tail(ground: _Ground) -> list[Pair]:
    return [
        (gate.id, tail.id)
        for gate in ground.kinds("gate")
        for tail in ground.kinds(*TAIL_KINDS)
        if ground.chain.before(tail.id, gate.id)
    ]


def _fuzz_buffer(ground: _Ground) -> list[Pair]:
    """What a preset puts before a fuzz; buffers that are always in the line have their own rule."""
    known = ground.view.known
    return [
        (fuzz.id, pedal.id)
        for fuzz in ground.on
        if fuzz.low_impedance and not _buffers_in_line(ground.view, fuzz)
        for pedal in ground.on
        if _buffers(pedal) and pedal.id in known.loop_of and ground.chain.before(pedal.id, fuzz.id)
    ]


def _buffers(pedal: Pedal) -> bool:
    return pedal.buffered or pedal.kind == "buffer"


def _buffers_in_line(view: RigView, fuzz: Pedal) -> list[Pedal]:
    """Outside pedals that buffer the signal before a fuzz, on or off."""
    outside = (
        view.known.pedals[pedal_id]
        for pedal_id in view.known.order
        if pedal_id not in view.known.loop_of
    )
    return [pedal for pedal in outside if _buffers(pedal) and view.chain.before(pedal.id, fuzz.id)]


Spot = tuple[Literal["first", "last"], Side | None]
"""An end of a side's chain to try a pedal at; None is its own side."""


@dataclass(frozen=True, slots=True)
class _Order:
    """One order rule: which pairs are wrong, how to say so, and where an outside pedal may go."""

    pairs: Callable[[_Ground], list[Pair]]
    verb: str
    so: str
    spots: tuple[Spot, ...]

    def on_preset(self, view: RigView, preset: Preset) -> Iterator[Hit]:
        """Check a preset by itself."""
        ground = _ground(view, preset, preset_sound(view, preset))
        yield from self._hits(
            ground, self.pairs(ground), place_at("presets", preset.id), named(preset)
        )

    def on_song(self, view: RigView, song: Song) -> Iterator[Hit]:
        """Check what sections put on top of their presets."""
        for at, part in enumerate(played(view, song)):
            if part.preset is None or not (part.section.plus or part.section.minus):
                continue
            ground = _ground(view, part.preset, part.sound)
            wrong = self.pairs(ground)
            if wrong:
                own = self.pairs(_ground(view, part.preset, preset_sound(view, part.preset)))
                new = [pair for pair in wrong if pair not in own]
                yield from self._hits(ground, new, section_place(song.id, at), section_of(song, at))

    def _hits(self, ground: _Ground, wrong: list[Pair], where: str, place: str) -> Iterator[Hit]:
        for pedal_id in dict.fromkeys(pedal_id for pedal_id, _ in wrong):
            pedal = ground.view.known.pedals[pedal_id]
            others = [other for first, other in wrong if first == pedal_id]
            message = f"In {place}, {named(pedal)} {self.verb} {_named(ground, others)}{self.so}"
            about = (place_at("pedals", each) for each in (pedal_id, *others) if each != AMP)
            yield Hit(where, message, self._fix(ground, pedal), about=tuple(about))

    def _fix(self, ground: _Ground, pedal: Pedal) -> Fix | None:
        """Move a pedal that stands outside the loops to where it does no harm."""
        rig = ground.view.rig
        if pedal.id in ground.view.known.loop_of:
            return None
        for end, wanted in self.spots:
            side = wanted or pedal.side
            if side == "fx" and not rig.amp.fx_loop:
                continue
            there = SignalGraph(at_end(pedal.id, side, end, rig))
            tried = _Ground(ground.view, there, ground.preset, ground.on)
            if all(first != pedal.id for first, _ in self.pairs(tried)):
                return Fix(
                    f"put {named(pedal)} {end} in the {side} chain",
                    partial(at_end, pedal.id, side, end),
                )
        return None


def _ground(view: RigView, preset: Preset, sound: Sound) -> _Ground:
    return _Ground(
        view, view.chain, preset, tuple(view.known.pedals[pedal_id] for pedal_id in sound)
    )


def _named(ground: _Ground, others: list[str]) -> str:
    channel = visible(ground.preset.channel or "")
    return listed(
        f"the amp's {channel} channel"
        if at_fault == AMP
        else named(ground.view.known.pedals[at_fault])
        for at_fault in others
    )


def at_end(pedal_id: str, side: Side, end: str, rig: Rig) -> Rig:
    rig = set_pedal(take_from_chain(rig, pedal_id), pedal_id, side=side)
    items: tuple[int | str, ...] = getattr(rig.chain, side)
    return set_chain(rig, side, (pedal_id, *items) if end == "first" else (*items, pedal_id))


def _fuzz_after_buffer(view: RigView, pedal: Pedal) -> Iterator[Hit]:
    buffers = _buffers_in_line(view, pedal) if pedal.low_impedance else []
    if buffers:
        outside = pedal.id not in view.known.loop_of
        yield Hit(
            place_at("pedals", pedal.id),
            f"{named(pedal)} comes after {listed(map(named, buffers))}, which "
            f"{'buffer' if len(buffers) > 1 else 'buffers'} the signal even when off",
            Fix("put it first in the front chain", partial(at_end, pedal.id, "front", "first"))
            if outside
            else None,
        )


_LAST: tuple[Spot, ...] = (("last", None), ("last", "fx"))
_SMEAR = _Order(_smear, "runs into", "", _LAST)
_PITCH = _Order(_pitch_late, "comes after", "", (("first", None), ("first", "front")))
_BOOST = _Order(_boost_no_lift, "runs into", ", which adds grit and little level", _LAST)
_GATE = _Order(_gate_after_tail, "comes after", "", (("first", None), ("last", "front")))
_FUZZ = _Order(_fuzz_buffer, "comes after", ", which buffers the signal", (("first", "front"),))


def _rules(
    order: _Order, rule_id: str, severity: Severity, summary: str, why: str, source: str
) -> tuple[Rule, Rule]:
    """The rule once for presets, once for what sections put on top."""
    return (
        Rule(rule_id, severity, "preset", summary, why, source, order.on_preset),
        Rule(rule_id, severity, "song", summary, why, source, order.on_song),
    )


_BUFFER_SUMMARY = "A fuzz that wants the guitar straight comes after a buffer."
_BUFFER_WHY = (
    "Such a fuzz works off the guitar's own impedance. Behind a buffer it turns thin "
    "and no longer cleans up with the guitar's volume."
)
_BUFFER_SOURCE = "common practice; how much it matters depends on the fuzz's circuit"

RULES = (
    Rule(
        "fuzz-buffer", "warning", "pedal", _BUFFER_SUMMARY, _BUFFER_WHY, _BUFFER_SOURCE,
        _fuzz_after_buffer,
    ),
    *_rules(_FUZZ, "fuzz-buffer", "warning", _BUFFER_SUMMARY, _BUFFER_WHY, _BUFFER_SOURCE),
    *_rules(
        _SMEAR, "smear", "warning",
        "A delay or reverb runs into a gain stage that is on.",
        "Distortion squashes echoes and notes together: the repeats come out as loud "
            "as the guitar. For a slapback or a low mix that can be just what you want.",
        "common practice",
    ),
    *_rules(
        _BOOST, "boost-no-lift", "warning",
        "Every boost in a lead sound comes before a gain stage.",
        "A stage that is already full gets dirtier but hardly louder, so the solo "
            "doesn't step forward. Into an amp on the edge of breaking up a boost does "
            "lift; then waive this.",
        "common practice",
    ),
    *_rules(
        _GATE, "gate-after-tail", "warning",
        "A gate comes after a delay or reverb that is on.",
        "When the last echo sinks below the threshold, the gate chops it off.",
        "common practice",
    ),
    *_rules(
        _PITCH, "pitch-late", "advice",
        "A pitch pedal comes after a gain stage that is on.",
        "A pitch pedal tracks a clean note best. Behind distortion it warbles.",
        "common practice",
    ),
)  # fmt: skip
