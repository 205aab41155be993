"""Songs out of Standard MIDI Files: our own, hand-made ones, and those that a package carries."""

from __future__ import annotations

import io
from fractions import Fraction
from pathlib import Path

import mido
import mxm.midifile
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sheets.midi_readers import by_midicsv, seconds_of

from rigtui.model import Rig, Song
from rigtui.model.meter import default_beat
from rigtui.moves.clock import quarter_tempo, section_seconds
from rigtui.sheets.midi import ascii_text, midi_bytes
from rigtui.sheets.timeline import song_timeline
from rigtui.store.demos import demo_paths
from rigtui.store.importing.draft import Draft, DraftSong, ImportFault
from rigtui.store.importing.smf import read_smf, simplest_tempo
from rigtui.store.importing.sources import read_source
from rigtui.store.load import load

DEMOS = [(rig, song) for path in demo_paths() for rig in [load(path)[1]] for song in rig.songs]
REAL = sorted(Path(next(iter(mxm.midifile.__path__))).rglob("*.mid"))
"""MIDI files of several sequencers, which the package mxm.midifile carries for its own tests."""

Event = tuple[int, str, dict[str, object]]


def smf(*events: Event, kind: int = 1, quarter: int = 480, end: int = 0) -> bytes:
    """A MIDI file of one track; each event is tick, kind, and what it says."""
    track = mido.MidiTrack()
    before = 0
    for tick, name, values in events:
        track.append(mido.MetaMessage(name, time=tick - before, **values))
        before = tick
    track.append(mido.MetaMessage("end_of_track", time=max(0, end - before)))
    out = io.BytesIO()
    mido.MidiFile(type=kind, ticks_per_beat=quarter, tracks=[track]).save(file=out)
    return out.getvalue()


def marker(tick: int, text: str) -> Event:
    """A marker."""
    return tick, "marker", {"text": text}


def tempo(tick: int, bpm: float) -> Event:
    """A tempo in quarter notes a minute."""
    return tick, "set_tempo", {"tempo": round(60_000_000 / bpm)}


def meter(tick: int, upper: int, lower: int) -> Event:
    """A time signature."""
    return tick, "time_signature", {"numerator": upper, "denominator": lower}


BAR = 4 * 480


def song(content: bytes) -> DraftSong:
    """The song of a file."""
    (read,) = read_smf(content, "file").songs
    return read


def parts(content: bytes) -> list[tuple[str, float | None, dict[str, object]]]:
    """Its sections: name, bars, and what differs from the song."""
    return [(s.name, s.bars, dict(s.more)) for s in song(content).sections]


def test_markers_are_sections() -> None:
    """From one to the next, in bars of the time signature; the title is the first track's name."""
    content = smf(
        (0, "track_name", {"name": "Low Fen"}),
        (0, "key_signature", {"key": "G"}),
        tempo(0, 118),
        meter(0, 4, 4),
        marker(0, "Verse"),
        marker(16 * BAR, "Chorus"),
        end=24 * BAR,
    )
    read = song(content)
    assert (read.title, read.tempo, read.meter) == ("Low Fen", 118, "4/4")
    assert read.more == {"note": "Key: G"}
    assert parts(content) == [("Verse", 16, {}), ("Chorus", 8, {})]
    assert read_smf(content, "file").notes == ()


def test_compound_meters_count_their_dotted_beat() -> None:
    """Quarter 120 in 6/8 is dotted quarter 80 (row T8 of the reference values)."""
    read = song(smf(tempo(0, 120), meter(0, 6, 8), marker(0, "All"), end=3 * 480 * 8))
    assert (read.tempo, read.meter, read.sections[0].bars) == (80, "6/8", 8)


def test_meters_reach_down_to_sixty_fourths() -> None:
    """The lower number stands in the file as a power of two; 2 to the 6th is the last there is.

    Source: Standard MIDI Files 1.0, Time Signature.
    """
    bar = 480 * 4 * 8 // 64
    read = song(smf(tempo(0, 120), meter(0, 8, 64), marker(0, "All"), end=3 * bar))
    assert (read.meter, read.sections[0].bars) == ("8/64", 3)


def test_changes_at_sections_are_theirs() -> None:
    """Tempo and meter of a section where they differ from the first one's."""
    content = smf(
        tempo(0, 120), meter(0, 4, 4), marker(0, "A"), marker(BAR, "B"), tempo(BAR, 90),
        meter(BAR, 7, 8), end=BAR + 4 * 1680,
    )  # fmt: skip
    assert parts(content) == [("A", 1, {}), ("B", 4, {"tempo": 180, "meter": "7/8"})]


