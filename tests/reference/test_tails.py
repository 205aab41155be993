"""Tails of delays and reverbs against closed forms, a simulated feedback loop and ISO 3382-1."""

from __future__ import annotations

import math

import pytest

from rigtui.chain.tails import delay_tail_seconds, repeats_to_floor, reverb_tail_seconds

# Passes of a feedback loop until it is 60 dB down, n = 60 / (-20 log10 g), with the whole echoes
# and n x 375 ms and n x 500 ms. Derived from the feedback gain of a comb filter with a decay of
# T60, g = 10^(-3 delay / T60) (the FAUST reverb library writes it exp(-3 ln 10 delay / T60)).
PASSES = [
    (0.1, 3.0, 3, 1.1250, 1.5000),
    (0.25, 4.9829, 5, 1.8686, 2.4914),
    (0.3, 5.7375, 6, 2.1516, 2.8687),
    (0.5, 9.9658, 10, 3.7372, 4.9829),
    (0.6, 13.5227, 14, 5.0710, 6.7614),
    (0.7, 19.3671, 20, 7.2627, 9.6835),
    (0.75, 24.0118, 25, 9.0044, 12.0059),
    (0.8, 30.9566, 31, 11.6087, 15.4783),
    (0.9, 65.5630, 66, 24.5861, 32.7815),
    (0.95, 134.6717, 135, 50.5019, 67.3359),
]


def echoes_until(feedback: float, floor_db: float) -> int:
    """Send one click round a feedback loop and count until an echo is at or below the floor."""
    level, count = 1.0, 0
    while 20 * math.log10(level) > -floor_db + 1e-9:
        level *= feedback
        count += 1
    return count


@pytest.mark.parametrize(("feedback", "passes", "whole", "at_375", "at_500"), PASSES)
def test_repeats_agree_with_the_closed_form(
    feedback: float, passes: float, whole: int, at_375: float, at_500: float
) -> None:
    """Repeats to 60 dB are 60 / (-20 log10 g), and their time is that many delays."""
    repeats = repeats_to_floor(feedback, 60)
    assert repeats == pytest.approx(passes, abs=1e-4)
    assert repeats * 0.375 == pytest.approx(at_375, abs=1e-4)
    assert repeats * 0.5 == pytest.approx(at_500, abs=1e-4)
    assert delay_tail_seconds(1000, feedback, 60) == whole


@pytest.mark.parametrize("floor_db", [20, 40, 60])
@pytest.mark.parametrize("feedback", [row[0] for row in PASSES])
def test_whole_echoes_agree_with_a_simulated_loop(feedback: float, floor_db: float) -> None:
    """The tail ends with the first echo that the loop itself brings to the floor."""
    whole = echoes_until(feedback, floor_db)
    assert delay_tail_seconds(1000, feedback, floor_db) == whole


@pytest.mark.parametrize(
    ("feedback", "floor_db", "whole"), [(0.1, 20, 1), (0.1, 40, 2), (0.1, 60, 3), (0.01, 40, 1)]
)
def test_a_whole_number_of_repeats_is_not_rounded_up(
    feedback: float, floor_db: float, whole: int
) -> None:
    """At g = 0.1 each pass takes exactly 20 dB, so that 60 dB are 3 echoes and not 4."""
    assert delay_tail_seconds(1000, feedback, floor_db) == whole


@pytest.mark.parametrize("feedback", [0.0, 1e-12, 0.001])
def test_next_to_no_feedback_is_one_repeat(feedback: float) -> None:
    """Whatever the floor, the one echo that a delay is there for sounds."""
    assert delay_tail_seconds(480, feedback, 40) == pytest.approx(0.48)


@pytest.mark.parametrize(
    ("delay_seconds", "t60", "gain"),
    [(0.030, 1, 0.812831), (0.375, 3, 0.421697), (0.5, 5, 0.501187)],
)
def test_a_loop_of_a_known_decay_takes_that_long(
    delay_seconds: float, t60: float, gain: float
) -> None:
    """A loop with the gain for a decay T60, 10^(-3 delay / T60), falls by 60 dB in T60.

    Source: the FAUST reverb library's g(j,i); gains rounded to six places.
    """
    assert repeats_to_floor(gain, 60) * delay_seconds == pytest.approx(t60, rel=1e-5)


def test_a_published_comb_filter() -> None:
    """g = 0.7 round 2143 samples at 44.1 kHz decays in 0.94113 s; its 20th echo is at 0.9719 s.

    Source: gain and delay of a comb in the help of the CARL `reverb` program; the decay by the
    closed form above (the formula printed there is upside down).
    """
    delay = 2143 / 44_100
    assert repeats_to_floor(0.7, 60) * delay == pytest.approx(0.94113, abs=1e-4)
    assert delay_tail_seconds(delay * 1000, 0.7, 60) == pytest.approx(0.9719, abs=1e-4)


@pytest.mark.parametrize(
    ("decay_seconds", "floor_db", "seconds"), [(9, 40, 6), (2.4, 60, 2.4), (3, 20, 1), (3, 30, 1.5)]
)
def test_reverb_falls_evenly(decay_seconds: float, floor_db: float, seconds: float) -> None:
    """20 dB take a third of the reverberation time and 30 dB half of it.

    Source: ISO 3382-1, T20 and T30, which are such falls times 3 and times 2.
    """
    assert reverb_tail_seconds(decay_seconds, floor_db) == pytest.approx(seconds)
