"""The time line of a song: where presets come in, with what lead, and what rounding does."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rigs_made import make_rig, preset, section, setlist, song
from sheets.midi_readers import by_midicsv, by_mido, seconds_of

from rigtui.model import Rig
from rigtui.moves.clock import section_seconds
from rigtui.sheets.midi import ascii_text, midi_bytes
from rigtui.sheets.timeline import TICKS, Meter, Tempo, Timeline, setlist_timeline, song_timeline


def seconds_at(line: Timeline, ticks: Sequence[int]) -> list[float]:
    """Return when ticks come, in seconds from the start; the ticks must be in order."""
    seconds, passed, tempo = [], Fraction(0), Tempo(0, 500_000)
    waiting = iter(line.tempi)
    following = next(waiting, None)
    for tick in ticks:
        while following is not None and following.tick <= tick:
            passed += Fraction((following.tick - tempo.tick) * tempo.microseconds, TICKS)
            tempo, following = following, next(waiting, None)
        here = passed + Fraction((tick - tempo.tick) * tempo.microseconds, TICKS)
        seconds.append(float(here / 1_000_000))
    return seconds


def rig_of(*sections: object, presets: object = None, **more: object) -> Rig:
    """A rig of one song at 120 and three presets that send programs 1, 2 and 3."""
    made = [preset(name, midi=[{"device": "echo", "program": at}])
            for at, name in enumerate(("a", "b", "c"), 1)]  # fmt: skip
    return make_rig(
        midi=[{"id": "echo", "channel": 1}],
        presets=presets or [*made, preset("silent")],
        songs=[song("s", *sections, **more)],  # type: ignore[arg-type]
    )


def cues(rig: Rig, lead_ms: float = 0) -> list[tuple[int, str]]:
    """Tick and preset of each cue of the rig's song."""
    return [(cue.tick, cue.preset.id) for cue in song_timeline(rig, rig.songs[0], lead_ms).cues]


BAR = 4 * TICKS


def test_a_preset_is_sent_where_it_comes_in() -> None:
    """Once, not again while it stays; unmapped and unknown presets leave it in force."""
    rig = rig_of("a", "a", section(), section("gone"), "a", "b", "silent", "b")
    assert cues(rig) == [(0, "a"), (5 * 4 * BAR, "b"), (7 * 4 * BAR, "b")]


@pytest.mark.parametrize(
    ("lead_ms", "ticks"),
    [
        (0, [0, 4 * BAR, 8 * BAR]),
        (20, [0, 4 * BAR - 19, 8 * BAR - 19]),  # 20 ms at 120 are 19.2 ticks of 1.04 ms
        (500, [0, 4 * BAR - TICKS, 8 * BAR - TICKS]),
        (8_000, [0, 0, 4 * BAR]),  # all of the section before, and no further
        (10_000, [0, 0, 4 * BAR]),
    ],
)
def test_the_lead(lead_ms: float, ticks: list[int]) -> None:
    """Messages go out so much earlier, but not before the preset before has come in."""
    assert [tick for tick, _ in cues(rig_of("a", "b", "c"), lead_ms)] == ticks


def test_the_lead_reaches_across_a_change_of_tempo() -> None:
    """One second before: a beat of the bar at 120 (0.5 s) is not enough, half a beat at 60 more."""
    rig = rig_of("a", section("a", bars=0.25, tempo=120), "b", tempo=60)
    (_, _), (tick, _) = cues(rig, 1000)
    assert tick == 4 * BAR - TICKS // 2


def test_a_short_section_keeps_cues_in_order() -> None:
    """A lead longer than a section does not let the later preset overtake the earlier one."""
    rig = rig_of("a", section("b", bars=0.25), "c")
    ticks = [tick for tick, _ in cues(rig, 2000)]
    assert ticks == sorted(ticks) == [0, 4 * BAR - 4 * TICKS, 4 * BAR]


@pytest.mark.parametrize(
    ("meter", "beat", "clocks"),
    [("6/8", None, 36), ("6/8", "1/8", 12), ("4/4", None, 24), ("2/2", None, 48), ("7/8", None, 12),
     ("12/8", None, 36), ("9/16", None, 18), ("4/4", "1/64", 2), ("4/4", "4/1", 255)],
)  # fmt: skip
def test_the_metronome_clicks_the_beat(meter: str, beat: str | None, clocks: int) -> None:
    """24 clocks to the quarter note, in whole numbers of one byte.

    Source: SMF 1.1, FF 58: MIDI clocks in a metronome click.
    """
    rig = rig_of("a", meter=meter, **({"beat": beat} if beat else {}))
    upper, lower = map(int, meter.split("/"))
    assert song_timeline(rig, rig.songs[0]).meters == [Meter(0, upper, lower, clocks)]


def test_bars_are_counted_anew_after_a_broken_one() -> None:
    """A section of half a bar puts the next bar line where the next section begins."""
    rig = rig_of("a", section(bars=2.5), "b", section())
    assert [meter.tick for meter in song_timeline(rig, rig.songs[0]).meters] == [
        0,
        6 * BAR + BAR // 2,
    ]


