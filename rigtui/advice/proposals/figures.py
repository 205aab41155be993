"""Figures: gaps between songs, the player's own times, and fixes that the findings bring along."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import partial

from rigtui.advice.proposals.asked import Asked
from rigtui.advice.remedy import Proposal
from rigtui.checks.between_songs import TIGHT
from rigtui.checks.evening import stops
from rigtui.checks.finding import Fix, RigView
from rigtui.checks.words import fix_in_words
from rigtui.model.edits import set_song
from rigtui.model.edits.tables import changed
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed, number_text

MOST_FIXES = 8
"""Rules whose fixes are tried together."""
MOST_LABELS = 2
"""How many of them are named in the sentence that says what to do."""
_LEFT = ("move-outside", "unused-preset", "twin-presets", "stale-sheet", "stale-waiver")
"""Rules whose fixes only tidy the file, or are proposed elsewhere."""
MANY = 4
"""Findings from which on a time that was never measured is asked for."""
_LATE, _SWAPS = ("late-change", "late-set-up"), ("guitar-conflict",)
_MEASURED = (
    (_LATE, "extra_press_seconds", 0.6, "your second press on one beat"),
    (_LATE, "far_press_seconds", 0.6, "a press away from the switcher"),
    (_LATE, "volume_seconds", 0.6, "setting the guitar's volume"),
    (_LATE, "pickup_seconds", 0.6, "changing the pickup"),
    (
        _SWAPS,
        "guitar_seconds",
        0.4,
        "a swap of guitars, with the other one tuned and on its stand",
    ),
)
"""Rules, the time of the player's that they hang on, how much quicker a practised player is (a
default), and its words."""


def propose(asked: Asked) -> Iterator[Proposal | None]:
    """Propose gaps, times to measure, and fixes."""
    yield from _gaps(asked)
    yield from _measured(asked)
    yield from _fixes(asked)


def _gaps(asked: Asked) -> Iterator[Proposal | None]:
    """Longer gaps where a swap of guitar, tuning or capo does not fit."""
    if not asked.of_rule("guitar-conflict"):
        return
    view, wanted = RigView.of(asked.rig), dict[str, int]()
    added = 0.0
    for setlist in asked.evening.setlists:
        for stop in stops(view, setlist):
            if stop.before is None or stop.gap_seconds is None or not stop.swap.seconds:
                continue
            if stop.swap.seconds <= TIGHT * stop.gap_seconds:
                continue
            seconds = math.ceil(stop.swap.seconds / TIGHT)
            if seconds > wanted.get(stop.before.id, 0):
                added += seconds - max(stop.gap_seconds, wanted.get(stop.before.id, 0))
                wanted[stop.before.id] = seconds
    yield None
    by_seconds: dict[int, list[str]] = {}
    for song, seconds in wanted.items():
        by_seconds.setdefault(seconds, []).append(lookup(asked.rig).songs[song].label)
    gaps = (f"{seconds} s after {listed(songs)}" for seconds, songs in by_seconds.items())
    yield Proposal(
        "gaps",
        f"Leave {listed(gaps)}",
        partial(_with_gaps, wanted=wanted),
        tuple(f"songs.{song}" for song in wanted),
        {"songs": len(wanted), "seconds": round(added)},
        detail=("Somebody has to talk that long: agree on it with the band",),
    )  # fmt: skip


def _with_gaps(rig: Rig, wanted: dict[str, int]) -> Rig:
    for song, seconds in wanted.items():
        rig = set_song(rig, song, gap_seconds=seconds)
    return rig


def _measured(asked: Asked) -> Iterator[Proposal | None]:
    """A time that the player never measured and that many findings hang on."""
    player = asked.rig.player
    for rules, key, share, words in _MEASURED:
        if key in player.model_fields_set or len(asked.of_rule(*rules)) < MANY:
            continue
        seconds = round(getattr(player, key) * share, 1)
        yield Proposal(
            "measure",
            f"Time {words}: the file gives no figure, and at {number_text(seconds)} s "
            f"instead of {number_text(getattr(player, key))} s much of this is in time",
            partial(_with_figure, key=key, seconds=seconds),
            ("player",),
            {"figures": 1},
            as_if=True,
            detail=(f"`{key}` under `[player]`, timed as you do it on stage",),
        )


def _with_figure(rig: Rig, key: str, seconds: float) -> Rig:
    return changed(rig, player=changed(rig.player, **{key: seconds}))


def _fixes(asked: Asked) -> Iterator[Proposal | None]:
    """The fixes that findings bring along, those of one rule together."""
    by_rule: dict[str, list[tuple[str, Fix, str]]] = {}
    for finding in asked.findings:
        if finding.fix is not None and finding.waived is None and finding.rule not in _LEFT:
            label = fix_in_words(asked.rig, finding.fix, finding.where)
            by_rule.setdefault(finding.rule, []).append((label, finding.fix, finding.where))
    for nth, (rule, fixes) in enumerate(by_rule.items()):
        if nth == MOST_FIXES:
            asked.untried.append("fixes of more rules")
            return
        by_label = {label: fix.edit for label, fix, _ in fixes}
        labels = list(by_label)
        rest = len(labels) - MOST_LABELS
        words = "; ".join(labels[:MOST_LABELS])
        words += (
            (f"; and the same in {count(rest, 'more place', 'more places')}") if rest > 0 else ""
        )
        yield Proposal(
            f"fix {rule}",
            words[0].upper() + words[1:],
            partial(_fixed, edits=tuple(by_label.values())),
            tuple(dict.fromkeys(where for _, _, where in fixes)),
            {"edits": len(labels)},
            detail=tuple(label[0].upper() + label[1:] for label in labels[MOST_LABELS:]),
        )


def _fixed(rig: Rig, edits: tuple[Callable[[Rig], Rig], ...]) -> Rig:
    done = 0
    for edit in edits:
        try:
            rig = edit(rig)
            done += 1
        except EditError:  # another of them has done it, or stands in its way
            continue
    if not done:
        raise EditError("there is nothing left to fix")
    return rig
