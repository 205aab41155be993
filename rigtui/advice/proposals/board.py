"""The board: a pedal that needs no press, one outside the loops, and what a delay can do."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.advice.proposals.asked import Asked
from rigtui.advice.remedy import Proposal
from rigtui.model.edits import set_amp, set_pedal, take_outside
from rigtui.model.lookup import lookup
from rigtui.model.places import taken_apart

_ROCKED = ("wah", "volume")
"""Kinds that are made to switch by their treadle, some of them (common practice)."""


def propose(asked: Asked) -> Iterator[Proposal | None]:
    """Propose what the board could do."""
    known = lookup(asked.rig)
    for pedal in known.outside():
        if pedal.kind in _ROCKED and pedal.used == "foot" and asked.before.extra_presses:
            yield Proposal(
                f"treadle {pedal.id}",
                f"Does your {pedal.label} go on when you rock it? Then say so: it needs no press",
                partial(set_pedal, pedal_id=pedal.id, use="treadle"),
                (f"pedals.{pedal.id}",),
                {"pedals": 1},
                as_if=True,
                detail=('`use = "treadle"` in the file, or its form on the Board',),
            )
    amp = asked.rig.amp
    if amp.channel_switch == "foot" and len(amp.channels) > 1 and asked.before.extra_presses:
        yield Proposal(
            "channel",
            "Can your switcher switch the amp's channel? Then store it with each preset",
            partial(set_amp, channel_switch="preset"),
            ("amp",),
            {"leads": 1},
            as_if=True,
            detail=(
                "Many switchers have a jack for it, which takes the place of the amp's footswitch: "
                "look in both manuals which kind of contact they want",
            ),
        )
    for finding in asked.of_rule("move-outside"):
        pedal_id = taken_apart(finding.where).row
        yield Proposal(
            "outside",
            f"Take {known.label(pedal_id)} out of its loop and step on it",
            partial(take_outside, pedal_id=pedal_id),
            (finding.where,),
            {"pedals": 1},
        )
    yield from _tails(asked)
    yield from _tapped(asked)


def _tails(asked: Asked) -> Iterator[Proposal | None]:
    cut = asked.of_rule("tail-cut")
    for pedal in asked.rig.pedals:
        if cut and pedal.kind in ("delay", "reverb") and "trails" not in pedal.model_fields_set:
            yield Proposal(
                f"trails {pedal.id}",
                f"Can your {pedal.label} let its tail ring on when it is switched off? Then turn "
                f"that on, and leave it out of its loop's switching",
                partial(set_pedal, pedal_id=pedal.id, trails=True),
                (f"pedals.{pedal.id}",),
                {"pedals": 1},
                as_if=True,
                detail=("Many delays and reverbs have it as a switch inside or a start-up option",),
            )


def _tapped(asked: Asked) -> Iterator[Proposal | None]:
    off = asked.of_rule("off-grid", "one-time-many-songs", "too-long")
    for pedal in asked.rig.pedals:
        if off and pedal.kind == "delay" and "tap" not in pedal.model_fields_set:
            yield Proposal(
                f"tap {pedal.id}",
                f"Can you tap the tempo on your {pedal.label}? Then say so",
                partial(set_pedal, pedal_id=pedal.id, tap=True),
                (f"pedals.{pedal.id}",),
                {"pedals": 1},
                as_if=True,
                detail=("Four taps before a song, or a footswitch that plugs into it",),
            )
