"""Lengths of bent cable against plane geometry worked out beforehand."""

from __future__ import annotations

from math import acos, pi, sin

import pytest

from rigtui.bench.bends import laid_length, swing
from rigtui.bench.layout import Point

UP, DOWN, RIGHT, LEFT = Point(0, 1), Point(0, -1), Point(1, 0), Point(-1, 0)


@pytest.mark.parametrize(
    ("diameter", "radius", "pitch", "length"),
    [(6, 36, 72, 185.10), (6, 60, 120, 260.50), (5, 30, 60, 154.25)],
)
def test_a_turn_between_parallel_plugs(
    diameter: float, radius: float, pitch: float, length: float
) -> None:
    """Two plugs side by side at twice the radius: six diameters straight, half a circle, six more.

    Source: NASA-STD-8739.4, section 7.3 (bends of 6 and 10 diameters) and NASA workmanship manual,
    book 4, section 4.04 (6 diameters straight at each end); the sums are plane geometry.
    """
    laid = laid_length([Point(0, 0), Point(pitch, 0)], [UP], [UP], radius, 6 * diameter)
    assert laid == pytest.approx(length, abs=0.01)


@pytest.mark.parametrize(
    ("radius", "offset", "length", "run"),
    [(36, 20, 54.993, 49.800), (36, 40, 79.937, 64.498), (60, 40, 100.928, 89.443)],
)
def test_a_shift_to_the_side(radius: float, offset: float, length: float, run: float) -> None:
    """Two arcs one after the other shift a cable sideways: 2R acos(1 - offset / 2R) long.

    Source: plane geometry, worked out apart from the program.
    """
    angle = acos(1 - offset / (2 * radius))
    assert run == pytest.approx(2 * radius * sin(angle), abs=0.001)
    exact = 2 * radius * sin(angle)
    laid = laid_length([Point(0, 0), Point(exact, offset)], [RIGHT], [LEFT], radius)
    assert laid == pytest.approx(length, abs=0.001)


def test_straight_on_is_the_distance() -> None:
    """A cable between two plugs that face each other bends nowhere."""
    assert laid_length([Point(0, 0), Point(200, 0)], [RIGHT], [LEFT], 30, 10) == pytest.approx(200)


def test_a_quarter_turn() -> None:
    """Out to the right, up into the last plug: circles about (0, 30) and (70, 100), by hand."""
    laid = laid_length([Point(0, 0), Point(100, 100)], [RIGHT], [DOWN], 30)
    assert laid == pytest.approx(70 * 2**0.5 + 30 * pi / 2)


def test_a_plug_free_to_turn_lets_the_cable_go_straight() -> None:
    """Nothing is added where the cable may leave and arrive in any direction."""
    assert laid_length([Point(0, 0), Point(30, 40)], [], [], 30) == pytest.approx(50)


def test_a_bend_round_a_corner_adds_the_arc_less_its_chord() -> None:
    """A right angle at 30 mm: 30 (pi / 2 - 2 sin 45) = 4.698 mm, worked out by hand."""
    assert swing(pi / 2, 30) == pytest.approx(4.698, abs=0.001)
    corner = [Point(0, 0), Point(100, 0), Point(100, 100)]
    assert laid_length(corner, [], [], 30) == pytest.approx(200 + 4.698, abs=0.001)
