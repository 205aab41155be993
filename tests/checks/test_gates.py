"""Gates: whose fault it is, and when a fix may be offered. The plain cases are case files."""

from __future__ import annotations

from typing import Any

import pytest
from rigs_made import loop, make_rig, pedal, preset, section, song, switcher

from rigtui.checks import Finding, check
from rigtui.model import Rig

GATES = [pedal("gate", "gate", name="Gate"), pedal("second", "gate", name="Second")]
DRIVE = pedal("drive", "distortion", name="Drive")


def found(rig: Rig, rule: str) -> list[Finding]:
    """What one rule finds."""
    return [finding for finding in check(rig) if finding.rule == rule]


def rig(*loops: Any, toggles: bool = False, **tables: Any) -> Rig:
    """A rig of two gates and a drive in some loops."""
    return make_rig(
        switcher=switcher(loop_switches=toggles), pedals=[*GATES, DRIVE], loops=list(loops),
        **tables,
    )  # fmt: skip


def test_two_gates_go_out_together() -> None:
    """A preset with two gates in loops of their own gets one finding and a fix for both."""
    board = rig(
        loop(1, "gate"), loop(2, "second"), loop(3, "drive"),
        presets=[preset("chop", 1, 2, 3, name="Chop", role="clean")],
    )  # fmt: skip
    (finding,) = found(board, "gate-on-clean")
    assert finding.message == "Chop is a clean sound with Gate and Second on"
    assert finding.fix is not None
    assert finding.fix.label == "switch loops 1 and 2 out of Chop"
    assert finding.fix.edit(board).presets[0].loops == (3,)


def test_two_gates_in_one_loop_are_alone_in_it() -> None:
    """A loop of gates only can be switched out."""
    board = rig(loop(1, "gate", "second"), presets=[preset("chop", 1, role="clean")])
    (finding,) = found(board, "gate-on-clean")
    assert finding.fix is not None
    assert finding.fix.edit(board).presets[0].loops == ()


def test_a_gate_beside_a_pedal_that_there_is_not_stays() -> None:
    """A loop with an unknown pedal in it is not taken for a loop of gates."""
    board = rig(loop(1, "gate", "ghost"), presets=[preset("chop", 1, role="clean")])
    (finding,) = found(board, "gate-on-clean")
    assert finding.fix is None
    assert "shares loop 1 with ghost" in finding.message


def test_a_preset_at_fault_is_not_reported_by_its_sections() -> None:
    """Three sections on a clean preset with a gate are one finding, the preset's."""
    board = rig(
        loop(1, "gate"), presets=[preset("chop", 1, role="clean")],
        songs=[song("low-fen", "chop", section("chop", plus=["second"]), "chop")],
    )  # fmt: skip
    assert [finding.where for finding in found(board, "gate-on-clean")] == ["presets.chop"]


def test_a_gate_put_in_and_taken_out_is_not_on() -> None:
    """What a section has in plus and in minus is off, and nothing is wrong with it."""
    board = rig(
        loop(1, "gate"), loop(2, "drive"), toggles=True,
        presets=[preset("chop", 2, role="clean")],
        songs=[song("low-fen", section("chop", plus=["gate"], minus=["gate"]))],
    )  # fmt: skip
    assert found(board, "gate-on-clean") == []


def test_a_pedal_that_brings_a_gate_along_is_said_but_not_taken_out() -> None:
    """A drive toggled in over a clean preset brings the gate in its loop; there is no fix."""
    board = rig(
        loop(1, "drive", "gate"), toggles=True, presets=[preset("chop", role="clean")],
        songs=[song("low-fen", section("chop", plus=["drive"]))],
    )  # fmt: skip
    (finding,) = found(board, "gate-on-clean")
    assert (finding.where, finding.fix) == ("songs.low-fen.sections.0", None)


def test_a_gate_toggled_in_beside_another_pedal_stays_in_plus() -> None:
    """With the gate in the section's own `plus` too, taking it out would leave the drive's loop on.

    Alone in its loop it can go.
    """
    for pedals, kept in ((("drive", "gate"), None), (("gate",), ())):
        board = rig(
            loop(1, *pedals), toggles=True, presets=[preset("chop", role="clean")],
            songs=[song("low-fen", section("chop", plus=["gate"]))],
        )  # fmt: skip
        (finding,) = found(board, "gate-on-clean")
        edited = finding.fix and finding.fix.edit(board).songs[0].sections[0].plus
        assert edited == kept


def test_a_gate_of_the_preset_itself_is_not_taken_out_of_a_section() -> None:
    """Where preset and section both ask for the gate, taking it out of `plus` would not help."""
    board = make_rig(
        switcher=switcher(loop_switches=True),
        pedals=[*GATES, pedal("echo", "delay", name="Echo")],
        loops=[loop(1, "gate"), loop(2, "echo")],
        presets=[preset("solo", 1, role="lead")],
        songs=[song("low-fen", section("solo", plus=["echo", "gate"]))],
    )
    place = "songs.low-fen.sections.0"
    (finding,) = (
        finding
        for finding in check(board)
        if finding.where == place and "Gate on beside Echo" in finding.message
    )
    assert finding.fix is None


@pytest.mark.parametrize("role", ["clean", "rhythm", "lead", "ambient", "other"])
def test_only_high_gain_asks_for_a_gate(role: str) -> None:
    """No other role is told that it has none."""
    board = rig(loop(1, "drive"), presets=[preset("one", 1, role=role)])
    assert found(board, "rhythm-without-gate") == []


def test_a_gate_that_is_left_on_serves_every_preset() -> None:
    """High gain with a gate left on outside the loops has a gate."""
    board = make_rig(
        pedals=[pedal("gate", "gate", use="always")], presets=[preset("rock", role="high-gain")]
    )
    assert found(board, "rhythm-without-gate") == []


@pytest.mark.parametrize(("volume", "hits"), [(6, 1), (6.5, 0)])
def test_the_guitar_counts_as_rolled_down_from_six(volume: float, hits: int) -> None:
    """At 6 a gate bites, above it does not."""
    board = rig(loop(1, "gate"), presets=[preset("half", 1, guitar_volume=volume)])
    assert len(found(board, "gate-vs-volume")) == hits


def test_a_section_that_rolls_up_again_under_a_low_preset_is_the_presets_matter() -> None:
    """A preset that names 4 is said once, not by sections that name 3."""
    board = rig(
        loop(1, "gate"), presets=[preset("half", 1, guitar_volume=4)],
        songs=[song("low-fen", section("half", guitar_volume=3))],
    )  # fmt: skip
    assert [finding.where for finding in found(board, "gate-vs-volume")] == ["presets.half"]
