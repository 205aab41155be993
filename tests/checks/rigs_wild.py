"""Hypothesis strategies for rigs that load and are wrong in every other way, and for tidy ones."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st
from moves.rigs_drawn import Data, rigs

KINDS = ("tuner", "fuzz", "overdrive", "boost", "gate", "delay", "reverb", "pitch", "buffer", "wah")
ROLES = ("clean", "rhythm", "high-gain", "lead", "ambient", "other")
SIDES = st.sampled_from(("front", "front", "fx"))
RULE_IDS = ("unmapped", "move-outside", "stale-waiver", "gate-on-cleen", "")


@st.composite
def tidy_rigs(draw: st.DrawFn) -> Data:
    """A drawn rig whose chain holds each loop and outside pedal once, the loops side by side."""
    data = draw(rigs(most_loops=4, most_presets=6))
    homes = [pedal for loop in data["loops"] for pedal in loop["pedals"]]
    outside = [pedal["id"] for pedal in data["pedals"] if pedal["id"] not in homes]
    split = draw(st.integers(0, len(outside)))
    numbers = draw(st.permutations([loop["number"] for loop in data["loops"]]))
    data["chain"] = {"front": [*outside[:split], *numbers, *outside[split:]]}
    for row in data["pedals"]:
        row["kind"] = draw(st.sampled_from(KINDS))
    for row in data["presets"]:
        row |= draw(_some(pickup=st.sampled_from(("neck", "bridge")), role=st.sampled_from(ROLES)))
    data["switcher"]["between_loops"] = draw(st.booleans())
    return data


@st.composite
def doubled_rigs(draw: st.DrawFn) -> Data:
    """A tidy rig whose presets go in pairs with and without the one pedal of loop 1."""
    data = draw(tidy_rigs())
    gone = set(data["loops"][0]["pedals"])
    data["loops"][0]["pedals"] = ["p1a"]
    data["pedals"] = [row for row in data["pedals"] if row["id"] not in gone]
    data["pedals"].append({"id": "p1a", "kind": draw(st.sampled_from(KINDS[1:])), "side": "front"})
    pairs = {}
    for row in data["presets"][:3]:
        twin = {**row, "id": f"{row['id']}-too", "loops": [n for n in row["loops"] if n != 1]}
        twin["loops"] += [] if 1 in row["loops"] else [1]
        twin["memory"] = draw(st.integers(1, data["switcher"]["memories"]))
        twin |= draw(_some(guitar_volume=st.sampled_from((3, 10)), hands=st.just("palm mute")))
        pairs[row["id"]] = twin["id"]
        data["presets"].insert(draw(st.integers(0, len(data["presets"]))), twin)
    for song in data["songs"]:
        for section in song["sections"]:
            if section.get("preset") in pairs and draw(st.booleans()):
                section["preset"] = pairs[section["preset"]]
    return data


@st.composite
def wild_rigs(draw: st.DrawFn) -> Data:
    """A rig with pedals in several places, sides crossed, names of nothing, and waivers of it."""
    data = draw(tidy_rigs())
    names = [pedal["id"] for pedal in data["pedals"]] + ["ghost", "p1"]
    numbers = [loop["number"] for loop in data["loops"]] + [98]
    for row in data["pedals"]:
        row |= draw(
            _some(
                side=SIDES,
                name=st.sampled_from(("Wah", "[b]\x1b[2J", "p1a", "Ghost")),
                low_impedance=st.booleans(),
                buffered=st.booleans(),
                use=st.sampled_from(("foot", "always", "between")),
            )
        )
    for row in data["loops"]:
        row |= draw(_some(side=SIDES, pedals=st.lists(st.sampled_from(names), max_size=3)))
    for row in data["presets"]:
        row |= draw(_some(name=st.sampled_from(("", "Lead", "Lead wide", "lead")), hands=st.text()))
    items = st.lists(st.sampled_from([*names, *numbers, *numbers]), max_size=8)
    data["chain"] |= draw(_some(front=items, fx=items))
    data["amp"] |= draw(
        _some(
            fx_loop=st.booleans(), drive_channels=st.lists(st.sampled_from(("drive", "ghost", "")))
        )
    )
    if draw(st.integers(0, 5)) == 0:
        del data["switcher"]
    else:
        data["switcher"] |= draw(
            _some(display_chars=st.integers(1, 6), switch_spacing_mm=st.floats(1, 100))
        )
    places = [f"pedals.{name}" for name in names] + ["switcher", "presets.s0", "presets.s1", "x"]
    waiver = st.fixed_dictionaries(
        {"rule": st.sampled_from(RULE_IDS), "where": st.sampled_from(places)}
    )
    data["waivers"] = draw(st.lists(waiver, max_size=3))
    return data | draw(benches([*names, "Switcher", "a b", ""]))


@st.composite
def benches(draw: st.DrawFn, devices: list[str]) -> Data:
    """Tables of the bench: devices anywhere, jacks of any name, leads to anywhere."""
    mm = st.one_of(st.sampled_from((0, 10, 120)), st.floats(-5000, 10_000))
    size = st.one_of(st.sampled_from((70, 400)), st.floats(0.01, 5000))
    jacks = st.sampled_from(("in", "out", "send 1", "return 1", "front input", "x", ""))
    side = st.sampled_from(("left", "right", "front", "back", "top"))
    spot = st.fixed_dictionaries(
        {"jack": jacks, "side": side}, optional={"at_mm": st.floats(0, 5000)}
    )
    known = _some(x_mm=mm, y_mm=mm, width_mm=size, depth_mm=size, row=side,
                  turn=st.sampled_from((0, 90, 180, 270)), pitch_mm=st.floats(0.1, 500),
                  jacks=st.lists(spot, max_size=2))  # fmt: skip
    placed = draw(st.lists(st.sampled_from(devices), unique=True, max_size=6))
    end = st.builds("{} {}".format, st.sampled_from(devices), jacks)
    contact = st.sampled_from(("open", "closed"))
    lead = st.fixed_dictionaries(
        {"out": end, "into": end},
        optional={"route_mm": size, "length_mm": size, "tip": contact, "sleeve": contact,
                  "across": contact, "ohms": st.floats(0, 10)},
    )  # fmt: skip
    return {
        "bench": draw(_some(width_mm=size, depth_mm=size, cable_mm=st.floats(0.1, 20),
                            kerf_mm=st.floats(0, 20), step_mm=st.floats(0.1, 100),
                            shapes=st.lists(st.sampled_from(("flat", "straight")), max_size=2))),
        "places": [{"device": device, **draw(known)} for device in placed],
        "holes": draw(st.lists(_some(x_mm=mm, y_mm=mm), max_size=3)),
        "reels": draw(st.lists(st.fixed_dictionaries({"left_mm": size}), max_size=3)),
        "patch_leads": draw(st.lists(lead, max_size=4)),
    }  # fmt: skip


def _some(**keys: st.SearchStrategy[Any]) -> st.SearchStrategy[Data]:
    return st.fixed_dictionaries({}, optional=keys)
