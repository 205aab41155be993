"""Any rig comes back the same from its own plain data, also by way of a TOML file's text."""

from __future__ import annotations

import tomllib
from typing import Any

import tomli_w
from hypothesis import given
from hypothesis import strategies as st

from rigtui.model import rig_from_data, rig_to_data

Data = dict[str, Any]

ids = st.from_regex(r"[a-z0-9][a-z0-9-]{0,8}", fullmatch=True)
# TOML text holds any Unicode character but lone surrogates (category Cs).
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
meters = st.builds("{}/{}".format, st.integers(1, 64), st.sampled_from((1, 2, 4, 8, 16, 32, 64)))


def numbers(low: float, high: float, **more: Any) -> st.SearchStrategy[float]:
    return st.one_of(
        st.integers(int(low) + 1, int(high) - 1), st.floats(low, high, width=64, **more)
    )


def table(must: Data, may: Data) -> st.SearchStrategy[Data]:
    return st.fixed_dictionaries(must, optional=may)


def rows(strategy: st.SearchStrategy[Data], key: str = "id") -> st.SearchStrategy[list[Data]]:
    return st.lists(strategy, max_size=3, unique_by=lambda row: row[key])


tempos = numbers(0.001, 1000)
volumes = numbers(0, 10)
sides = st.sampled_from(("front", "fx"))
names = st.lists(texts, max_size=3)
amps = table(
    {},
    {
        "name": texts,
        "fx_loop": st.booleans(),
        "channels": names,
        "channel_switch": st.sampled_from(("preset", "foot")),
        "drive_channels": names,
    },
)
switchers = table(
    {"memories": st.integers(1, 128), "bank_size": st.integers(1, 128)},
    {
        "name": texts,
        "bank_buttons": st.just("up-down"),
        "bank_wrap": st.booleans(),
        "loop_switches": st.booleans(),
        "between_loops": st.booleans(),
        "tuner_out": st.booleans(),
        "switch_spacing_mm": numbers(1, 1000),
        "display_chars": st.integers(1, 100),
    },
)
pedals = table(
    {"id": ids, "kind": st.sampled_from(("tuner", "wah", "delay", "other")), "side": sides},
    {
        "name": texts,
        "use": st.sampled_from(("foot", "treadle", "always", "between", "home")),
        "delay_ms": numbers(1, 60_000),
        "feedback": st.floats(0, 1, exclude_max=True),
        "tap": st.booleans(),
        "subdivision": meters,
        "price": numbers(0, 1000),
        "decay_seconds": numbers(0.1, 600),
        "trails": st.booleans(),
        "note": texts,
    },
)
loops = table({"number": st.integers(1, 99), "side": sides}, {"pedals": names})
chains = table({}, {key: st.lists(st.one_of(ids, st.integers(1, 99))) for key in ("front", "fx")})
data_bytes = st.integers(0, 127)
controls = table({"number": data_bytes, "value": data_bytes}, {})
sends = table(
    {"device": ids},
    {
        "bank_msb": data_bytes,
        "program": st.integers(0, 128),
        "controls": st.lists(controls, max_size=2),
    },
)
presets = table(
    {"id": ids},
    {
        "name": texts,
        "role": st.sampled_from(("clean", "lead", "other")),
        "loops": st.lists(st.integers(1, 99), max_size=4),
        "memory": st.integers(1, 9999),
        "copies": st.lists(st.integers(1, 9999), max_size=3),
        "channel": texts,
        "guitar_volume": volumes,
        "pickup": texts,
        "hands": texts,
        "midi": st.lists(sends, max_size=2),
        "note": texts,
    },
)
sections = table(
    {"name": texts, "bars": numbers(0.25, 1000)},
    {
        "preset": ids,
        "plus": names,
        "minus": names,
        "may": names,
        "early": names,
        "wanted": table({}, {"pedals": names, "channel": texts}),
        "hands": texts,
        "hands_seconds": numbers(0, 3600),
        "tempo": tempos,
        "meter": meters,
        "beat": meters,
        "rest_beats": numbers(0, 100),
        "guitar_volume": volumes,
        "pickup": texts,
        "cue": texts,
        "until": texts,
    },
)
songs = table(
    {"id": ids, "tempo": tempos},
    {
        "title": texts,
        "meter": meters,
        "beat": meters,
        "guitar": texts,
        "tuning": texts,
        "capo": st.integers(0, 24),
        "gap_seconds": numbers(0, 7200),
        "click": st.booleans(),
        "sections": st.lists(sections, max_size=3),
        "note": texts,
    },
)
sets = table({"songs": st.lists(ids, max_size=3)}, {"name": texts, "slot_minutes": numbers(1, 90)})
setlists = table(
    {"id": ids},
    {"name": texts, "date": st.dates(), "sets": st.lists(sets, max_size=2), "note": texts},
)
players = table(
    {},
    {
        "press_seconds": numbers(0, 3600),
        "lead_in_beats": numbers(0, 64),
        "moves_allowed": st.integers(0, 20),
        "tail_floor_db": numbers(1, 120),
        "extra_press_weight": numbers(0, 1000),
        "click": st.booleans(),
        "shoe_mm": numbers(1, 300),
    },
)
devices = table(
    {"id": ids, "channel": st.integers(1, 16)},
    {"name": texts, "counts_from": st.integers(0, 1), "load_ms": numbers(0, 60_000)},
)
waivers = table({"rule": texts, "where": texts}, {"reason": texts})
printed = table(
    {
        "sheet": st.sampled_from(("floor", "program", "wiring", "rehearsal", "deputy")),
        "revision": texts,
    },
    {"setlist": texts, "date": st.dates()},
)
rigs = table(
    {"format": st.just(1), "name": texts},
    {
        "note": texts,
        "deputy_note": texts,
        "amp": amps,
        "switcher": switchers,
        "pedals": rows(pedals),
        "loops": rows(loops, "number"),
        "chain": chains,
        "presets": rows(presets),
        "songs": rows(songs),
        "setlists": rows(setlists),
        "player": players,
        "waivers": st.lists(waivers, max_size=2),
        "midi": rows(devices),
        "printed": st.lists(printed, max_size=2),
    },
)


@given(rigs)
def test_round_trip(data: Data) -> None:
    """A rig made of data, made into data again, is the same data and the same rig."""
    rig = rig_from_data(data)
    again = rig_to_data(rig)
    assert again == data
    assert rig_from_data(again) == rig


@given(rigs)
def test_round_trip_through_toml(data: Data) -> None:
    """The plain data of a rig holds nothing that TOML cannot (independent writer: tomli-w)."""
    rig = rig_from_data(data)
    assert rig_from_data(tomllib.loads(tomli_w.dumps(rig_to_data(rig)))) == rig
