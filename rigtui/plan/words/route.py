"""What a walk has over the songs as a plan can write them, in the player's words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig, Song
from rigtui.model.text import count, visible


def least_note(least: int, held: int) -> str | None:
    """Say why a plan is measured by more than the report's least moves; None where it is not.

    Args:
        least: Least moves by the rules, which recall a preset without a memory like any other.
        held: Least moves with the presets that the memories hold.
    """
    if least >= held:
        return None
    return (
        f"the report's least is {least}: it counts a preset that is in no memory as one press, "
        f"anywhere. With the presets that your memories hold the least is {held}: the walk and "
        f"the proof keep to that"
    )


_ANOTHER_MEMORY = (
    "You recall a preset that is in several memories from one that is not the nearest, which "
    "saves a bank step later"
)


def by_foot(rig: Rig, told: Mapping[str, Any]) -> str:
    """Say which sections of a song a walk plays so that no mapping can say it.

    A section that is mapped to another preset asks for that preset's channel; on the walk the amp
    may be on the section's own channel all the same. Where neither channel nor preset is otherwise,
    the walk steps the banks another way: a preset in several memories is then recalled from one
    that is not the nearest when it comes, and that spares a step later.

    Args:
        rig: The rig.
        told: What the plan of the route tells of the song under `by_foot`.
    """
    song = lookup(rig).songs[told["id"]]
    where = "; ".join(_unsaid(rig, song, told)) or _ANOTHER_MEMORY
    return visible(
        f"{song.label}: your feet can save {count(told['saved'], 'more move', 'more moves')} than "
        f"a plan can write into the song. {where}"
    )


def _unsaid(rig: Rig, song: Song, told: Mapping[str, Any]) -> Iterator[str]:
    presets = lookup(rig).presets
    for row in told["sections"]:
        at = row["section"]
        start = f"{at + 1} {song.sections[at].name}: "
        if row["preset"] is None:
            yield f"{start}sounds right with no preset recalled yet"
            continue
        preset, wanted = presets[row["preset"]], row["channel"]
        if row["sends"]:
            yield f"{start}on {preset.label}, which sends something else over MIDI"
            continue
        names = f"the channel {preset.channel}" if preset.channel else "no channel"
        said = f"{start}on {preset.label}, which names {names}"
        if wanted is None:
            said += ", though the section's own preset leaves the channel as it is"
        else:
            said += f", while the amp is on {wanted} as the section asks"
        yield said
