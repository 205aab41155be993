"""Common names of pedals mean the file's own kinds, in forms and in messages."""

from __future__ import annotations

from typing import get_args

import pytest

from rigtui.model import BadRigError, rig_from_data
from rigtui.model.base import Kind
from rigtui.model.kind_words import common_names, kind_meant


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("phaser", "modulation"), ("Phaser", "modulation"), ("pha", "modulation"),
        ("chorus", "modulation"), ("tremolo pedal", "tremolo"), ("trem", "tremolo"),
        ("echo", "delay"), ("octaver", "pitch"), ("noise gate", "gate"),
        ("spring reverb", "reverb"),
        ("comp", "compressor"), ("dist", "distortion"), ("over", "overdrive"), ("od", "overdrive"),
        ("equalizer", "eq"), ("cab", "preamp"), ("xyzzy", None), ("", None),
    ],
)  # fmt: skip
def test_what_players_say_means_a_kind(said: str, kind: Kind | None) -> None:
    """Common practice: what such pedals are called."""
    assert kind_meant(said) == kind


def test_every_kind_is_its_own_name() -> None:
    """Also those that are a common name of another kind."""
    assert {kind_meant(kind) for kind in get_args(Kind)} == set(get_args(Kind))
    assert all(common_names(kind).split()[0] == kind for kind in get_args(Kind))


@pytest.mark.parametrize(
    ("kind", "meant"), [("phaser", "modulation"), ("flanger pedal", "modulation"),
                        ("echo", "delay"), ("overdrve", "overdrive")],
)  # fmt: skip
def test_a_bad_kind_in_a_file_is_answered_by_its_meaning(kind: str, meant: str) -> None:
    """Not with the word that is spelt most alike."""
    pedals = [{"id": "a", "name": "A", "kind": kind, "side": "front"}]
    with pytest.raises(BadRigError) as bad:
        rig_from_data({"format": 1, "name": "x", "pedals": pedals})
    (problem,) = bad.value.problems
    assert problem.message == f'"{kind}" is not one of the choices; did you mean "{meant}"?'
