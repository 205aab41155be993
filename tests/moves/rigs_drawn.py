"""Hypothesis strategies that draw small rigs, bad references and odd cases included."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

Data = dict[str, Any]
CHANNELS = ("clean", "drive", "lead")


@st.composite
def rigs(
    draw: st.DrawFn,
    *,
    most_loops: int = 4,
    most_presets: int = 5,
    most_sections: int = 6,
    most_songs: int = 3,
    most_outside: int = 3,
    most_memories: int = 10,
    copies: bool = True,
) -> Data:
    """Plain data of a rig whose board is small enough to be searched state by state."""
    n_loops = draw(st.integers(1, most_loops))
    loops, pedals = [], []
    for number in range(1, n_loops + 1):
        inside = [f"p{number}{letter}" for letter in draw(st.sampled_from(("", "a", "a", "ab")))]
        loops.append({"number": number, "side": "front", "pedals": inside})
        pedals += [{"id": pedal, "kind": "other", "side": "front"} for pedal in inside]
    for at in range(draw(st.integers(0, most_outside))):
        outside: Data = {"id": f"o{at}", "kind": "wah", "side": "front"}
        outside |= draw(
            st.sampled_from(
                (
                    *({}, {}, {"use": "foot"}, {"use": "treadle"}),
                    *({"use": "always"}, {"use": "between"}, {"use": "home"}, {"kind": "tuner"}),
                )
            )
        )
        pedals.append(outside)
    board = draw(switchers(most_memories))
    presets = [
        draw(presets_of(f"s{at}", n_loops, board["memories"], copies))
        for at in range(draw(st.integers(1, most_presets)))
    ]
    songs = [
        draw(songs_of(f"song{at}", presets, pedals, most_sections))
        for at in range(draw(st.integers(1, most_songs)))
    ]
    amp = {"channels": draw(st.sampled_from(([], ["clean"], ["clean", "drive"])))}
    amp["channel_switch"] = draw(st.sampled_from(("preset", "foot")))
    ids = st.sampled_from([*(song["id"] for song in songs), "no-such-song"])
    sets = draw(st.lists(st.lists(ids, max_size=4), max_size=2))
    weight = draw(st.sampled_from((None, None, 0, 1, 2.5)))
    return {
        "format": 1,
        "name": "Drawn rig",
        "player": {} if weight is None else {"extra_press_weight": weight},
        "amp": amp,
        "switcher": board,
        "pedals": pedals,
        "loops": loops,
        "presets": presets,
        "songs": songs,
        "setlists": [{"id": "night", "sets": [{"songs": part} for part in sets]}],
    }


@st.composite
def switchers(draw: st.DrawFn, most_memories: int) -> Data:
    """A switcher of up to five banks, the last one often part-filled."""
    buttons = draw(st.sampled_from(("up", "up-down", "none")))
    size = draw(st.integers(1, 4))
    most = size if buttons == "none" else min(most_memories, 5 * size)
    return {
        "memories": draw(st.one_of(st.integers(1, most), st.integers(-(-most // 2), most))),
        "bank_size": size,
        "bank_buttons": buttons,
        "bank_wrap": buttons == "up" or draw(st.booleans()),
        "loop_switches": draw(st.booleans()),
    }


@st.composite
def presets_of(draw: st.DrawFn, id: str, n_loops: int, memories: int, copies: bool) -> Data:
    """A preset; its memory may be missing, out of range, or another preset's too."""
    mask = draw(st.integers(0, (1 << n_loops) - 1))
    row: Data = {"id": id, "loops": [at + 1 for at in range(n_loops) if mask >> at & 1]}
    odd = draw(st.integers(0, 19))
    if odd == 1:
        row["loops"].append(99)  # a loop that there is not
    if odd < 17:
        row["memory"] = draw(st.integers(1, memories))
    elif odd == 19:
        row["memory"] = memories + 1
    if copies and (odd < 4 or odd == 18):
        row["copies"] = draw(st.lists(st.integers(1, memories + 1), min_size=1, max_size=3))
    channel = draw(st.sampled_from((None, None, *CHANNELS)))
    if channel is not None:
        row["channel"] = channel
    if odd == 5:
        row["midi"] = [{"device": "echo", "program": draw(st.integers(1, 2))}]
    volume = draw(st.sampled_from((None, None, 4, 10)))
    if volume is not None:
        row["guitar_volume"] = volume
    return row


