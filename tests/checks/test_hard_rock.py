"""A plain hard-rock rig at 128 beats a minute: no warning that its player would wave away.

Common practice: a lone press comes as the beat comes, "palm mute" is no work, one fixed delay time
does for a lead sound, a gate belongs on rhythm sounds, and a pickup goes with the press.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

from rigtui.checks import Finding, check
from rigtui.model import Rig
from rigtui.model.edits import set_pedal, set_section
from rigtui.model.places import section_place
from rigtui.store.load import load

_, RIG = load(Path(__file__).with_name("hard_rock.toml"))


def warnings(rig: Rig) -> list[Finding]:
    """All that is more than advice."""
    return [finding for finding in check(rig) if finding.severity != "advice"]


def switch_and_wah(rig: Rig) -> list[str]:
    """Changes that take a preset's switch and the wah's: two presses for one foot."""
    return [
        section_place(song.id, at)
        for song in rig.songs
        for at, (before, after) in enumerate(pairwise(song.sections), 1)
        if before.preset != after.preset and before.plus != after.plus
    ]


def test_the_rig_is_what_it_is_meant_to_be() -> None:
    """Five loops, seven pedals, five presets, and the gate on the two rhythm sounds alone."""
    assert (len(RIG.loops), len(RIG.pedals), len(RIG.presets)) == (5, 7, 5)
    assert {preset.role for preset in RIG.presets if 3 in preset.loops} == {"rhythm", "high-gain"}
    assert {song.tempo for song in RIG.songs} == {128}
    assert len(switch_and_wah(RIG)) == 8


def test_only_two_presses_on_one_beat_are_warned_of() -> None:
    """Each is one finding, which says that it is late as well; nothing else is a warning."""
    findings = warnings(RIG)
    assert {finding.rule for finding in findings} == {"crowded-change"}
    assert [finding.where for finding in findings] == switch_and_wah(RIG)
    assert all(
        "that needs 1 s, but there is only 0.47 s" in finding.message for finding in findings
    )


def test_a_rocked_wah_that_may_wait_leaves_no_warning() -> None:
    """With the wah on a treadle and fine early or late, the rig has nothing to warn of."""
    rig = set_pedal(RIG, "wah", use="treadle")
    late = warnings(rig)
    assert {finding.rule for finding in late} == {"late-change"}
    assert [finding.where for finding in late] == switch_and_wah(RIG)
    assert "needs 1 s for switch 4 (Lead) and the way to Wah; there is only" in late[0].message
    assert "needs 1 s for switch 1 (Clean) and the way from Wah; there" in late[1].message
    for song in rig.songs:
        for at in range(len(song.sections)):
            rig = set_section(rig, song.id, at, may=["wah"])
    assert warnings(rig) == []
