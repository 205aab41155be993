"""A plan for a switcher with more memories, or fewer, than the rig's own."""

from __future__ import annotations

from rigtui.model.edits import set_switcher
from rigtui.model.rig import Rig, Switcher
from rigtui.model.text import count

MOST_MEMORIES = 128
"""What a rig file may have at most."""


def most_memories(switcher: Switcher) -> int:
    """How many memories a switcher like this one can have: all in one bank without bank buttons."""
    return switcher.bank_size if switcher.bank_buttons == "none" else MOST_MEMORIES


def memories_fault(rig: Rig, memories: int | None) -> str | None:
    """Say why there is no planning for so many memories, if there is not."""
    if memories is None:
        return None
    if not 1 <= memories <= MOST_MEMORIES:
        return f"memories must be 1 to {MOST_MEMORIES}, not {memories}"
    switcher = rig.switcher
    if switcher is None or memories <= most_memories(switcher):
        return None
    size = count(switcher.bank_size, "footswitch", "footswitches")
    return (
        f"the switcher has no bank buttons, so its {size} recall only as many presets: "
        f"memories must be 1 to {switcher.bank_size}, not {memories}, unless you give "
        "it bank buttons in the rig"
    )


def with_memories(rig: Rig, memories: int | None) -> Rig:
    """The rig on a switcher with so many memories; as it is where there cannot be such a one.

    Presets that were in a memory which is no more keep its number, which nobody can recall: a plan
    finds them another.
    """
    switcher = rig.switcher
    if memories is None or switcher is None or memories == switcher.memories:
        return rig
    if memories_fault(rig, memories) is not None:
        return rig
    return set_switcher(rig, memories=memories)
