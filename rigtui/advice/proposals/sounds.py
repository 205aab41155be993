"""Sounds and memories: what to give up, what to store elsewhere, what more memories would allow."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial
from math import comb

from rigtui.advice.giving_up.answer import clashing
from rigtui.advice.giving_up.frontier import FrontierStep, Search
from rigtui.advice.giving_up.point import FrontierPoint, point_of
from rigtui.advice.giving_up.words import Given, given_up, stored_in_words
from rigtui.advice.proposals.asked import Asked
from rigtui.advice.remedy import Proposal
from rigtui.model.edits import set_switcher, take_memory
from rigtui.model.edits.mapping import same_name
from rigtui.model.errors import EditError
from rigtui.model.lookup import lookup
from rigtui.model.merge import merge
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed
from rigtui.moves.boards import board_of
from rigtui.plan import Question, plan_switches
from rigtui.plan.ask.control import Control

MOST_WORK = 60_000
"""Choices of sounds to keep, times sections, up to which giving up is tried."""
MOST_PRESETS = 24
"""Presets up to which it is tried at all."""
MOST_WAYS = 64
"""Presets, times each way to step on the pedals of a song, up to which it is tried at all."""
MOST_PLACED = 16
"""Presets that are placed anew; so many are placed exactly, and soon."""
MOST_NAMED = 4
"""Presets that are named in the sentence that says what to do."""
PRESSES_A_SECTION = 2
"""Extra presses that a section has to save, where all sections can be played, to be given up."""


def towards(now: Rig, then: Rig) -> Callable[[Rig], Rig]:
    """Return the edit that does to any rig what was done from one rig to another."""
    return partial(_moved_on, now=now, then=then)


def _moved_on(rig: Rig, now: Rig, then: Rig) -> Rig:
    merged = merge(now, rig, then)
    if merged.rig is None:
        raise EditError(f"these have changed meanwhile: {listed(merged.clashes[:3])}")
    return merged.rig


def propose(asked: Asked) -> Iterator[Proposal | None]:
    """Propose what to give up, other memories, and more of them."""
    if asked.rig.switcher is None or clashing(asked.rig):
        return
    yield from _giving_up(asked)
    yield from _more_memories(asked)
    yield from _placed_anew(asked)


def _giving_up(asked: Asked) -> Iterator[Proposal | None]:
    sections = sum(len(song.sections) for song in asked.evening.songs)
    stepped = max(
        len({pedal for section in song.sections for pedal in section.plus})
        for song in asked.evening.songs
    )
    presets = len(asked.rig.presets)
    if presets > MOST_PRESETS or presets << min(stepped, MOST_PRESETS) > MOST_WAYS:
        asked.untried.append("which sounds to give up (rigtui plan compromise)")
        return
    search = Search(asked.rig, asked.evening)
    yield None
    if comb(len(search.sounds), search.given_up) * sections > MOST_WORK:
        asked.untried.append("which sounds to give up (rigtui plan compromise)")
        return
    frontier = search.frontier()
    yield None
    now = (asked.before.unplayable, asked.before.extra_presses)
    first = frontier.steps[0]
    if first.price == 0 and first.level < now:
        point = point_of(search, first)
        yield Proposal(
            "store", stored_in_words(point), towards(asked.rig, point.rig),
            tuple(f"presets.{preset}" for preset in (*point.stored, *point.not_stored)),
            {"presets": len(point.stored)},
        )  # fmt: skip
    for step in _knee(frontier.steps, asked.before.unplayable):
        yield None
        point = point_of(search, step)
        if not asked.before.unplayable and not (
            _is_small(point, asked) and plays_alike(asked.rig, point)
        ):
            continue
        rows = given_up(point.rig, point.compromises)
        words = [given.text for given in rows]
        words += [stored_in_words(point)] if point.stored else []
        opening, *others = words
        others = [text[0].lower() + text[1:] for text in others]
        yield Proposal(
            "give up",
            listed((opening, *others)),
            towards(asked.rig, point.rig),
            tuple(each.place for each in point.compromises),
            {"sections": point.sections, "presets": len(point.not_stored)},
            detail=_where(rows),
        )


def _where(rows: list[Given]) -> tuple[str, ...]:
    """Say where sounds are given up; what is given up only where it is not all the same."""
    if len(rows) == 1:
        return (rows[0].places,)
    return tuple(f"{given.text}: {given.places}" for given in rows)


def _knee(steps: tuple[FrontierStep, ...], unplayable: int) -> Iterator[FrontierStep]:
    """The first step at which all that can be played can; else those that give up little."""
    least = steps[-1].level.unplayable
    if unplayable > least:
        yield next(step for step in steps if step.level.unplayable == least)
    else:
        yield from reversed(steps[1:6])


def _is_small(point: FrontierPoint, asked: Asked) -> bool:
    """Whether one pedal here and there saves enough presses to be worth it."""
    saved = asked.before.extra_presses - point.counted.extra_presses
    no_more = all(not each.put_on for each in point.compromises)
    return (
        no_more
        and 0 < point.pedals <= point.sections
        and saved >= PRESSES_A_SECTION * point.sections
    )


def plays_alike(now: Rig, point: FrontierPoint) -> bool:
    """Whether sections of one name that sound alike now still do in every song.

    Nobody plays two choruses one way and the third another.
    """
    given_up = {(each.song, each.at): (each.left_off, each.put_on) for each in point.compromises}
    known = lookup(now)
    for song in now.songs:
        alike: dict[object, set[object]] = {}
        for at, section in enumerate(song.sections):
            sound = (same_name(section.name), section.preset, frozenset(known.sound(section)))
            alike.setdefault(sound, set()).add(given_up.get((song.id, at)))
        if any(len(ways) > 1 for ways in alike.values()):
            return False
    return True


def _more_memories(asked: Asked) -> Iterator[Proposal | None]:
    """One or two more memories, with the sounds in them that are missed most."""
    rig, switcher = asked.rig, asked.rig.switcher
    assert switcher is not None
    lost, missed = board_of(rig).unplayable, Counter[str]()
    for song in asked.evening.songs:
        for section in song.sections:
            if section.preset in lost:
                missed[section.preset or ""] += asked.evening.times[song.id]
    for more in (1, 2):
        if len(missed) < more or switcher.bank_buttons == "none":
            return
        wanted = [preset for preset, _ in missed.most_common(more)]
        edit = partial(_with_memories, wanted=tuple(wanted))
        label = {preset.id: preset.label for preset in rig.presets}
        yield Proposal(
            "more memories",
            f"With {count(more, 'more memory', 'more memories')} you could store "
            f"{listed(label[preset] for preset in wanted)}",
            edit, ("switcher",), {"memories": more}, as_if=True, to_buy=True,
            detail=("You need another switcher for that, or one you can extend",),
        )  # fmt: skip


def _with_memories(rig: Rig, wanted: tuple[str, ...]) -> Rig:
    assert rig.switcher is not None
    first = rig.switcher.memories
    rig = set_switcher(rig, memories=first + len(wanted))
    for at, preset in enumerate(wanted, 1):
        rig = take_memory(rig, preset, first + at)
    return rig


def _placed_anew(asked: Asked) -> Iterator[Proposal | None]:
    """The same presets in other memories, for the fewest bank steps."""
    if asked.before.unplayable or asked.rig.switcher is None or asked.rig.switcher.banks < 2:
        return
    if len(asked.rig.presets) > MOST_PLACED:
        asked.untried.append("other memories (rigtui plan switches)")
        return
    yield None
    # No time limit: so few presets are placed exactly, and two runs say the same. The search for
    # copies takes as long as it is given, so that it is left to the planner.
    question = Question("switches", asked.setlists, copies=0)
    plan = plan_switches(asked.rig, question, Control())
    yield None
    if plan.rig is None or plan.rig.presets == asked.rig.presets:
        return
    old = {preset.id: preset.memories for preset in asked.rig.presets}
    moved = [preset for preset in plan.rig.presets if preset.memories != old[preset.id]]
    homes = listed(f"{preset.label} in memory {preset.memory}" for preset in moved)
    few = len(moved) <= MOST_NAMED
    yield Proposal(
        "memories",
        f"Store {homes}" if few else f"Put {count(len(moved), 'preset')} in other memories",
        towards(asked.rig, plan.rig),
        tuple(f"presets.{preset.id}" for preset in moved),
        {"presets": len(moved)},
        detail=(*([] if few else [homes]), "You have to relearn where they are"),
    )
