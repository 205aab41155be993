"""Sounds are given up in all sections of a name in a song, or in none."""

from __future__ import annotations

from dataclasses import replace

from rigs_made import loop, make_rig, pedal, preset, section, setlist, song, switcher

from rigtui.advice.counted import counted
from rigtui.advice.first import do_first
from rigtui.advice.giving_up.point import Compromise, FrontierPoint
from rigtui.advice.proposals.sounds import plays_alike
from rigtui.model import Rig
from rigtui.plan.ask.evening import evening_of


def _rig(*names: str) -> Rig:
    """Three sections on a drive with the gate stepped on, a verse before each; it ends on the last.

    The first two cost an extra press on the way in and out, the last one only on the way in.
    """
    sections = [
        row for name in names
        for row in (section("dry", name="Verse"), section("crunch", name=name, plus=["gate"]))
    ]  # fmt: skip
    return make_rig(
        switcher=switcher(2, 2),
        pedals=[pedal("gate", "gate", name="Gate"), pedal("drive", "overdrive")],
        loops=[loop(1, "drive")],
        chain={"front": ["gate", 1]},
        presets=[preset("dry", memory=1), preset("crunch", 1, memory=2)],
        songs=[song("a", *sections)],
        setlists=[setlist("night", "a")],
    )


def _point(rig: Rig, *places: int) -> FrontierPoint:
    rows = tuple(Compromise("", "a", at, ("gate",), (), False) for at in places)
    return FrontierPoint(rig, 1, counted(rig, evening_of(rig)), rows, (), ())


def test_all_choruses_or_none() -> None:
    """Two of three are no way to play a song; a chorus of another sound is another thing."""
    rig = _rig("Chorus 1", "Chorus 2", "Chorus 3")
    assert plays_alike(rig, _point(rig))
    assert plays_alike(rig, _point(rig, 1, 3, 5))
    assert not plays_alike(rig, _point(rig, 1, 3))
    more = replace(_point(rig, 1), compromises=(Compromise("", "a", 0, ("gate",), (), False),))
    assert not plays_alike(rig, more)
    named = _rig("Chorus", "Bridge", "Solo")
    assert plays_alike(named, _point(named, 1))


def test_the_remedy_that_splits_a_name_is_not_offered() -> None:
    """The drive left off in two sections: fine for a bridge and a chorus, not for two choruses."""
    for names, offered in (
        (("Chorus 1", "Chorus 2", "Chorus 3"), []),
        (("Chorus", "Bridge", "Solo"), [2]),
    ):
        remedies = do_first(_rig(*names)).remedies
        given = [r.proposal.costs["sections"] for r in remedies if r.proposal.kind == "give up"]
        assert given == offered, names
