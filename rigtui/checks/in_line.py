"""Rules about where kinds of pedals stand along the signal, whatever is on: one finding for the
board.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.order import GAIN, at_end
from rigtui.checks.words import named
from rigtui.model import Pedal
from rigtui.model.places import place_at
from rigtui.model.text import listed

_CHANGES_PITCH_OR_TIME = (*GAIN, "pitch", "modulation", "tremolo", "delay", "reverb", "gate")


def _before(view: RigView, pedal: Pedal, *kinds: str) -> list[Pedal]:
    """Pedals of some kinds that feed a pedal."""
    return [
        other
        for other in view.rig.pedals
        if other.kind in kinds and view.chain.before(other.id, pedal.id)
    ]


def _after(view: RigView, pedal: Pedal, *kinds: str) -> list[Pedal]:
    """Pedals of some kinds that a pedal feeds."""
    return [
        other
        for other in view.rig.pedals
        if other.kind in kinds and view.chain.before(pedal.id, other.id)
    ]


def _hit(pedal: Pedal, message: str, fix: Fix | None = None) -> Hit:
    return Hit(place_at("pedals", pedal.id), message, fix)


def _first(view: RigView, pedal: Pedal) -> Fix | None:
    """Put an outside pedal first on its side; one in a loop cannot go there alone."""
    if pedal.id in view.known.loop_of:
        return None
    return Fix(
        f"put it first in the {pedal.side} chain", partial(at_end, pedal.id, pedal.side, "first")
    )


def _tuner_late(view: RigView, pedal: Pedal) -> Iterator[Hit]:
    if pedal.kind != "tuner":
        return
    before = _before(view, pedal, *_CHANGES_PITCH_OR_TIME)
    if before:
        message = (
            f"{named(pedal)} comes after {listed(map(named, before))}, so it doesn't hear "
            "the guitar straight"
        )
        yield _hit(pedal, message, _first(view, pedal) if pedal.side == "front" else None)


def _wah_into_fuzz(view: RigView, pedal: Pedal) -> Iterator[Hit]:
    if pedal.kind != "wah" or pedal.buffered:
        return
    fed = [fuzz for fuzz in _after(view, pedal, "fuzz") if fuzz.low_impedance]
    if fed:
        verb = "wants" if len(fed) == 1 else "want"
        yield _hit(
            pedal,
            f"{named(pedal)} comes before {listed(map(named, fed))}, which {verb} the "
            "guitar straight",
        )


def _gate_before_gain(view: RigView, pedal: Pedal) -> Iterator[Hit]:
    """A gate behind some gain shuts out what that makes; then it is where it was wanted."""
    if pedal.kind != "gate" or _before(view, pedal, *GAIN):
        return
    gains = [named(gain) for gain in _after(view, pedal, *GAIN)]
    if gains:
        yield _hit(
            pedal,
            f"{named(pedal)} comes before {listed(gains)}, so it can't stop the hiss "
            "that gain adds",
        )


def _volume_before_gain(view: RigView, pedal: Pedal) -> Iterator[Hit]:
    if pedal.kind != "volume":
        return
    gains = [named(gain) for gain in _after(view, pedal, *GAIN)]
    if gains and not _before(view, pedal, *GAIN):
        yield _hit(
            pedal,
            f"{named(pedal)} comes before {listed(gains)}: turning it down cleans the sound up",
        )


def _loop_level(view: RigView, pedal: Pedal) -> Iterator[Hit]:
    fed = view.rig.amp.send_level == "line" and pedal.side == "fx" and pedal.id in view.chain.places
    if fed and not pedal.line_level:
        so = (
            "is fed line level by the amp's send, but the file doesn't say that it takes line level"
        )
        yield _hit(pedal, f"{named(pedal)} {so}")


RULES = (
    Rule(
        "tuner-late", "advice", "pedal",
        "A tuner comes after pedals that change what it hears.",
        "A tuner reads best straight from the guitar. Behind a volume pedal you can "
            "tune in silence, and that is fine. If your switcher has a tuner jack, use "
            "that.",
        "common practice", _tuner_late,
    ),
    Rule(
        "wah-into-fuzz", "advice", "pedal",
        "A wah comes before a fuzz that wants the guitar straight.",
        "Many such fuzzes whistle behind a wah, or swallow the sweep. Behind the "
            "fuzz, the wah sweeps a rougher sound. A wah with a buffer at its output can "
            "stay in front. If you like the sound, waive this.",
        "common practice", _wah_into_fuzz,
    ),
    Rule(
        "gate-before-gain", "advice", "pedal",
        "A gate comes before all gain.",
        "There the gate stops only the hum of the pickups: the drives add their hiss "
            "and hum after it. A gate that listens to the guitar and shuts behind the "
            "drives is the exception.",
        "common practice", _gate_before_gain,
    ),
    Rule(
        "volume-before-gain", "advice", "pedal",
        "A volume pedal comes before all gain.",
        "There it works like the guitar's own volume, and the drives clean up. Behind "
            "them, or in the effects loop, it makes the same sound quieter. Both are "
            "good; know which you have.",
        "common practice", _volume_before_gain,
    ),
    Rule(
        "loop-level", "warning", "pedal",
        "A pedal in the effects loop gets line level, but the file doesn't say that "
            "it takes line level.",
        "Line level is about 12 dB above what a guitar pedal expects, so the pedal "
            "distorts and hisses. Set the amp's loop to instrument level if it has a "
            "switch, or use a pedal that takes line level.",
        "+4 dBu is 1.228 V and -10 dBV 0.316 V, 11.8 dB apart (arithmetic on the definitions of "
        "dBu and dBV)", _loop_level,
    ),
)  # fmt: skip
