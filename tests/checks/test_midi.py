"""What the fixes of MIDI entries leave in them."""

from __future__ import annotations

from rigs_made import make_rig, preset

from rigtui.checks import check


def test_a_bank_that_is_selected_first_is_the_one_that_was_selected() -> None:
    """Both halves of its number move in front of the program; other controllers stay behind it."""
    other = {"device": "echo", "program": 1, "controls": [{"number": 0, "value": 99}]}
    late = [{"number": 32, "value": 5}, {"number": 80, "value": 7}, {"number": 0, "value": 3}]
    rig = make_rig(
        midi=[{"id": "echo", "channel": 1}],
        presets=[
            preset("other", midi=[other]),
            preset("late", midi=[{"device": "echo", "program": 3, "controls": late}]),
        ],
    )
    finding = next(
        finding for finding in check(rig)
        if finding.where == "presets.late" and "selects a bank" in finding.message
    )  # fmt: skip
    assert finding.fix is not None
    (send,) = finding.fix.edit(rig).presets[1].midi
    assert (send.program, send.bank_msb, send.bank_lsb) == (3, 3, 5)
    assert [(control.number, control.value) for control in send.controls] == [(80, 7)]
