"""A rig far larger than an evening's, made the same way every time."""

from __future__ import annotations

import random
from typing import Any

from rigs_made import Data, loop, make_data, pedal, preset, section, setlist, song, switcher

SONGS, SECTIONS, LOOPS, PRESETS = 500, 9, 12, 20
_KINDS = (
    "compressor", "fuzz", "overdrive", "distortion", "boost", "gate",
    "eq", "modulation", "tremolo", "delay", "reverb", "other",
)  # fmt: skip
_ROLES = ("clean", "rhythm", "high-gain", "lead", "ambient")
_SETS, _SONGS_IN_SET = 4, 15
_NAMES = ("Intro", "Verse", "Chorus", "Verse", "Chorus", "Bridge", "Solo", "Chorus", "Outro")


def big_data(songs: int = SONGS, seed: int = 1) -> Data:
    """Plain data of a rig of 500 songs of nine sections, 12 loops and 20 presets."""
    chance = random.Random(seed)
    front = LOOPS // 2
    loops = range(1, LOOPS + 1)
    side = {number: "front" if number <= front else "fx" for number in loops}
    pedals = [pedal("tuner", "tuner"), pedal("wah", "wah")]
    pedals += [pedal(f"pedal-{n}", kind, side[n], **_times(kind)) for n, kind in zip(loops, _KINDS)]
    return make_data(
        amp={"channels": ["clean", "drive"], "drive_channels": ["drive"]},
        switcher=switcher(memories=20, bank_size=4),
        pedals=pedals,
        loops=[loop(n, f"pedal-{n}", side=side[n]) for n in loops],
        chain={"front": ["tuner", "wah", *loops[:front]], "fx": list(loops[front:])},
        presets=[_preset(n, chance) for n in range(1, PRESETS + 1)],
        songs=[_song(n, chance) for n in range(1, songs + 1)],
        setlists=[_evening(n, songs, chance) for n in range(1, 5)],
    )


def one_long_evening(songs: int = SONGS) -> Data:
    """The same with one setlist more, the first, that plays every song."""
    data = big_data(songs)
    every = [song["id"] for song in data["songs"]]
    data["setlists"].insert(0, {"id": "all", "sets": [{"name": "All", "songs": every}]})
    return data


def _times(kind: str) -> Data:
    more: dict[str, Data] = {
        "delay": {"delay_ms": 400, "feedback": 0.3},
        "reverb": {"decay_seconds": 2.0},
    }
    return more.get(kind, {})


def _preset(number: int, chance: random.Random) -> Data:
    loops = [n for n in range(1, LOOPS + 1) if chance.random() < 0.3]
    role = _ROLES[number % len(_ROLES)]
    channel = chance.choice(("clean", "drive"))
    return preset(f"preset-{number}", *loops, role=role, memory=number, channel=channel)


def _song(number: int, chance: random.Random) -> Data:
    parts: list[Any] = []
    sounds = chance.sample(range(1, PRESETS + 1), 4)
    for at in range(SECTIONS):
        more: Data = {"name": _NAMES[at], "bars": chance.choice((4, 8, 16))}
        if chance.random() < 0.1:
            more["plus"] = ["wah"]
        if chance.random() < 0.1:
            more["hands"] = "bridge pickup"
        parts.append(section(f"preset-{sounds[at % 4]}", **more))
    return song(f"song-{number}", *parts, tempo=chance.randrange(70, 180))


def _evening(number: int, songs: int, chance: random.Random) -> Data:
    evening = setlist(f"night-{number}")
    evening["sets"] = [
        {
            "name": f"Set {at}",
            "songs": [f"song-{chance.randint(1, songs)}" for _ in range(_SONGS_IN_SET)],
        }
        for at in range(1, _SETS + 1)
    ]
    return evening
