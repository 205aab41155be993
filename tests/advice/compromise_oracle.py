"""What to give up, by trying everything: every choice of sounds, every way to play each section.

It shares no code with the program: presses on one beat, prices and what is stored are counted here
from the plain data, by the words of docs/rig-file.md and docs/planning.md.
"""

from __future__ import annotations

import itertools
import random
from typing import Any, NamedTuple

from rigs_made import Data, loop, pedal, preset, section, setlist, song, switcher

SOFT = {"modulation": 0.5, "delay": 0.5}


class Sounding(NamedTuple):
    """One way to play a section."""

    preset: str
    loops: frozenset[int]
    """Loops that are in, toggles and all."""
    outside: frozenset[str]


def drawn_rig(seed: int) -> Data:
    """A small rig: more sounds than memories more often than not."""
    draw = random.Random(seed)
    kinds = ["overdrive", "modulation", "delay"]
    loops = [loop(n + 1, f"p{n}") for n in range(draw.randint(2, 3))]
    pedals = [pedal(f"p{n}", draw.choice(kinds)) for n in range(len(loops))]
    for each in pedals:
        if draw.random() < 0.3:
            each["price"] = draw.choice((0, 2, 5))
    outside = [f"o{n}" for n in range(draw.choice((0, 1, 1, 2)))]
    pedals += [pedal(name, "wah", use="foot") for name in outside]
    foot = draw.random() < 0.25
    toggling = draw.random() < 0.25
    presets = []
    masks = draw.sample(range(1 << len(loops)), draw.randint(3, 4))
    if draw.random() < 0.2:
        masks[-1] = masks[0]  # two presets that switch the same
    for nth, mask in enumerate(masks):
        numbers = [row["number"] for at, row in enumerate(loops) if mask >> at & 1]
        row = preset(f"s{nth}", *numbers, role=draw.choice(("rhythm", "rhythm", "lead")))
        if draw.random() < 0.4:
            row["channel"] = draw.choice(("clean", "drive"))
        presets.append(row)
    memories = draw.choice((1, 2, 2, 2, 3))
    for memory, row in enumerate(draw.sample(presets, min(memories, len(presets))), 1):
        row["memory"] = memory
    songs = []
    for nth in range(2):
        parts = []
        for _ in range(draw.choice((2, 3, 3))):
            part = section(draw.choice(presets)["id"], bars=draw.choice((1, 4, 8)))
            part["plus"] = [name for name in outside if draw.random() < 0.5]
            if toggling and draw.random() < 0.4:
                part[draw.choice(("plus", "minus"))] = ["p0"]
            for key in ("may", "early"):
                part[key] = [name for name in [*outside, "p0"] if draw.random() < 0.15]
            parts.append(part)
        songs.append(song(f"song{nth}", *parts))
    order = [draw.choice(songs)["id"] for _ in range(draw.randint(1, 3))]
    return {
        "format": 1,
        "name": "Drawn",
        "amp": {"channels": ["clean", "drive"], "channel_switch": "foot" if foot else "preset"},
        "switcher": switcher(memories, 4, loop_switches=toggling),
        "pedals": pedals,
        "loops": loops,
        "chain": {"front": [*outside, *[row["number"] for row in loops]]},
        "presets": presets,
        "songs": songs,
        "setlists": [setlist("night", *order)],
    }


def frontier(rig: Data, keep: str | None = None) -> list[tuple[float, int, int]]:
    """Price, sections that cannot be played, and extra presses of every step, cheapest first."""
    order = rig["setlists"][0]["sets"][0]["songs"]
    songs = [row for row in rig["songs"] if row["id"] in order]
    used = {part["preset"] for row in songs for part in row["sections"]}
    sound_of = {row["id"]: (frozenset(row["loops"]), row.get("channel")) for row in rig["presets"]}
    sounds = sorted({sound_of[preset] for preset in used}, key=str)
    stored = {row["id"] for row in rig["presets"] if "memory" in row}
    aside = keep is not None and sound_of[keep] not in sounds and keep in stored
    room = min(len(sounds), rig["switcher"]["memories"] - aside)
    needed = keep is not None and sound_of[keep] in sounds
    if needed:
        room = max(room, 1)
    ends: set[tuple[float, int, int]] = set()
    for kept in itertools.combinations(sounds, max(0, room)):
        if needed and sound_of[keep] not in kept:
            continue
        sums = {(0.0, 0, 0)}
        for row in songs:
            times = order.count(row["id"])
            sums = _lowest(
                {
                    (round(p + times * q, 6), u + times * v, e + times * f)
                    for p, u, e in sums
                    for q, v, f in _outcomes(rig, row, set(kept), sound_of, sounds, keep)
                }
            )
        ends |= sums
    return sorted(_lowest(ends))