def test_a_change_of_meter_parts_a_section() -> None:
    """A rig's section has one meter, so what follows the change is a section of its own."""
    content = smf(tempo(0, 120), meter(0, 4, 4), marker(0, "A"), meter(BAR, 3, 4),
                  end=BAR + 2 * 1440)  # fmt: skip
    assert parts(content) == [("A", 1, {}), ("A (3/4)", 2, {"meter": "3/4"})]


def test_a_change_of_tempo_inside_keeps_the_length() -> None:
    """One bar at 120 and one at 60 are 6 s: two bars at 80; and that is said."""
    content = smf(tempo(0, 120), meter(0, 4, 4), marker(0, "A"), tempo(BAR, 60), end=2 * BAR)
    draft = read_smf(content, "file")
    assert draft.songs[0].tempo == 80
    assert draft.notes == ("A changes its tempo inside: taken as 80, which lasts just as long",)


def test_a_marker_just_off_the_bar_line_means_it() -> None:
    """A hand that is 10 ms late still played at the bar; a section of half a bar stays one."""
    content = smf(tempo(0, 120), meter(0, 4, 4), marker(0, "A"), marker(4 * BAR + 10, "B"),
                  marker(8 * BAR, "C"), end=8 * BAR + BAR // 2)  # fmt: skip
    draft = read_smf(content, "file")
    assert [section.bars for section in draft.songs[0].sections] == [4, 4, 0.5]
    assert draft.notes == (
        "A lasts 4.005 bars: taken as 4",
        "B lasts 3.995 bars: taken as 4",
    )


def test_what_a_file_leaves_out_is_as_the_format_has_it() -> None:
    """No markers, no tempo, no time signature: one section, 120, 4/4, and each is said.

    Source: SMF 1.1, which assumes 4/4 and 120 quarter notes a minute.
    """
    draft = read_smf(smf(end=4 * BAR), "file")
    (read,) = draft.songs
    assert (read.title, read.tempo, read.meter) == ("file", 120, "4/4")
    assert [(section.name, section.bars) for section in read.sections] == [("Song", 4)]
    assert len(draft.notes) == 3


def test_odd_markers() -> None:
    """What comes before the first is named, two at once are one, one at the end is none."""
    content = smf(tempo(0, 120), meter(0, 4, 4), marker(BAR, "A"), marker(BAR, "B\x1b"),
                  marker(2 * BAR, "End"), end=2 * BAR)  # fmt: skip
    draft = read_smf(content, "file")
    assert [section.name for section in draft.songs[0].sections] == ["Start", "B␛"]
    assert draft.notes == (
        'the bars before the first marker are called "Start"',
        "A has no length (two markers at once), so it is left out",
    )


def test_names_in_utf_8_and_latin_1() -> None:
    """Both are read; MIDI files say nowhere which one it is."""
    for encoding in ("utf-8", "latin-1"):
        name = "Größe".encode(encoding).decode("latin-1")
        assert song(smf((0, "track_name", {"name": name}), end=BAR)).title == "Größe"


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "begins? with MThd"),
        (b"RIFF....", "begins? with MThd"),
        (b"MThd", "damaged MIDI file"),
        (b"MThd\0\0\0\x06\0\1\0\1\0\x60MTrk\0\0\0\x10\xff", "damaged MIDI file"),
        (b"MThd\0\0\0\x06\0\1\0\1\0\x60MTrk\0\0\0\x04\0\xff\x2f\0", "it has no length"),
        (smf(end=BAR, kind=2), "format 2"),
        (b"MThd\0\0\0\x06\0\1\0\1\xe2\x50MTrk\0\0\0\x05\x83\x60\xff\x2f\0", "film frames"),
        (b"MThd\0\0\0\x06\0\1\0\1\0\0MTrk\0\0\0\x05\x83\x60\xff\x2f\0", "film frames"),
        (smf(meter(0, 0, 4), end=BAR), "time signature that rigtui can't use: 0/4"),
        (smf(meter(0, 4, 128), end=BAR), "time signature that rigtui can't use: 4/128"),
        (smf(tempo(0, 120), end=BAR).replace(b"\x07\xa1\x20", b"\0\0\0"), "tempo of zero length"),
        (smf(*[marker(tick, "x") for tick in range(1200)], end=BAR), "1200 markers"),
    ],
)
def test_what_cannot_be_taken(content: bytes, says: str) -> None:
    """Junk and what has no bars is refused in one sentence."""
    with pytest.raises(ImportFault, match=says):
        read_smf(content, "file")


