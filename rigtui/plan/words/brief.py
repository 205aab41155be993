"""A plan in brief: four lines that say what it comes to, and one sentence that says what to do."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from rigtui.model.playable import unplayable_presets
from rigtui.model.rig import Rig
from rigtui.model.text import count, first_few, listed, number_text, visible
from rigtui.moves import SongCount
from rigtui.plan.verdict.appraisal import Appraisal
from rigtui.plan.verdict.compare import SongRow
from rigtui.plan.words.outcome import verdict
from rigtui.plan.words.steps import Tick, ticks

_MOST_NAMED = 3
_MOST_PLUGS = 2
"""Things to re-plug that are named one by one in the sentence."""


class HeadLine(NamedTuple):
    """One of the four lines."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Feet:
    """What an evening asks of the feet, all songs and their repeats together."""

    sections: int
    unplayable: int
    extra_presses: int
    moves: int
    effort: float
    set_up_moves: int

    @property
    def order(self) -> tuple[float, ...]:
        """What decides between two rigs with the same sounds: the smaller is the better."""
        return self.unplayable, self.effort, self.set_up_moves


def feet_of(known: Appraisal) -> tuple[Feet, Feet]:
    """What the evening asks of the feet now, and with the plan."""
    plan = known.plan
    assert plan.after is not None
    return (
        _feet(known.songs, lambda row: row.before, plan.before.set_up_moves),
        _feet(known.songs, lambda row: row.after, plan.after.set_up_moves),
    )


def _feet(rows: Sequence[SongRow], side: Callable[[SongRow], SongCount], set_up: int) -> Feet:
    counts = [(row.times, side(row)) for row in rows]

    def total(of: Callable[[SongCount], float]) -> float:
        return sum(times * of(counted) for times, counted in counts)

    return Feet(
        sections=int(total(lambda song: len(song.changes) + 1)),
        unplayable=int(total(lambda song: song.unplayable)),
        extra_presses=int(total(lambda song: song.extra_presses)),
        moves=int(total(lambda song: song.moves)),
        effort=total(lambda song: song.effort),
        set_up_moves=set_up,
    )


def head(known: Appraisal, *, interrupted: bool = False) -> list[HeadLine]:
    """Say in four lines what a plan comes to: what can be played, extra presses, presses, proof.

    Args:
        known: The plan held against the rig as it is; there must be a rig as planned.
        interrupted: Whether the player ended the search.
    """
    before, after = feet_of(known)
    return [
        HeadLine("Can be played", _playable(known, before, after)),
        HeadLine("Extra presses", _extra(before, after)),
        HeadLine("Presses", _presses(before, after)),
        HeadLine("Proof", _proof(verdict(known.plan, interrupted=interrupted))),
    ]


def _playable(known: Appraisal, before: Feet, after: Feet) -> str:
    then = known.plan.rig
    assert then is not None
    if not after.unplayable:
        said = "every section"
        if before.unplayable:
            said += f"; today {before.unplayable} can't ({_in_no_memory(known.now, known)})"
        return said
    said = f"all but {count(after.unplayable, 'section')} ({_in_no_memory(then, known)})"
    if before.unplayable == after.unplayable:
        return f"{said}, as today"
    return (
        f"{said}; today {f'all but {before.unplayable}' if before.unplayable else 'every section'}"
    )


def _in_no_memory(rig: Rig, known: Appraisal) -> str:
    used = {
        section.preset
        for song in rig.songs
        if song.id in known.evening.times
        for section in song.sections
    }
    lost = unplayable_presets(rig) & used
    names = [visible(preset.label) for preset in rig.presets if preset.id in lost]
    are = "is" if len(names) == 1 else "are"
    named = listed(names) if len(names) <= _MOST_NAMED else first_few(names, _MOST_NAMED)
    return f"{named} {are} in no memory"


def _extra(before: Feet, after: Feet) -> str:
    was, will = before.extra_presses, after.extra_presses
    if was == will:
        said = f"{will}, as today" if will else "none, as today"
    else:
        said = f"{was} → {will}: {abs(was - will)} {'fewer' if will < was else 'more'}"
    if before.unplayable > after.unplayable and will > was:
        said += f" (today's {was} leaves out what can't be played)"
    return said