def test_gaps_are_bars_of_one_beat() -> None:
    """4.5 seconds are five beats of 0.9 s, so that the next song begins on a bar line."""
    rig = make_rig(
        songs=[song("s", section(), gap_seconds=4.5), song("t", section(), gap_seconds=0)],
        setlists=[setlist("friday", "s", "gone", "t", "s")],
    )
    line = setlist_timeline(rig, rig.setlists[0])
    assert [meter[:3] for meter in line.meters] == [
        (0, 4, 4),
        (4 * BAR, 1, 4),
        (4 * BAR + 5 * TICKS, 4, 4),
        (8 * BAR + 5 * TICKS, 4, 4),
    ]
    assert [start.text for start in line.starts] == ["s", "t", "s"]
    assert seconds_at(line, [start.tick for start in line.starts]) == [0, 12.5, 20.5]


def test_an_evening_sets_each_song_up_afresh() -> None:
    """The first preset is sent again, though the song before ended on it."""
    rig = rig_of("a", "b")
    rig = rig.model_copy(update={"setlists": make_rig(setlists=[setlist("x", "s", "s")]).setlists})
    line = setlist_timeline(rig, rig.setlists[0], lead_ms=1000)
    # The lead of the second song's first preset lies in the gap.
    assert [cue.preset.id for cue in line.cues] == ["a", "b", "a", "b"]
    assert seconds_at(line, [line.cues[2].tick]) == [30.0]


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("Verse 1", "Verse 1"),
        ("Café Größe", "Cafe Grosse"),
        ("Łódź – “Solo”…", 'Lodz - "Solo"...'),
        ("夜", "?"),
        ("a\x1b[31m\n", "a?[31m?"),
        ("x" * 300, "x" * 200),
    ],
)
def test_text_is_printable_ascii(text: str, plain: str) -> None:
    """Letters lose their accents, the rest becomes a question mark.

    Source: SMF 1.1, text events: "printable ASCII characters".
    """
    assert ascii_text(text) == plain


def test_tracks() -> None:
    """Tempo, meters and markers in the first track; each device that is sent to has its own."""
    sends = [{"device": "tail", "program": 2}, {"device": "echo", "bank_msb": 1, "program": 3,
             "controls": [{"number": 80, "value": 127}]}]  # fmt: skip
    rig = make_rig(
        midi=[{"id": "echo", "name": "Écho", "channel": 1}, {"id": "mute", "channel": 2},
              {"id": "tail", "channel": 16, "counts_from": 0}],
        presets=[preset("a", midi=sends)],
        songs=[song("s", section("a", name="Intro"), title="Low Fen")],
    )  # fmt: skip
    content = midi_bytes(rig, song_timeline(rig, rig.songs[0]))
    read = by_midicsv(content)
    assert read == by_mido(content)
    end = 4 * BAR
    assert read.events == [
        (0, 0, "name", ("Low Fen",)),
        (0, 0, "tempo", (500_000,)),
        (0, 0, "meter", (4, 4, 24, 8)),
        (0, 0, "marker", ("Intro",)),
        (0, end, "end", ()),
        (1, 0, "name", ("Echo",)),
        (1, 0, "control", (0, 0, 1)),
        (1, 0, "program", (0, 2)),
        (1, 0, "control", (0, 80, 127)),
        (1, end, "end", ()),
        (2, 0, "name", ("tail",)),
        (2, 0, "program", (15, 2)),
        (2, end, "end", ()),
    ]


tempi = st.one_of(st.integers(20, 400), st.floats(20, 400).map(lambda x: round(x, 2)))
sections_drawn = st.lists(
    st.fixed_dictionaries(
        {
            "name": st.just("Part"),
            "bars": st.one_of(st.integers(1, 400), st.sampled_from([0.5, 0.25, 1.75, 7 / 3])),
            "tempo": tempi,
            "meter": st.sampled_from(["4/4", "3/4", "6/8", "7/8", "12/8", "5/4", "2/2", "9/16"]),
        },
        optional={"beat": st.sampled_from(["1/4", "1/8", "3/8", "1/2"])},
    ),
    min_size=1,
    max_size=12,
)


@given(sections=sections_drawn)
def test_time_is_kept_whatever_the_tempo(sections: list[dict[str, object]]) -> None:
    """However tempi and bars fall between microseconds and ticks, no section is a tick late."""
    rig = make_rig(songs=[{"id": "s", "tempo": 100, "sections": sections}])
    line = song_timeline(rig, rig.songs[0])
    read = by_mido(midi_bytes(rig, line))
    exact = 0.0
    ticks = [mark.tick for mark in line.marks] + [line.end]
    slowest = max(tempo.microseconds for tempo in line.tempi) / TICKS / 1e6
    for tick, part in zip(ticks, [*rig.songs[0].sections, None]):
        when = seconds_of(read, tick)
        assert abs(float(when) - exact) <= slowest
        assert seconds_at(line, [tick]) == [pytest.approx(float(when), abs=1e-9)]
        if part is not None:
            exact += section_seconds(rig.songs[0], part)
