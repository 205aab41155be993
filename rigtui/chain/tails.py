"""How long echoes and reverb go on after the last note. Pure arithmetic; no rig, no rules."""

from __future__ import annotations

import math

_EDGE = 1e-9
"""What floating point may add to a whole number of repeats, which must not round up."""


def repeats_to_floor(feedback: float, floor_db: float) -> float:
    """Return how many passes of a feedback loop lower an echo by `floor_db`, not rounded.

    Each pass takes -20 log10(feedback) dB off.

    Args:
        feedback: Share of each echo that is fed back, 0 to under 1; at 0 there is one repeat.
        floor_db: Fall after which nobody misses it.

    Source: the comb-filter formula, a gain of g = 10^(-3 delay / decay) for a decay of 60 dB,
    solved for the repeats (Schroeder, Natural sounding artificial reverberation, 1962).
    """
    if feedback <= 0:
        return 1.0
    return floor_db / (-20 * math.log10(feedback))


def delay_tail_seconds(delay_ms: float, feedback: float, floor_db: float) -> float:
    """Return how long a delay sounds on: its time x the repeats, rounded up to a whole echo."""
    repeats = math.ceil(repeats_to_floor(feedback, floor_db) - _EDGE)
    return delay_ms / 1000 * max(1, repeats)


def reverb_tail_seconds(decay_seconds: float, floor_db: float) -> float:
    """Return how long a reverb takes to fall by `floor_db`, its decay being that by 60 dB.

    Source: reverberation time is the time of a fall by 60 dB at an even slope (ISO 3382-1).
    """
    return decay_seconds * floor_db / 60