@given(st.binary(max_size=200), st.integers(0, 150))
def test_no_junk_breaks_it(junk: bytes, at: int) -> None:
    """Bytes put anywhere into a good file give songs or one message."""
    good = smf(tempo(0, 120), meter(0, 6, 8), marker(0, "A"), marker(BAR, "B"), end=2 * BAR)
    try:
        draft = read_smf(good[:at] + junk + good[at + len(junk) :], "file")
    except ImportFault:
        return
    assert isinstance(draft, Draft)


@pytest.mark.parametrize(
    ("rig", "source"), DEMOS, ids=[f"{rig.name[:12]}-{song.id}" for rig, song in DEMOS]
)
def test_what_we_write_comes_back(rig: Rig, source: Song) -> None:
    """Names, bars, meters and tempi of every demo song survive the way out and in.

    Tempi come back as the default beat counts them, which is as fast.
    """
    read = song(midi_bytes(rig, song_timeline(rig, source)))
    assert read.title == ascii_text(source.label)
    assert [section.name for section in read.sections] == [
        ascii_text(section.name) for section in source.sections
    ]
    for section, was in zip(read.sections, source.sections):
        meter_read = str(section.more.get("meter", read.meter))
        assert meter_read == (was.meter or source.meter)
        assert section.bars == was.bars
        beats = float(section.more.get("tempo", read.tempo))
        quarter = beats * float(default_beat(meter_read)) * 4
        assert quarter == pytest.approx(quarter_tempo(source, was), abs=1e-4)
        if default_beat(meter_read) == Fraction(
            was.beat or source.beat or default_beat(meter_read)
        ):
            assert beats == (was.tempo or source.tempo)


@given(st.floats(20, 400).map(lambda bpm: round(bpm, 2)), st.sampled_from(["1/4", "3/8", "1/8"]))
def test_round_tempi_come_back_round(bpm: float, beat: str) -> None:
    """Whole microseconds hide the number that was meant; it is found, or one as good."""
    micro = round(60_000_000 / bpm / float(Fraction(beat) * 4))
    tempo_read = simplest_tempo(Fraction(micro), Fraction(beat))
    assert tempo_read == pytest.approx(bpm, abs=0.02)
    assert len(f"{tempo_read:g}") <= len(f"{bpm:g}")


def test_the_real_files_are_there() -> None:
    """The package carries a dozen, one of them with markers and a tempo map."""
    assert len(REAL) >= 12


@pytest.mark.parametrize("path", REAL, ids=lambda path: f"{path.parent.name}-{path.stem[:12]}")
def test_real_files(path: Path) -> None:
    """Files of other programs: as many sections as markers, as long as another library has them.

    Source: py_midicsv, a reader that shares nothing with the one used here.
    """
    other = by_midicsv(path.read_bytes(), strict=False)
    read = read_source(path).songs[0]
    end = max(event.tick for event in other.events if event.kind == "end")
    marks = {event.tick for event in other.events if event.kind == "marker"} - {end}
    assert len(read.sections) == max(1, len(marks))
    whole = float(seconds_of(other, end))
    length = 0.0
    for section in read.sections:
        beats = float(section.more.get("tempo", read.tempo))
        meter_read = str(section.more.get("meter", read.meter))
        bars = float(section.bars or 0)
        length += bars * float(Fraction(meter_read) / default_beat(meter_read)) * 60 / beats
    # A marker that misses a bar line by up to a fiftieth of a bar is taken to mean it.
    assert length == pytest.approx(whole, rel=0.01)


def test_a_song_of_a_real_file_lasts_as_long_in_a_rig() -> None:
    """The section lengths that a rig computes add up to what the file plays."""
    path = next(
        path for path in REAL if "marker" in str(by_midicsv(path.read_bytes(), strict=False).events)
    )
    read = read_source(path).songs[0]
    row = {"id": "x", "tempo": read.tempo, "meter": read.meter, "sections": [
        {"name": s.name, "bars": s.bars, **s.more} for s in read.sections]}  # fmt: skip
    rig = Rig.model_validate({"format": 1, "name": "x", "songs": [row]})
    length = sum(section_seconds(rig.songs[0], section) for section in rig.songs[0].sections)
    assert length == pytest.approx(mido.MidiFile(path).length, rel=0.01)


def test_a_tempo_that_wavers_by_a_microsecond_is_steady() -> None:
    """As a sequencer rounds it; two microseconds are a change."""
    for waver, told in ((1, False), (2, True)):
        second = (BAR, "set_tempo", {"tempo": 500_000 + waver})
        content = smf(tempo(0, 120), meter(0, 4, 4), marker(0, "A"), second, end=2 * BAR)
        notes = read_smf(content, "file").notes
        assert any("changes its tempo" in note for note in notes) == told
