"""What is remembered of songs when the chain is put in another order: never a finding too many."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from checks.case_files import files, rig_of
from checks.rigs_wild import wild_rigs
from hypothesis import given, settings
from hypothesis import strategies as st
from moves.rigs_drawn import Data
from rigs_made import loop, make_rig, pedal, preset, section, song, switcher

from rigtui.checks import Finding, check
from rigtui.checks.finding import RigView
from rigtui.checks.reordered import sounds_as_before
from rigtui.model import Rig, rig_from_data, rig_to_data
from rigtui.model.base import SIDES
from rigtui.model.edits import move_along, set_chain


def afresh(rig: Rig) -> tuple[Finding, ...]:
    """The findings of a rig of which nothing can be remembered."""
    return check(rig_from_data(rig_to_data(rig)))


@pytest.mark.parametrize("path", [*files("trips"), *files("passes")], ids=lambda path: path.stem)
def test_every_rule_finds_the_same_as_afresh(path: Path) -> None:
    """Each side of the chain of each case put in an order drawn at random, the rig checked."""
    rig = rig_of(path)
    check(rig)
    for side in SIDES:
        items = list(getattr(rig.chain, side))
        if len(items) > 1:
            random.Random(path.stem + side).shuffle(items)
            other = set_chain(rig, side, tuple(items))
            assert check(other) == afresh(other)


@settings(max_examples=12)
@given(wild_rigs(), st.randoms(use_true_random=False))
def test_wild_rigs_find_the_same_as_afresh(data: Data, chance: random.Random) -> None:
    """One order after another, and back to the first."""
    first = rig = rig_from_data(data)
    for _ in range(3):
        check(rig)
        items = list(rig.chain.front)
        chance.shuffle(items)
        rig = set_chain(rig, "front", tuple(items))
        assert check(rig) == afresh(rig)
    assert check(first) == afresh(first)


def test_songs_stand_where_their_pedals_keep_their_order() -> None:
    """A wah that passes a drive is heard only where both are on, or the wah passes a buffer."""
    rig = make_rig(
        switcher=switcher(memories=4, bank_size=2),
        pedals=[
            pedal("wah", "wah"), pedal("drive", "overdrive"), pedal("box", "buffer"),
        ],
        loops=[loop(1, "drive")],
        chain={"front": ["box", "wah", 1]},
        presets=[preset("clean", memory=1), preset("dirt", 1, memory=2)],
        songs=[
            song("both", section("dirt", plus=["wah"])),
            song("either", section("clean", plus=["wah"]), section("dirt")),
        ],
    )  # fmt: skip

    def standing(by: int) -> list[str]:
        stands = sounds_as_before(RigView.of(rig), RigView.of(move_along(rig, "wah", by)))
        return [row.id for row in rig.songs if stands(row)]

    assert standing(1) == ["either"]
    assert standing(-1) == []
