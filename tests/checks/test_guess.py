"""Guesses at what an unknown name was meant to be."""

from __future__ import annotations

import pytest
from rigs_made import make_rig, pedal

from rigtui.checks.guess import Guesser

PEDALS = make_rig(
    pedals=[
        pedal("wah", "wah", name="Rocker"),
        pedal("mud-1", "overdrive", name="Low drive"),
        pedal("low", "other", name="MUD-1"),
    ]
).pedals


@pytest.mark.parametrize(
    ("word", "wanted"),
    [
        ("wha", "wah"),  # a slip in the id
        ("rocker", "wah"),  # the name instead of the id
        ("Rokcer", "wah"),  # a slip in the name
        ("MUD-1", "low"),  # a name to the letter goes before an id that is near
        ("xyzzy", None),
        ("", None),
    ],
)
def test_rows_are_known_by_id_and_by_name(word: str, wanted: str | None) -> None:
    """People write what they read on the pedal."""
    assert Guesser().row(word, PEDALS) == wanted


def test_patience_ends() -> None:
    """A file of thousands of unknown names gets no guesses in the end, and still its findings."""
    guess, known = Guesser(), [f"preset-{number}" for number in range(10_000)]
    guesses = [guess.word("preset-1", known) for _ in range(6)]
    assert guesses[0] == "preset-1"
    assert guesses[-1] is None
