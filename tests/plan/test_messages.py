"""Presets that differ only in what they send over MIDI are two sounds, whatever is planned."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from examples import examples
from hypothesis import given
from hypothesis import strategies as st
from moves.rigs_drawn import Data, rigs
from plan.loop_oracle import Weights
from plan.whole_annealing import WholeAnnealing
from plan.whole_oracle import least
from rigs_made import loop, make_rig, pedal, preset, setlist, song, switcher

from rigtui.model import rig_from_data
from rigtui.model.rig import Preset, Rig
from rigtui.plan.answer import plan
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, PlanError

KINDS = ("all", "loops", "switches", "route")
SENT: tuple[list[Data], ...] = (
    [], [{"device": "echo", "program": 1}], [{"device": "echo", "program": 2}],
)  # fmt: skip


def messages_heard(rig: Rig) -> list[list[Any]]:
    """What the preset of each section sends, song by song."""
    presets: dict[str | None, Preset] = {row.id: row for row in rig.presets}
    return [
        [presets[row.preset].midi if row.preset in presets else None for row in each.sections]
        for each in rig.songs
    ]


def one_channel(data: Data, sent: list[int]) -> Data:
    """A drawn rig on one channel, its presets sending what was drawn for each."""
    rows = [
        {**row, "channel": "clean", "midi": SENT[nth]} for row, nth in zip(data["presets"], sent)
    ]
    echo = [{"id": "echo", "channel": 1}]
    amp = {"channels": ["clean"], "channel_switch": "preset"}
    return {**data, "presets": rows, "amp": amp, "midi": echo}


def channel_each(data: Data, sent: list[int]) -> Data:
    """The same where what is sent is the channel instead."""
    names = ["clean", "clean one", "clean two"]
    rows = [{**row, "channel": names[nth], "midi": []} for row, nth in zip(data["presets"], sent)]
    return {**data, "presets": rows, "amp": {"channels": names, "channel_switch": "preset"}}


@examples(30)
@given(
    rigs(most_loops=3, most_presets=5, most_sections=4, most_memories=6),
    st.lists(st.integers(0, 2), min_size=8, max_size=8),
    st.sampled_from(KINDS),
)
def test_messages_are_as_good_as_a_channel(data: Data, sent: list[int], kind: str) -> None:
    """Every section keeps its messages; figures and bounds are those of channels in their place.

    A preset sets its channel and sends its messages with the same press, so that a rig on which
    the messages differ is planned as one on which the channels do.
    """
    rig, other = (rig_from_data(make(data, sent)) for make in (one_channel, channel_each))
    made, like = (_planned(each, Question(kind, copies=0)) for each in (rig, other))
    assert (made is None) == (like is None)
    if made is None or like is None or made.rig is None:
        return
    assert messages_heard(made.rig) == messages_heard(rig)
    assert made.after == like.after
    if kind != "route":  # its bound is the least moves, which go by loops and channel alone
        assert (made.bound, made.proved) == (like.bound, like.proved)


def _planned(rig: Rig, question: Question) -> Plan | None:
    try:
        return plan(rig, question)
    except PlanError:
        return None


def short_and_long() -> Rig:
    """Two presets with the same loop, and by hand four presses between them."""
    return make_rig(
        switcher=switcher(2, 2), pedals=[pedal("drive")], loops=[loop(1, "drive")],
        chain={"front": [1]}, midi=[{"id": "echo", "channel": 1}],
        presets=[preset("short", 1, memory=1, midi=SENT[1]),
                 preset("long", 1, memory=2, midi=SENT[2])],
        songs=[song("low", "short", "long", "short", "long", "short")],
        setlists=[setlist("night", "low")],
    )  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_each_message_keeps_a_memory(kind: str) -> None:
    """Both presets stay, and so do the four presses."""
    rig = short_and_long()
    made = plan(rig, Question(kind))
    assert made.rig is not None
    assert made.after is not None
    assert messages_heard(made.rig) == messages_heard(rig)
    assert (made.after.moves, made.after.unplayable) == (4, 0)
    assert made.proved or kind == "route"
    assert sorted(row.memory or 0 for row in made.rig.presets) == [1, 2]


def test_no_plan_is_measured_against_one_that_sends_something_else() -> None:
    """The searches that plans are held against hear messages too: four presses, and no fewer."""
    rig, asked = short_and_long(), Question("all")
    assert least(rig, asked, Weights(), copies=True) == 4
    found = WholeAnnealing(rig, asked, Weights()).run(32, 1, clock=itertools.count().__next__)
    assert found.weight == 4


def test_which_messages_stand_in_the_way_is_said() -> None:
    """Two presets in one memory: the reason names the device, since all else is the same."""
    rig = make_rig(
        switcher=switcher(1, 1), pedals=[pedal("drive")], loops=[loop(1, "drive")],
        chain={"front": [1]}, midi=[{"id": "echo", "channel": 1}],
        presets=[preset("dry", 1, memory=1), preset("wet", 1, midi=SENT[1])],
        songs=[song("low", "dry", "wet")], setlists=[setlist("night", "low")],
    )  # fmt: skip
    made = plan(rig, Question("loops"))
    assert made.rig is None
    assert made.conflict is not None
    said = " ".join(each.wants for each in made.conflict.sounds)
    assert "MIDI to echo" in said
    assert "no MIDI" in said
