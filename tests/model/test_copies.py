"""A preset in several memories: storing it, moving it, and folding a clone into it.

Expected memories are written out by hand; that a memory holds one preset is arithmetic.
"""

from __future__ import annotations

from typing import Any

import pytest

from rigtui.model import EditError, Rig
from rigtui.model.edits import (
    duplicate_preset,
    fold_into_copies,
    leave_memory,
    merge_presets,
    take_copies,
    take_memory,
)


def board(*presets: dict[str, Any], sections: tuple[dict[str, Any], ...] = ()) -> Rig:
    """A switcher of 8 memories with some presets, and a song."""
    return Rig.model_validate(
        {
            "format": 1,
            "name": "Two banks of four",
            "switcher": {"memories": 8, "bank_size": 4},
            "loops": [{"number": 1, "side": "front"}],
            "chain": {"front": [1]},
            "presets": list(presets),
            "songs": [{"id": "low-fen", "tempo": 90, "sections": list(sections)}],
        }
    )


def held(rig: Rig) -> dict[str, tuple[int, ...]]:
    """In which memories each preset is."""
    return {preset.id: preset.memories for preset in rig.presets}


CLEAN = {"id": "clean", "memory": 1, "copies": [5, 6]}
LEAD = {"id": "lead", "memory": 2, "copies": [7]}


@pytest.mark.parametrize(
    ("memory", "clean", "lead"),
    [
        (3, (3, 5, 6), (2, 7)),  # a free one
        (5, (5, 1, 6), (2, 7)),  # one of its own copies: the two change places
        (2, (2, 5, 6), (1, 7)),  # another's own memory
        (7, (7, 5, 6), (2, 1)),  # another's copy
        (None, (), (2, 7)),
    ],
)
def test_a_preset_moves_to_a_memory_and_copies_stay(
    memory: int | None, clean: tuple[int, ...], lead: tuple[int, ...]
) -> None:
    """What was there gets the old memory, be it a preset's own or a copy."""
    assert held(take_memory(board(CLEAN, LEAD), "clean", memory)) == {"clean": clean, "lead": lead}


def test_a_preset_that_was_nowhere_takes_a_copys_memory() -> None:
    """The other keeps the memories that it has left."""
    rig = take_memory(board({"id": "clean"}, LEAD), "clean", 2)
    assert held(rig) == {"clean": (2,), "lead": (7,)}


def test_copies_are_set_as_asked() -> None:
    """Each memory once, whatever was asked twice."""
    assert held(take_copies(board(CLEAN, LEAD), "clean", [8, 1, 8]))["clean"] == (1, 8)
    assert held(take_copies(board({"id": "clean"}), "clean", [4, 3]))["clean"] == (4, 3)


@pytest.mark.parametrize(
    ("memory", "fault"),
    [
        (7, "copies need free memories: memory 7 holds lead"),
        (9, "copies: memory 9 does not exist: the switcher has 8"),
    ],
)
def test_a_copy_needs_a_free_memory_that_exists(memory: int, fault: str) -> None:
    """Nothing is pushed out by a copy."""
    with pytest.raises(EditError, match=fault):
        take_copies(board(CLEAN, LEAD), "clean", [memory])


def test_a_preset_leaves_a_memory() -> None:
    """The first copy becomes its own memory where that is the one it leaves."""
    rig = board(CLEAN, LEAD)
    assert held(leave_memory(rig, "clean", 6))["clean"] == (1, 5)
    assert held(leave_memory(rig, "clean", 1))["clean"] == (5, 6)
    assert leave_memory(rig, "clean", 1).presets[0].memory == 5


def test_a_duplicate_is_stored_nowhere() -> None:
    """Two presets are never in one memory by duplicating."""
    assert held(duplicate_preset(board(CLEAN), "clean")) == {"clean": (1, 5, 6), "clean-copy": ()}


def test_a_clone_becomes_a_copy() -> None:
    """Its memories, sections and what the hands do go to the preset that stays."""
    rig = board(
        {"id": "drive", "loops": [1], "memory": 2, "guitar_volume": 8},
        {"id": "drive-too", "loops": [1], "memory": 5, "copies": [8], "guitar_volume": 8},
        {"id": "drive-low", "loops": [1], "memory": 6, "guitar_volume": 4},
        sections=tuple(
            {"name": name, "bars": 4, "preset": preset}
            for name, preset in (("A", "drive"), ("B", "drive-too"), ("C", "drive-low"))
        ),
    )
    folded = fold_into_copies(rig, stays="drive", clone="drive-too")
    assert held(folded) == {"drive": (2, 5, 8), "drive-low": (6,)}
    assert [section.preset for section in folded.songs[0].sections] == [
        "drive",
        "drive",
        "drive-low",
    ]
    low = fold_into_copies(folded, stays="drive", clone="drive-low")
    assert held(low) == {"drive": (2, 5, 8, 6)}
    assert [section.guitar_volume for section in low.songs[0].sections] == [8, 8, 4]


def test_merged_presets_keep_a_memory_and_give_the_others_back() -> None:
    """One that is planned takes over the other's own memory, not its copies."""
    assert held(merge_presets(board({"id": "clean"}, LEAD), "clean", "lead")) == {"clean": (2,)}
    assert held(merge_presets(board(CLEAN, LEAD), "clean", "lead")) == {"clean": (1, 5, 6)}
