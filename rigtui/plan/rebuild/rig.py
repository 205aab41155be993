"""From a design to a rig: loops plugged, presets programmed, every section mapped anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rigtui.model.edits import set_preset
from rigtui.model.edits.tables import changed, with_table
from rigtui.model.rig import Rig
from rigtui.plan.ask.checked import needed_switcher
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening
from rigtui.plan.ask.needs import Needs
from rigtui.plan.ask.question import Question
from rigtui.plan.loops.designs import Design
from rigtui.plan.memories.placing import Placement, place
from rigtui.plan.memories.switches import (
    changes_between,
    changes_in_gaps,
    first_recalls,
    presets_of,
    stored,
)
from rigtui.plan.rebuild.board import rebuild_board
from rigtui.plan.rebuild.naming import Namer
from rigtui.plan.rebuild.section_map import SectionMap


@dataclass(frozen=True, slots=True)
class Rebuilt:
    """A design as a rig."""

    rig: Rig
    placement: Placement
    ids: tuple[str, ...]
    """The presets of the design, in its order."""


def rebuild(
    rig: Rig,
    evening: Evening,
    needs: Needs,
    design: Design,
    question: Question,
    control: Control,
    *,
    exact: bool = True,
) -> Rebuilt:
    """Make the rig of a design; memories are chosen for the fewest bank steps.

    Args:
        rig: The rig as it stands.
        evening: The songs that count.
        needs: What all songs want.
        design: The loops and presets chosen.
        question: The options.
        control: Progress and cancel.
        exact: Whether to prove the placement.
    """
    board = rebuild_board(rig, needs, design.groups, question)
    control.stop_if_cancelled()
    mapping = SectionMap(rig, needs, design, board, control)
    namer = Namer(rig, needs, mapping)
    single = [changed(row, copies=()) if row.copies else row for row in namer.rows]
    new = with_table(board.rig, "presets", single)
    new = with_table(new, "songs", namer.songs_mapped(control))
    ids = presets_of(new, evening)
    ids += [preset for preset in question.keep if preset not in ids]
    switcher = needed_switcher(rig)
    pins = _pins(rig, new, question, ids)
    ids += [preset for preset in pins if preset not in ids]
    old = {preset.id: preset.memory for preset in new.presets}
    placement = place(
        switcher,
        changes_between(new, evening, ids),
        {ids.index(preset): memory for preset, memory in pins.items()},
        [old[preset] for preset in ids],
        control,
        starts=first_recalls(new, evening, ids),
        gaps=changes_in_gaps(new, evening, ids),
        exact=exact,
    )
    control.stop_if_cancelled()
    new = stored(new, switcher, dict(zip(ids, placement.memories)))
    new = _spare_memories(new, switcher.memories)
    return Rebuilt(
        new,
        placement,
        tuple(namer.ids[: len(design.packing.presets)]),
    )


def _spare_memories(rig: Rig, memories: int) -> Rig:
    """Store presets that only other songs use, as long as there are memories to spare."""
    used = {section.preset for song in rig.songs for section in song.sections}
    taken = {memory for preset in rig.presets for memory in preset.memories}
    spare = [memory for memory in range(1, memories + 1) if memory not in taken]
    for preset in rig.presets:
        if not preset.memories and preset.id in used and spare:
            rig = set_preset(rig, preset.id, memory=spare.pop(0))
    return rig


def _pins(rig: Rig, new: Rig, question: Question, ids: Sequence[str]) -> dict[str, int]:
    """The pins to memories that can be kept: of presets that still exist, where there is room."""
    known = {preset.id for preset in new.presets}
    pins: dict[str, int] = {}
    room = needed_switcher(rig).memories - len(ids)
    for preset, memory in question.pin_switch.items():
        if preset in known and (preset in ids or room > 0):
            room -= preset not in ids
            pins[preset] = memory
    return pins
