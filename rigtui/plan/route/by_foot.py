"""What a walk has over the songs as a plan can write them, in the player's words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from rigtui.model.rig import Rig, Song
from rigtui.model.text import count, visible
from rigtui.moves import board_of
from rigtui.plan.route.walk import Leg


def least_note(least: int, held: int) -> str | None:
    """Say why a plan is measured by more than the report's least moves; None where it is not.

    Args:
        least: Least moves by the rules, which recall a preset without a memory like any other.
        held: Least moves with the presets that the memories hold.
    """
    if least >= held:
        return None
    return (
        f"Least by the rules {least}: they count a preset that no memory holds as one press, "
        f"anywhere. Least with the presets that your memories hold {held}: the walk and what is "
        f"proved keep to that"
    )


def by_foot(rig: Rig, song: Song, places: Sequence[int], legs: Sequence[Leg], saved: int) -> str:
    """Say which sections a walk plays so that no mapping can say it.

    A section that is mapped to another preset asks for that preset's channel; on the walk the amp
    may be on the section's own channel all the same.

    Args:
        rig: The rig.
        song: The song.
        places: Its sections that the walk leads to.
        legs: How it leads to them.
        saved: Moves that the walk needs less than the song as planned.
    """
    where = "; ".join(_unsaid(rig, song, places, legs))
    return visible(
        f"{song.label}: your feet can save {count(saved, 'more move', 'more moves')} than a plan "
        f"can write into the song. {where}"
    )


def _unsaid(rig: Rig, song: Song, places: Sequence[int], legs: Sequence[Leg]) -> Iterator[str]:
    board = board_of(rig)
    for at, leg in zip(places, legs):
        section = song.sections[at]
        target = board.target(section)
        if target is None:
            continue
        if leg.recalled is None:
            yield f"{at + 1} {section.name}: sounds right with no preset recalled yet"
            continue
        wanted, names = target.preset.channel, board.stored[leg.recalled].channel
        if wanted == names or (wanted is None and not board.foot_channel):
            continue
        label = rig.presets[leg.recalled].label
        said = f"{at + 1} {section.name}: on {label}, which names "
        said += "no channel" if names is None else f"the channel {names}"
        if wanted is None:
            said += ", though the section's own preset leaves the channel as it is"
        else:
            said += f", while the amp is on {wanted} as the section asks"
        yield said
