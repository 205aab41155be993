"""Staging: a pedal that can be switched ahead of the change, proposed everywhere at once."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.advice.giving_up.words import places_in_words
from rigtui.advice.proposals.asked import Asked
from rigtui.advice.remedy import Proposal
from rigtui.advice.stages import Stage, staged, stages
from rigtui.checks.demand import say_seconds
from rigtui.model.lookup import lookup
from rigtui.model.text import count, listed

FEW_SONGS = 2
"""So many songs are named in the sentence that says what to do."""


def propose(asked: Asked) -> Iterator[Proposal | None]:
    """Propose to switch a pedal early, everywhere that it can be."""
    by_pedal: dict[str, list[Stage]] = {}
    for song in asked.evening.songs:
        yield None
        for stage in stages(asked.rig, song):
            if stage.fits:
                by_pedal.setdefault(stage.pedal, []).append(stage)
    known = lookup(asked.rig)
    for pedal, chosen in by_pedal.items():
        reasons = dict.fromkeys(stage.why for stage in chosen)
        tight = max(chosen, key=lambda stage: stage.seconds / stage.before_seconds)
        where = places_in_words(asked.rig, chosen)
        few = len({stage.song for stage in chosen}) <= FEW_SONGS
        yield Proposal(
            f"early {pedal}",
            f"Switch {known.label(pedal)} early, before {count(len(chosen), 'section')}"
            + (f": {where}" if few else ""),
            partial(staged, chosen=tuple(chosen)),
            tuple(stage.place for stage in chosen),
            {"sections": len(chosen)},
            detail=(
                *([] if few else [where]),
                f"{listed(reasons).capitalize()}; the section before lasts "
                f"{say_seconds(round(tight.before_seconds, 1))} or more, and the "
                f"presses take {say_seconds(tight.seconds)}",
            ),
        )
