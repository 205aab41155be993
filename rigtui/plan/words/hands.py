"""What the hands do, where it is written otherwise with a plan, in words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

from rigtui.model.hands import HAND_KEYS, OWN_HANDS
from rigtui.model.rig import Preset, Rig
from rigtui.model.text import count, number_text, visible


def hand_steps(now: Rig, then: Rig) -> list[str]:
    """Where what the hands do is written now: presets that say less or more, and sections."""
    old = {preset.id: preset for preset in now.presets}
    new = {preset.id: preset for preset in then.presets}
    steps = []
    for preset in then.presets:
        was = old.get(preset.id)
        if was is None:
            continue
        gone = _said({key: getattr(was, key) for key in HAND_KEYS
                      if getattr(was, key) != getattr(preset, key)})  # fmt: skip
        more = _said({key: getattr(preset, key) for key in HAND_KEYS
                      if getattr(was, key) != getattr(preset, key)})  # fmt: skip
        label = visible(preset.label)
        if gone:
            steps.append(f"{label} no longer asks for {gone}: its sections ask for it themselves")
        if more:
            steps.append(f"{label} now asks for {more}")
    moved: Counter[tuple[str, str, str]] = Counter()
    before = {song.id: song for song in now.songs}
    for song in then.songs:
        first = before.get(song.id)
        if first is None or first is song:
            continue
        for section, will in zip(first.sections, song.sections):
            own = {key: getattr(will, key) for key in OWN_HANDS
                   if getattr(section, key) != getattr(will, key)}  # fmt: skip
            words = _said(own)
            if words:
                moved[_label(old, section.preset), _label(new, will.preset), words] += 1
    for (source, to, words), times in moved.items():
        whose = f"moved from {source} to {to}" if source != to else f"on {to}"
        keeps = "keeps its" if times == 1 else "keep their"
        steps.append(
            f"nothing changes for your hands: {count(times, 'section')} {whose} {keeps} own: "
            f"{words} (accepting the plan writes that into the file)"
        )
    return steps


def _label(presets: Mapping[str, Preset], preset: str | None) -> str:
    known = presets.get(preset or "")
    return visible(known.label if known is not None else preset or "no preset")


def _said(values: Mapping[str, Any]) -> str:
    """Keys of the hands in words: "volume 4, pickup neck"."""
    words = []
    if values.get("guitar_volume") is not None:
        words.append(f"volume {number_text(values['guitar_volume'])}")
    if values.get("pickup"):
        words.append(f"pickup {visible(values['pickup'])}")
    for key in ("hands", "preset_hands"):
        if values.get(key):
            words.append(f'"{visible(values[key].replace(chr(10), " "))}"')
    for key in values.get("ignores", ()):
        words.append(f"not the preset's {key.replace('_', ' ')}")
    return ", ".join(words)
