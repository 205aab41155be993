"""The board: a pedal that needs no press, one outside the loops, and what a delay can do."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.advice.proposals.asked import Asked
from rigtui.advice.remedy import Proposal
from rigtui.model.edits import set_amp, set_pedal, take_outside
from rigtui.model.kind_words import TAIL_KINDS
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
                f"Does your {pedal.label} switch on when you rock it? Set that, and it "
                "needs no press",
                partial(set_pedal, pedal_id=pedal.id, use="treadle"),
                (f"pedals.{pedal.id}",),
                {"pedals": 1},
                as_if=True,
                detail=(
                    ('`use = "treadle"` in the file, or Use in the pedal\'s form on the Board'),
                ),
            )
    amp = asked.rig.amp
    if amp.channel_switch == "foot" and len(amp.channels) > 1 and asked.before.extra_presses:
        yield Proposal(
            "channel",
            "Can your switcher switch the amp's channel? Then store the channel with each preset",
            partial(set_amp, channel_switch="preset"),
            ("amp",),
            {"leads": 1},
            as_if=True,
            detail=(
                "Many switchers have a jack for this, which replaces the amp's "
                "footswitch. Check both manuals for the kind of contact they need",
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
    """Tails that ring on: those of a pedal that you step on, or of a loop that cuts only the send.

    A loop that is switched out takes the pedal's output away, whatever the pedal does (common
    practice).
    """
    if not asked.of_rule("tail-cut"):
        return
    loop_of = lookup(asked.rig).loop_of
    for pedal in asked.rig.pedals:
        if pedal.kind not in TAIL_KINDS or "trails" in pedal.model_fields_set:
            continue
        loop = loop_of.get(pedal.id)
        if loop is None:
            what = (
                f"Can your {pedal.label} let its tail ring on when you switch it off? Turn that on"
            )
            how = "Many delays and reverbs have a switch inside or a start-up option for this"
        else:
            what = (
                f"Can loop {loop} of your switcher cut only the send, so that "
                f"{pedal.label} rings on when the loop goes out? Set it to that"
            )
            how = "Few switchers can: look for tails in the manual. An ordinary loop cuts both"
        yield Proposal(
            f"trails {pedal.id}",
            what,
            partial(set_pedal, pedal_id=pedal.id, trails=True),
            (f"pedals.{pedal.id}",),
            {"pedals": 1},
            as_if=True,
            detail=(how, "`trails = true` in the file, or in the pedal's form on the Board"),
        )


def _tapped(asked: Asked) -> Iterator[Proposal | None]:
    off = asked.of_rule("off-grid", "one-time-many-songs", "too-long")
    for pedal in asked.rig.pedals:
        if off and pedal.kind == "delay" and "tap" not in pedal.model_fields_set:
            yield Proposal(
                f"tap {pedal.id}",
                f"Can you tap the tempo on your {pedal.label}? Then tap each song's",
                partial(set_pedal, pedal_id=pedal.id, tap=True),
                (f"pedals.{pedal.id}",),
                {"pedals": 1},
                as_if=True,
                detail=(
                    "Four taps before a song, or a footswitch that plugs into the pedal",
                    "`tap = true` in the file, or in the pedal's form on the Board",
                ),
            )