def _lowest(points: set[tuple[float, int, int]]) -> set[tuple[float, int, int]]:
    kept: set[tuple[float, int, int]] = set()
    best = None
    for point in sorted(points):
        if best is None or point[1:] < best:
            kept.add(point)
            best = point[1:]
    return kept


def _outcomes(
    rig: Data, row: Data, kept: set[Any], sound_of: dict[str, Any], sounds: list[Any],
    keep: str | None,
) -> set[tuple[float, int, int]]:  # fmt: skip
    options = [_options(rig, row, part, kept, sound_of, sounds, keep) for part in row["sections"]]
    ends = set()
    for path in itertools.product(*options):
        price = sum(cost for _, cost, _ in path)
        lost = sum(gone for _, _, gone in path)
        ends.add((round(price, 6), lost, _extra(rig, row, [way for way, _, _ in path])))
    return ends


def _options(
    rig: Data, row: Data, part: Data, kept: set[Any], sound_of: dict[str, Any], sounds: list[Any],
    keep: str | None,
) -> list[tuple[Sounding, float, int]]:  # fmt: skip
    outside = {p["id"] for p in rig["pedals"] if p["kind"] == "wah"}
    asked = {name for other in row["sections"] for name in other["plus"]} & outside
    toggling = rig["switcher"]["loop_switches"]
    own = Sounding(
        part["preset"], _loops(rig, part, toggling), frozenset(part["plus"]) & frozenset(outside)
    )
    ways = {own}
    if part["preset"] != keep:
        for size in range(len(asked) + 1):
            ways |= {
                own._replace(outside=frozenset(on))
                for on in itertools.combinations(sorted(asked), size)
            }
        for preset_row in rig["presets"]:
            if sound_of[preset_row["id"]] not in sounds:
                continue
            for size in range(len(asked) + 1):
                for on in itertools.combinations(sorted(asked), size):
                    ways.add(
                        Sounding(preset_row["id"], frozenset(preset_row["loops"]), frozenset(on))
                    )
    options = []
    for way in ways:
        cost = _price(rig, part, own, way)
        if sound_of[way.preset] in kept:
            options.append((way, cost, 0))
        elif cost == 0:
            options.append((way, cost, 1))
    return options


def _loops(rig: Data, part: Data, toggling: bool) -> frozenset[int]:
    inside = {row["pedals"][0]: row["number"] for row in rig["loops"]}
    loops = set(next(p["loops"] for p in rig["presets"] if p["id"] == part["preset"]))
    if toggling:
        loops |= {inside[name] for name in part.get("plus", ()) if name in inside}
        loops -= {inside[name] for name in part.get("minus", ()) if name in inside}
    return frozenset(loops)


def _price(rig: Data, part: Data, own: Sounding, way: Sounding) -> float:
    inside = {row["number"]: row["pedals"][0] for row in rig["loops"]}
    presets = {row["id"]: row for row in rig["presets"]}
    differ = {inside[number] for number in own.loops ^ way.loops} | (own.outside ^ way.outside)
    each = 0.0
    for row in rig["pedals"]:
        if row["id"] in differ - set(part["may"]):
            each += row.get("price", SOFT.get(row["kind"], 1))
    channel = presets[own.preset].get("channel")
    if channel is not None and presets[way.preset].get("channel") != channel:
        each += 3
    lead = presets[own.preset]["role"] == "lead"
    return each * part["bars"] * (2 if lead else 1)


def _extra(rig: Data, row: Data, path: list[Sounding]) -> int:
    """Extra presses, by what has to be pressed on each beat."""
    presets = {preset["id"]: preset for preset in rig["presets"]}
    foot = rig["amp"]["channel_switch"] == "foot"
    channel = presets[path[0].preset].get("channel") or "clean"
    extra = 0
    for at, (before, after) in enumerate(itertools.pairwise(path), 1):
        parts = row["sections"][at - 1], row["sections"][at]
        waits = {*parts[0]["may"], *parts[1]["may"], *parts[1]["early"]}
        recalled = 1 + len(frozenset(presets[after.preset]["loops"]) ^ after.loops)
        pressed = recalled
        if before.preset == after.preset:
            pressed = min(recalled, len(before.loops ^ after.loops))
        pressed += len((before.outside ^ after.outside) - waits)
        named = presets[after.preset].get("channel")
        if foot and named is not None and named != channel:
            pressed, channel = pressed + 1, named
        extra += max(0, pressed - 1)
    return extra
