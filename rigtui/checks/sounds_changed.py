"""What a change of the board does to the sounds of the sections and to the presets, in words."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from rigtui.model import Rig
from rigtui.model.lookup import lookup
from rigtui.model.rig import Section, Song
from rigtui.model.text import count, listed

_MOST_NAMED = 3
"""Presets that are named; more are counted."""


def sounds_changed(before: Rig, after: Rig) -> list[str]:
    """Say which pedals sections lose or get, a line for each pedal, losses first.

    Args:
        before: The rig as it is.
        after: The same songs and sections on a changed board.
    """
    lost, blocked, got = (defaultdict[str, list[str]](list) for _ in range(3))
    for song, old, new in _sections(before, after):
        was, will_be = set(lookup(before).sound(old)), set(lookup(after).sound(new))
        for pedal in was - will_be:
            (blocked if pedal in new.plus else lost)[pedal].append(song.id)
        for pedal in will_be - was:
            got[pedal].append(song.id)
    order = {pedal: at for at, pedal in enumerate((*lookup(before).order, *lookup(after).order))}
    lines = []
    for words, songs_of in (
        ("can't switch {} on any more", blocked),
        ("lose{s} {}", lost),
        ("get{s} {}, which is not on there today", got),
    ):
        for pedal in sorted(songs_of, key=order.__getitem__):
            known = lookup(before) if pedal in lookup(before).pedals else lookup(after)
            if known.pedals[pedal].kind != "tuner":  # silence is no sound
                places = songs_of[pedal]
                said = words.format(known.label(pedal), s="s" if len(places) == 1 else "")
                lines.append(f"{_where(places)} {said}")
    return lines


def _sections(before: Rig, after: Rig) -> Iterator[tuple[Song, Section, Section]]:
    songs = lookup(after).songs
    for song in before.songs:
        if song.id in songs:
            for old, new in zip(song.sections, songs[song.id].sections):
                yield song, old, new


def _where(song_ids: list[str]) -> str:
    """Say "15 sections of 8 songs"."""
    return f"{count(len(song_ids), 'section')} of {count(len(set(song_ids)), 'song')}"


def loops_emptied(before: Rig, after: Rig) -> list[str]:
    """Say of each loop left empty which presets no longer switch it on."""
    lines = []
    for loop in before.loops:
        left = lookup(after).loops.get(loop.number)
        if not loop.pedals or left is None or left.pedals:
            continue
        presets = [
            preset.label
            for preset in before.presets
            if loop.number in preset.loops
            and preset.id in lookup(after).presets
            and loop.number not in lookup(after).presets[preset.id].loops
        ]
        few = len(presets) <= _MOST_NAMED
        who = listed(presets) if few else count(len(presets), "preset")
        if who:
            verb = "switches" if len(presets) == 1 else "switch"
            lines.append(f"loop {loop.number} will be empty, and {who} {verb} it off")
    return lines
