"""Presets that songs use: how many, how many that differ to the switcher."""

from __future__ import annotations

from collections.abc import Iterable

from rigtui.model.edits.folding import Switched, switched
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig
from rigtui.model.text import count, listed, visible


def distinct_presets(rig: Rig, ids: Iterable[str]) -> list[list[str]]:
    """Ids of presets, those together that switch the same loops and channel."""
    known = lookup(rig)
    same: dict[Switched, list[str]] = {}
    for preset_id in ids:
        same.setdefault(switched(known.presets[preset_id]), []).append(preset_id)
    return list(same.values())


def presets_in_words(rig: Rig, ids: Iterable[str]) -> str:
    """Say "11 presets (10 distinct: Rock and Rolled Back switch the same)"."""
    groups = distinct_presets(rig, ids)
    text = count(sum(map(len, groups)), "preset")
    labels = lookup(rig).presets
    twins = [
        f"{listed(visible(labels[preset_id].label) for preset_id in group)} switch the same"
        for group in groups
        if len(group) > 1
    ]
    return f"{text} ({len(groups)} distinct: {'; '.join(twins)})" if twins else text