@st.composite
def songs_of(
    draw: st.DrawFn, id: str, presets: list[Data], pedals: list[Data], most_sections: int
) -> Data:
    """A song; sections may be unmapped, or name presets and pedals that there are not."""
    ids = [preset["id"] for preset in presets]
    names = st.lists(st.sampled_from([*(pedal["id"] for pedal in pedals), "ghost"]), max_size=2)
    section = st.fixed_dictionaries(
        {"name": st.just("Part"), "bars": st.just(4)},
        optional={
            "preset": st.sampled_from([*ids * 4, "no-such-preset"]),
            "plus": names,
            "minus": names,
            "may": names,
            "early": names,
            "hands": st.sampled_from(("", "bridge pickup", "palm mute")),
            "guitar_volume": st.sampled_from((4, 7)),
        },
    )
    mapped = st.builds(lambda row, id: row | {"preset": id}, section, st.sampled_from(ids))
    length = draw(st.integers(0, most_sections)) or draw(st.sampled_from((0, most_sections)))
    rows = [draw(st.one_of(section, mapped, mapped)) for _ in range(length)]
    song: Data = {"id": id, "tempo": 120, "sections": rows}
    for key, values in (("guitar", ("main", "spare")), ("tuning", ("E", "drop D"))):
        value = draw(st.sampled_from((None, None, *values)))
        if value is not None:
            song[key] = value
    return song


@st.composite
def crowded_rigs(draw: st.DrawFn, most_loops: int = 5, most_sections: int = 7) -> Data:
    """A rig with many ways to sound right: many presets, and sections that leave much open."""
    n_loops = draw(st.integers(3, most_loops))
    pedals = [f"p{number}" for number in range(1, n_loops + 1)]
    masks = st.integers(0, (1 << n_loops) - 1)
    memories = draw(st.integers(4, 9))
    presets = []
    for at in range(draw(st.integers(3, 9))):
        mask = draw(masks)
        row: Data = {"id": f"s{at}", "loops": [n + 1 for n in range(n_loops) if mask >> n & 1]}
        place = draw(st.integers(0, memories))
        row |= {"memory": place} if place else {}
        if draw(st.integers(0, 3)) == 0:
            row["copies"] = draw(st.lists(st.integers(1, memories), min_size=1, max_size=2))
        channel = draw(st.sampled_from((None, None, "clean", "drive")))
        row |= {} if channel is None else {"channel": channel}
        presets.append(row)
    sections = []
    for _ in range(draw(st.integers(2, most_sections))):
        free = draw(masks)
        sections.append(
            {
                "name": "Part",
                "bars": 4,
                "preset": draw(st.sampled_from([row["id"] for row in presets])),
                "may": [pedal for at, pedal in enumerate(pedals) if free >> at & 1],
            }
        )
    board: Data = {"memories": memories, "bank_size": draw(st.integers(1, 4))}
    board["bank_buttons"] = draw(st.sampled_from(("up", "up-down")))
    board["bank_wrap"] = board["bank_buttons"] == "up" or draw(st.booleans())
    board["loop_switches"] = draw(st.booleans())
    return {
        "format": 1,
        "name": "Crowded rig",
        "amp": {"channels": ["clean", "drive"]},
        "switcher": board,
        "pedals": [{"id": pedal, "kind": "other", "side": "front"} for pedal in pedals],
        "loops": [
            {"number": at, "side": "front", "pedals": [pedal]} for at, pedal in enumerate(pedals, 1)
        ],
        "presets": presets,
        "songs": [{"id": "song", "tempo": 120, "sections": sections}],
    }
