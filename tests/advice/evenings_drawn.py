"""Rigs such as people play: an evening of songs, a few too many sounds, a pedal under the foot."""

from __future__ import annotations

import random
from typing import Any

from rigs_made import Data, loop, make_data, pedal, preset, section, setlist, song, switcher

_INSIDE = (
    ("squash", "compressor", "front"),
    ("low", "overdrive", "front"),
    ("high", "distortion", "front"),
    ("gate", "gate", "front"),
    ("wide", "modulation", "fx"),
    ("echo", "delay", "fx"),
    ("room", "reverb", "fx"),
)
_ROLES = ("clean", "rhythm", "rhythm", "lead", "ambient")
_NAMES = ("Intro", "Verse", "Chorus", "Verse", "Chorus", "Bridge", "Solo", "Chorus", "Outro")


def drawn_evening(seed: int) -> Data:
    """A rig of five to seven loops and an evening of a few songs."""
    draw = random.Random(seed)
    inside = [row for row in _INSIDE if draw.random() < 0.85]
    loops = [loop(n, row[0], side=row[2]) for n, row in enumerate(inside, 1)]
    pedals = [_pedal(draw, *row) for row in inside]
    if draw.random() < 0.4:
        loops.append(loop(len(loops) + 1, side="front"))
    outside = [row for row in (("wah", "wah"), ("lift", "boost")) if draw.random() < 0.7]
    pedals += [pedal(name, kind, side="front") for name, kind in outside]
    memories = draw.choice((4, 6, 8, 8, 12))
    presets = _presets(draw, loops, memories)
    songs = [_song(draw, f"song{n}", presets, [row[0] for row in outside]) for n in range(6)]
    order = draw.sample([row["id"] for row in songs], draw.randint(3, 6))
    front = [row[0] for row in outside]
    front += [row["number"] for row in loops if row["side"] == "front"]
    fx = [row["number"] for row in loops if row["side"] == "fx"]
    return make_data(
        amp={
            "channels": ["clean", "drive"],
            "channel_switch": draw.choice(("preset", "preset", "foot")),
            "fx_loop": True,
        },
        switcher=switcher(memories, 4, loop_switches=draw.random() < 0.2),
        pedals=pedals,
        loops=loops,
        chain={"front": front, "fx": fx},
        presets=presets,
        songs=songs,
        setlists=[setlist("night", *order)],
    )


def _pedal(draw: random.Random, name: str, kind: str, side: str) -> dict[str, Any]:
    more: dict[str, Any] = {}
    if kind == "delay":
        more = {"delay_ms": draw.choice((350, 400, 500)), "max_delay_ms": 800, "feedback": 0.4}
    if kind == "reverb":
        more = {"decay_seconds": draw.choice((1.5, 4))}
    return pedal(name, kind, side=side, **more)


def _presets(
    draw: random.Random, loops: list[dict[str, Any]], memories: int
) -> list[dict[str, Any]]:
    numbers = [row["number"] for row in loops if row["pedals"]]
    rows, seen = [], set()
    for nth in range(draw.randint(4, 9)):
        on = tuple(sorted(draw.sample(numbers, draw.randint(0, min(3, len(numbers))))))
        channel = draw.choice(("clean", "drive"))
        if (on, channel) not in seen:
            seen.add((on, channel))
            rows.append(preset(f"s{nth}", *on, role=draw.choice(_ROLES), channel=channel))
    homes = draw.sample(range(1, memories + 1), min(len(rows), memories))
    for row, memory in zip(rows, homes):
        row["memory"] = memory
    return rows


def _song(
    draw: random.Random, name: str, presets: list[dict[str, Any]], outside: list[str]
) -> dict[str, Any]:
    used = draw.sample(presets, min(len(presets), draw.randint(2, 4)))
    sections = []
    for title in _NAMES[: draw.randint(4, 9)]:
        more: dict[str, Any] = {"name": title, "bars": draw.choice((1, 4, 8, 8))}
        more["plus"] = [pedal for pedal in outside if draw.random() < 0.25]
        if draw.random() < 0.15:
            more["rest_beats"] = 2
        sections.append(section(draw.choice(used)["id"], **more))
    extra: dict[str, Any] = {"capo": draw.choice((0, 2))} if draw.random() < 0.3 else {}
    if draw.random() < 0.3:
        extra["gap_seconds"] = draw.choice((0, 5, 20))
    return song(name, *sections, tempo=draw.choice((66, 96, 120, 140)), **extra)
