"""Why a plan is as it is, in sentences."""

from __future__ import annotations

from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed, visible
from rigtui.moves import Presses, count_kind
from rigtui.moves.words import presses_in_words
from rigtui.plan.ask.result import Plan
from rigtui.plan.insight.explain import ChangeReason, PedalReason, PresetReason

_MOST_SONGS = 4


def of_pedal(rig: Rig, reason: PedalReason) -> str:
    """Say what a pedal costs in a loop and outside."""
    label = visible(lookup(rig).label(reason.pedal))
    if reason.always == "on":
        return f"{label} is on in every section: left on outside a loop, it costs nothing"
    if reason.always == "off":
        return f"{label} is off in every section"
    within, without = reason.all_in, reason.all_out
    if within is None and without is None:
        return f"{label}: no layout was found either way"
    none = "no layout has it" if reason.proved else "no layout was found with it"
    if within is None:
        return f"{label} must stay outside: {none} in a loop ({count(without or 0, 'move')})"
    if without is None:
        return f"{label} must be in a loop: {none} outside ({count(within, 'move')})"
    both = f"in a loop {count(within, 'move')}, outside {without}"
    if (reason.moves_in, reason.moves_out) != (within, without):
        both += f" ({reason.moves_in} and {reason.moves_out} without bank steps)"
    if not reason.proved:
        both += ", as far as was searched"
    less = without - within
    if not less:
        return f"{label} makes no difference: {both}"
    better = "earns its loop" if less > 0 else "is better outside"
    return f"{label} {better} by {count(abs(less), 'move')}: {both}"


def of_preset(rig: Rig, reason: PresetReason) -> str:
    """Say what a preset is for."""
    known = lookup(rig)
    label = known.presets[reason.preset].label
    if not reason.sections:
        return visible(f"{label}: no section uses it")
    songs = ", ".join(known.songs[song].label for song in reason.songs[:_MOST_SONGS])
    said = (
        f"{label}: {count(len(reason.sections), 'section')} of {count(len(reason.songs), 'song')} "
        f"({songs}{', ...' if len(reason.songs) > _MOST_SONGS else ''})"
    )
    return visible(said if reason.of_use else f"{said}, none of them in these setlists")


def of_change(rig: Rig, reason: ChangeReason) -> str:
    """Say what a change costs, and why it is not cheaper."""
    song = lookup(rig).songs[reason.song]
    section = song.sections[reason.section]
    words = presses_in_words(rig, section, reason.presses)
    return visible(
        f"{song.label}, section {reason.section + 1} ({section.name}): "
        f"{count(reason.moves, 'move')} ({', '.join(words)}): {_forced(rig, reason.presses)}"
    )


def _forced(rig: Rig, presses: Presses) -> str:
    """What the presses of a change are there for."""
    known = lookup(rig)
    outside = [known.label(str(press.what)) for press in presses if press.kind == "pedal"]
    loops, steps = count_kind(presses, "loop"), count_kind(presses, "bank")
    parts = []
    if steps:
        parts.append(f"the preset is {count(steps, 'bank')} away")
    if loops:
        parts.append(f"{count(loops, 'loop')} toggled, as no preset has this sound")
    if outside:
        parts.append(f"{listed(outside)} outside the loops")
    if count_kind(presses, "channel"):
        parts.append("the amp's channel has a switch of its own")
    return "; ".join(parts)


_OF_PEDALS = (
    "These are quick estimates: a plan with the pedal pinned looks longer and may find less. The "
    "report may advise otherwise on a pedal: it takes that one pedal out and leaves all other "
    "loops, presets and memories as they are"
)
_OF_CHANGES = (
    "Recalling a preset is one press, however many loops it switches; what is named here "
    "comes on top"
)
_TITLES = (
    (
        "pedals",
        "In a loop or outside: the fewest moves found",
        _OF_PEDALS,
    ),
    ("presets", "What each preset is for", ""),
    ("changes", "What the worst changes cost", _OF_CHANGES),
)


def reasons_in_words(explained: Plan) -> list[tuple[str, list[str]]]:
    """What an explanation says, under a heading for each kind of thing."""
    said = []
    for key, title, more in _TITLES:
        texts = [row["sentence"] for row in explained.details.get(key, ())]
        said.append((title, [*texts, more] if texts and more else texts))
    return said
