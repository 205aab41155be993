"""Finding things by name, and which pedals are heard in a section."""

from __future__ import annotations

import pytest
from rigs_made import Data, loop, make_rig, pedal, preset, section, song, switcher

from rigtui.model.lookup import lookup

PARTS = {
    "pedals": [
        pedal("tuner", "tuner"),
        pedal("wah", "wah"),
        pedal("shaper", "eq", use="always"),
        pedal("grit"),
        pedal("shimmer", side="fx"),
        pedal("echo", side="fx"),
        pedal("spare"),
    ],
    "loops": [loop(2, "shimmer", "echo", side="fx"), loop(1, "grit"), loop(3)],
    "chain": {"front": ["tuner", "wah", 1, "shaper"], "fx": [2, 3, 77, "ghost"]},
    "presets": [preset("dry"), preset("wide", 2, 1, 99), preset("rough", 1)],
}


def heard(row: Data, loop_switches: bool = False) -> tuple[str, ...]:
    rig = make_rig(
        **PARTS, switcher=switcher(loop_switches=loop_switches), songs=[song("air", row)]
    )
    return lookup(rig).sound(rig.songs[0].sections[0])


@pytest.mark.parametrize(
    ("row", "fixed", "toggling"),
    [
        (section(), ["shaper"], ["shaper"]),
        (section("ghost"), ["shaper"], ["shaper"]),
        (section("dry"), ["shaper"], ["shaper"]),
        (section("rough"), ["grit", "shaper"], ["grit", "shaper"]),
        (section("wide"), ["grit", "shaper", "shimmer", "echo"], None),
        (section("dry", plus=["wah"]), ["wah", "shaper"], None),
        (section("dry", plus=["tuner", "ghost"]), ["shaper"], None),
        (section("dry", plus=["echo"]), ["shaper"], ["shaper", "shimmer", "echo"]),
        (section("rough", minus=["grit"]), ["grit", "shaper"], ["shaper"]),
        (section("rough", minus=["shaper", "wah"], plus=["wah"]), ["wah", "grit", "shaper"], None),
        (section("dry", plus=["grit"], minus=["grit"]), ["shaper"], None),
        (section("dry", may=["grit"]), ["shaper"], None),
    ],
)
def test_sound(row: Data, fixed: list[str], toggling: list[str] | None) -> None:
    """The pedals heard on, in signal order: the preset's, plus and minus, and those left on."""
    assert heard(row) == tuple(fixed)
    assert heard(row, loop_switches=True) == tuple(fixed if toggling is None else toggling)


def test_signal_order() -> None:
    """Order is the chain's, then loops and pedals that the chain leaves out; each once."""
    names = lookup(make_rig(**PARTS))
    assert names.order == ("tuner", "wah", "grit", "shaper", "shimmer", "echo", "spare")
    assert [pedal.id for pedal in names.outside()] == ["tuner", "wah", "shaper", "spare"]
    assert [pedal.used for pedal in names.outside()] == ["between", "foot", "always", "foot"]


def test_the_same_tables_are_looked_up_once() -> None:
    """A rig whose tables did not change shares its look-up; one whose presets did has its own."""
    rig = make_rig(**PARTS)
    renamed = rig.model_copy(update={"name": "Other"})
    edited = rig.model_copy(update={"presets": rig.presets[:1]})
    assert lookup(rig) is lookup(renamed)
    assert list(lookup(edited).presets) == ["dry"]
    assert list(lookup(rig).presets) == ["dry", "wide", "rough"]