def _presses(before: Feet, after: Feet) -> str:
    """Say "inside songs 307 → 283, between 43 → 56, in all 350 → 339; effort 337 → 418"."""
    pairs = (
        ("inside songs", before.moves, after.moves),
        ("between", before.set_up_moves, after.set_up_moves),
        ("in all", before.moves + before.set_up_moves, after.moves + after.set_up_moves),
    )
    same = all(was == will for _, was, will in pairs)
    said = ", ".join(f"{what} {_becomes(was, will)}" for what, was, will in pairs)
    said += ", as today" if same else ""
    return f"{said}; effort {_becomes(before.effort, after.effort)}"


def _becomes(was: float, will: float) -> str:
    return number_text(will) if was == will else f"{number_text(was)} → {number_text(will)}"


def _proof(said: str) -> str:
    return said[0].lower() + said[1:]


# One sentence


def in_a_sentence(known: Appraisal) -> str:
    """Say in one sentence what to do before the gig, and what that brings."""
    now, then = known.now, known.plan.rig
    assert then is not None
    before, after = feet_of(known)
    if then == now:
        return f"Leave the rig as it is: {_why_stay(known)}."
    if after.order > before.order:
        return f"Leave the rig as it is: with this plan {_worse(before, after)}."
    if after.order == before.order:
        return "Nothing has to change: with this plan there are as many presses as today."
    doing = _doing(ticks(now, then, known.evening))
    return f"Before the gig, {doing}: then {_gain(before, after)}."


def _why_stay(known: Appraisal) -> str:
    if known.plan.proved:
        return "no plan of this kind is better"
    return "no better plan was found"


def _worse(before: Feet, after: Feet) -> str:
    if after.unplayable > before.unplayable:
        more = after.unplayable - before.unplayable
        return f"{count(more, 'section')} more can't be played"
    return f"there are {_figures(before, after)}"


def _doing(things: Sequence[Tick]) -> str:
    """What to do, in brief: "take Chorus out of loop 5, program 3 memories and learn 2 songs"."""
    plugs = [tick.text.partition(":")[0] for tick in things if tick.kind == "plug"]
    program = sum(tick.kind == "program" for tick in things)
    said = plugs if len(plugs) <= _MOST_PLUGS else [f"re-plug {len(plugs)} things"]
    said += [f"program {count(program, 'memory', 'memories')}"] * bool(program)
    said += [tick.text.partition(":")[0] for tick in things if tick.kind == "learn"]
    return listed(said) or "accept the plan"


def _gain(before: Feet, after: Feet) -> str:
    if before.unplayable <= after.unplayable:
        return f"there are {_figures(before, after)}"
    if after.unplayable:
        can = f"{before.unplayable - after.unplayable} more sections can be played"
    else:
        can = f"every section can be played ({before.unplayable} can't today)"
    return f"{can}, with {_figures(before, after)}"


def _figures(before: Feet, after: Feet) -> str:
    """Say "45 extra presses (24 today) and 283 presses inside songs (307 today)"."""
    parts = [
        f"{will} {what} ({was} today)"
        for what, was, will in (
            ("extra presses", before.extra_presses, after.extra_presses),
            ("presses inside songs", before.moves, after.moves),
            ("between songs", before.set_up_moves, after.set_up_moves),
        )
        if was != will
    ]
    return listed(parts[:2]) or "as many presses as today"


# Songs


def songs_that_change(rows: Iterable[SongRow], most: int) -> tuple[list[SongRow], list[SongRow]]:
    """The songs that gain most by a plan, and those that lose most, by unplayable, then effort."""

    def gain(row: SongRow) -> tuple[float, ...]:
        was, will = row.before, row.after
        return (
            was.unplayable - will.unplayable, was.effort - will.effort, was.moves - will.moves
        )  # fmt: skip

    nothing = (0.0, 0.0, 0.0)
    ordered = sorted(rows, key=gain, reverse=True)
    better = [row for row in ordered if gain(row) > nothing]
    worse = [row for row in reversed(ordered) if gain(row) < nothing]
    return better[:most], worse[:most]
