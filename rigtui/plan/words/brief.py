"""A plan in brief: four lines that say what it comes to, and the songs that change most."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from rigtui.model.playable import unplayable_presets
from rigtui.model.rig import Rig
from rigtui.model.text import count, first_few, visible
from rigtui.plan.ask.figures import Figures
from rigtui.plan.verdict.appraisal import Appraisal
from rigtui.plan.verdict.compare import SongRow
from rigtui.plan.words.outcome import verdict

_MOST_NAMED = 3
_EXTRA = " (presses beyond the first on one beat)"


class BriefLine(NamedTuple):
    """One of the four lines."""

    name: str
    text: str


def head(known: Appraisal, *, interrupted: bool = False, brief: bool = False) -> list[BriefLine]:
    """Say in four lines what a plan comes to: what can be played, extra presses, presses, proof.

    Args:
        known: The plan held against the rig as it is; there must be a rig as planned.
        interrupted: Whether the player ended the search.
        brief: Whether there is room for little.
    """
    before, after = _figures_of(known)
    return [
        BriefLine("Can be played", _playable(known, before, after)),
        BriefLine("Extra presses", _extra(before, after, brief)),
        BriefLine("Presses", _presses(before, after)),
        BriefLine("Proof", _proof(known, interrupted, brief)),
    ]


def _figures_of(known: Appraisal) -> tuple[Figures, Figures]:
    """What the evening asks of the feet now, and with the plan."""
    assert known.plan.after is not None
    return known.plan.before, known.plan.after


def _playable(known: Appraisal, before: Figures, after: Figures) -> str:
    then = known.plan.rig
    assert then is not None
    if not after.unplayable:
        said = "every section"
        if before.unplayable:
            said += f"; {before.unplayable} can't today ({_not_stored(known.now, known)})"
        return said
    said = f"all but {count(after.unplayable, 'section')} ({_not_stored(then, known)})"
    if before.unplayable == after.unplayable:
        return f"{said}, as today"
    return (
        f"{said}; today {f'all but {before.unplayable}' if before.unplayable else 'every section'}"
    )


def _not_stored(rig: Rig, known: Appraisal) -> str:
    used = {
        section.preset
        for song in rig.songs
        if song.id in known.evening.times
        for section in song.sections
    }
    lost = unplayable_presets(rig) & used
    names = [visible(preset.label) for preset in rig.presets if preset.id in lost]
    return f"{first_few(names, _MOST_NAMED)} not stored"


def _extra(before: Figures, after: Figures, brief: bool) -> str:
    was, will = before.extra_presses, after.extra_presses
    if was == will:
        said = f"{will}, as today" if will else "none, as today"
    else:
        said = f"{was} → {will}: {abs(was - will)} {'fewer' if will < was else 'more'}"
    if before.unplayable > after.unplayable and will > was:
        return f"{said} (today's {was} leaves out what can't be played)"
    return said if brief else said + _EXTRA


def _presses(before: Figures, after: Figures) -> str:
    """Say "inside songs 307 → 283, between 43 → 56, in all 350 → 339"."""
    pairs = (
        ("inside songs", before.moves, after.moves),
        ("between", before.set_up_moves, after.set_up_moves),
        ("in all", before.in_all, after.in_all),
    )
    same = all(was == will for _, was, will in pairs)
    said = ", ".join(
        f"{what} {was if was == will else f'{was} → {will}'}" for what, was, will in pairs
    )
    said += ", as today" if same else ""
    if after.moves > before.moves and before.unplayable > after.unplayable:
        said += f" (today's {before.moves} leaves out what can't be played)"
    return said


def _proof(known: Appraisal, interrupted: bool, brief: bool) -> str:
    said = verdict(known.plan, interrupted=interrupted, brief=brief)
    return said[0].lower() + said[1:]


def too_crowded(known: Appraisal) -> bool:
    """Whether a plan is paid for with more extra presses, or cannot make everything playable."""
    if known.plan.after is None:
        return False
    before, after = _figures_of(known)
    return after.unplayable > 0 or after.extra_presses > before.extra_presses


# Songs


def songs_that_change(rows: Iterable[SongRow], most: int) -> tuple[list[SongRow], list[SongRow]]:
    """The songs that gain most by a plan, and those that lose most, by unplayable, then effort."""

    def gain(row: SongRow) -> tuple[float, ...]:
        was, will = row.before, row.after
        return (
            was.unplayable - will.unplayable, row.effort_saved, was.moves - will.moves
        )  # fmt: skip

    nothing = (0.0, 0.0, 0.0)
    ordered = sorted(rows, key=gain, reverse=True)
    better = [row for row in ordered if gain(row) > nothing]
    worse = [row for row in reversed(ordered) if gain(row) < nothing]
    return better[:most], worse[:most]
