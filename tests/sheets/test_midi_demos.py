"""Every demo song and evening as a MIDI file, read back by two libraries."""

from __future__ import annotations

from fractions import Fraction

import pytest
from sheets.midi_readers import READERS, Read, Seen, seconds_of, tick_seconds

from rigtui.model import Rig, rig_from_data, rig_to_data
from rigtui.model.lookup import lookup
from rigtui.model.meter import default_beat
from rigtui.model.rig import Song
from rigtui.sheets.midi import ascii_text, midi_bytes
from rigtui.sheets.timeline import setlist_timeline, song_timeline
from rigtui.store.demos import demo_paths
from rigtui.store.load import load


def wired(rig: Rig) -> Rig:
    """The rig with a device on the wire, and each preset sending its place in the list."""
    data = rig_to_data(rig)
    data["midi"] = [{"id": "echo", "channel": 2}]
    for at, row in enumerate(data["presets"], 1):
        row["midi"] = [{"device": "echo", "program": at}]
    return rig_from_data(data)


RIGS = {path.stem: wired(load(path)[1]) for path in demo_paths()}
SONGS = [(rig, song) for rig in RIGS.values() for song in rig.songs]
EVENINGS = [(name, setlist.id) for name, rig in RIGS.items() for setlist in rig.setlists]

each_song = pytest.mark.parametrize(
    ("rig", "song"), SONGS, ids=[f"{rig.name[:12]}-{song.id}" for rig, song in SONGS]
)


def starts_of(song: Song, begin: Fraction = Fraction(0)) -> list[Fraction]:
    """When sections begin and the song ends, by the definition, in exact arithmetic.

    Source: seconds = bars x (numerator / denominator) / beat x 60 / tempo, the rig file's own
    definition; it is not taken from the code that is tested.
    """
    times = [begin]
    for section in song.sections:
        meter = section.meter or song.meter
        beat = section.beat or song.beat
        pulse = Fraction(beat) if beat else default_beat(meter)
        tempo = Fraction(section.tempo or song.tempo)
        times.append(times[-1] + Fraction(section.bars) * Fraction(meter) / pulse * 60 / tempo)
    return times


def of_kind(read: Read, kind: str) -> list[Seen]:
    """Events of one kind, in the file's order."""
    return [event for event in read.events if event.kind == kind]


def assert_times(read: Read, events: list[Seen], times: list[Fraction]) -> None:
    """Events come within one tick of the times."""
    assert len(events) == len(times)
    for event, time in zip(events, times):
        assert abs(seconds_of(read, event.tick) - time) <= tick_seconds(read, event.tick)


def test_the_demos_have_what_is_hard() -> None:
    """Compound meters, odd ones, changes of meter and of tempo inside a song."""
    meters = {s.meter or song.meter for _, song in SONGS for s in song.sections}
    assert {"4/4", "3/4", "2/4", "6/8", "12/8", "7/8"} <= meters
    assert any(s.meter for _, song in SONGS for s in song.sections)


@each_song
def test_both_libraries_read_the_same(rig: Rig, song: Song) -> None:
    """The same events at the same ticks, whoever reads."""
    content = midi_bytes(rig, song_timeline(rig, song))
    first, second = (read(content) for read in READERS.values())
    assert first == second
    assert first.format == 1


@each_song
@pytest.mark.parametrize("reader", READERS)
def test_sections_are_where_the_clock_has_them(reader: str, rig: Rig, song: Song) -> None:
    """A marker for each section by name, each within one tick; so is the end of every track."""
    read = READERS[reader](midi_bytes(rig, song_timeline(rig, song)))
    times = starts_of(song)
    marks = of_kind(read, "marker")
    assert [mark.value for mark in marks] == [(ascii_text(s.name),) for s in song.sections]
    assert {mark.track for mark in marks} == {0}
    assert_times(read, marks, times[:-1])
    for end in of_kind(read, "end"):
        assert_times(read, [end], times[-1:])


@each_song
@pytest.mark.parametrize("reader", READERS)
def test_presets_come_in_with_their_sections(reader: str, rig: Rig, song: Song) -> None:
    """A program change on the device's own track wherever another preset begins, in time."""
    read = READERS[reader](midi_bytes(rig, song_timeline(rig, song)))
    numbers = {preset.id: at for at, preset in enumerate(rig.presets)}
    times, programs = [], []
    for section, time in zip(song.sections, starts_of(song)):
        if section.preset is not None and (not programs or numbers[section.preset] != programs[-1]):
            times.append(time)
            programs.append(numbers[section.preset])
    sent = of_kind(read, "program")
    assert [event.value for event in sent] == [(1, number) for number in programs]
    assert {event.track for event in sent} <= {1}
    assert_times(read, sent, times)


@each_song
def test_meters_and_tempi_are_the_songs(rig: Rig, song: Song) -> None:
    """Each section is under its meter, and its tempo is right to a microsecond per quarter note."""
    read = READERS["midicsv"](midi_bytes(rig, song_timeline(rig, song)))
    for mark, section in zip(of_kind(read, "marker"), song.sections):
        meter = [e for e in of_kind(read, "meter") if e.tick <= mark.tick][-1]
        text = section.meter or song.meter
        assert f"{meter.value[0]}/{meter.value[1]}" == text
        beat = section.beat or song.beat
        pulse = Fraction(beat) if beat else default_beat(text)
        assert meter.value[2:] == (24 * 4 * pulse, 8)
        tempo = [e for e in of_kind(read, "tempo") if e.tick <= mark.tick][-1]
        exact = Fraction(60_000_000) / (Fraction(section.tempo or song.tempo) * pulse * 4)
        assert abs(Fraction(int(tempo.value[0])) - exact) < 1


@pytest.mark.parametrize(("name", "setlist_id"), EVENINGS)
def test_an_evening_keeps_time_to_the_last_song(name: str, setlist_id: str) -> None:
    """Songs begin, and sections come, within one tick after an hour and more; both read the same.

    Gaps are the song's own or the player's, breaks between sets included.
    """
    rig = RIGS[name]
    setlist = lookup(rig).setlists[setlist_id]
    content = midi_bytes(rig, setlist_timeline(rig, setlist))
    read = READERS["mido"](content)
    assert read == READERS["midicsv"](content)
    begin, begins, sections = Fraction(0), [], []
    for song_id in setlist.song_ids:
        song = lookup(rig).songs[song_id]
        times = starts_of(song, begin)
        begins.append(begin)
        sections += times[:-1]
        gap = song.gap_seconds if song.gap_seconds is not None else rig.player.gap_seconds
        begin = times[-1] + Fraction(gap)
    assert_times(read, of_kind(read, "cue"), begins)
    assert_times(read, of_kind(read, "marker"), sections)
