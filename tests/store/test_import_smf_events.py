"""Reading MIDI files: the same as another reader, and never more work than the file is long."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import mido
import mxm.midifile
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigtui.store.importing.draft import Draft, ImportFault
from rigtui.store.importing.smf import read_smf
from rigtui.store.importing.smf_events import KEY, METER, TEMPO, SmfContent, smf_content

REAL = sorted(Path(next(iter(mxm.midifile.__path__))).rglob("*.mid"))
"""MIDI files of several sequencers, which the package mxm.midifile carries for its own tests."""

TICKS = st.one_of(st.integers(0, 300), st.sampled_from([0x7F, 0x80, 0x3FFF, 0x4000, 0xFFFFFFF]))
BYTE = st.integers(0, 127)
META = st.one_of(
    st.builds(mido.MetaMessage, st.just("marker"), text=st.text(max_size=200).map(
        lambda text: text.encode("latin-1", "replace").decode("latin-1")), time=TICKS),
    st.builds(mido.MetaMessage, st.just("track_name"), name=st.just("Low Fen"), time=TICKS),
    st.builds(mido.MetaMessage, st.just("set_tempo"), tempo=st.integers(1, 0xFFFFFF), time=TICKS),
    st.builds(mido.MetaMessage, st.just("time_signature"), numerator=st.integers(1, 255),
              denominator=st.sampled_from([1, 2, 4, 8, 16, 32, 64]), time=TICKS),
    st.builds(mido.MetaMessage, st.just("sequence_number"), number=st.integers(0, 65535),
              time=TICKS),
)  # fmt: skip
PLAYED = st.one_of(
    st.builds(mido.Message, st.sampled_from(["note_on", "note_off"]), note=BYTE, velocity=BYTE,
              channel=st.integers(0, 1), time=TICKS),
    st.builds(mido.Message, st.just("control_change"), control=BYTE, value=BYTE, time=TICKS),
    st.builds(mido.Message, st.just("program_change"), program=BYTE, time=TICKS),
    st.builds(mido.Message, st.just("pitchwheel"), pitch=st.integers(-8192, 8191), time=TICKS),
    st.builds(mido.Message, st.just("sysex"), data=st.lists(BYTE, max_size=300), time=TICKS),
)  # fmt: skip
TRACKS = st.lists(st.lists(st.one_of(META, PLAYED, PLAYED), max_size=12), min_size=1, max_size=3)


def written(tracks: list[list[Any]], format: int = 1) -> bytes:
    """A file as mido writes it, which uses running status."""
    out = io.BytesIO()
    mido.MidiFile(type=format, tracks=[mido.MidiTrack(track) for track in tracks]).save(file=out)
    return out.getvalue()


def by_mido(content: bytes) -> SmfContent:
    """The same of the file as mido reads it."""
    file = mido.MidiFile(file=io.BytesIO(content))
    tracks = []
    for track in file.tracks:
        tick, events = 0, []
        for message in track:
            tick += message.time
            if message.is_meta:
                kind, data = message.bytes()[1], message.bytes()[2:]
                start = next(at for at, byte in enumerate(data) if byte < 0x80) + 1
                events.append((tick, kind, bytes(data[start:])))
        tracks.append((tuple(events), tick))
    return SmfContent(file.type, file.ticks_per_beat, tuple(tracks))  # type: ignore[arg-type]


@given(TRACKS)
def test_the_same_as_mido(tracks: list[list[Any]]) -> None:
    """Tick, type and bytes of each meta event, and where each track ends."""
    content = written(tracks)
    assert smf_content(content) == by_mido(content)


@pytest.mark.parametrize("path", REAL, ids=lambda path: f"{path.parent.name}-{path.stem[:12]}")
def test_the_same_as_mido_in_files_of_other_programs(path: Path) -> None:
    """Files that nobody made for this."""
    assert smf_content(path.read_bytes()) == by_mido(path.read_bytes())


@pytest.mark.parametrize("sharps", range(-7, 8))
@pytest.mark.parametrize("minor", [0, 1])
def test_keys_are_those_of_mido(sharps: int, minor: int) -> None:
    """All thirty of the standard."""
    event = bytes([0, 0xFF, KEY, 2, sharps & 0xFF, minor])
    content = track_of(event + b"\x60\xff\x2f\0")
    file = mido.MidiFile(file=io.BytesIO(content))
    song = read_smf(content, "x").songs[0]
    assert song.more == {"note": f"Key: {file.tracks[0][0].key}"}


def track_of(events: bytes, alien: bytes = b"") -> bytes:
    """A file of one track, with something else before it."""
    return (
        b"MThd\0\0\0\x06\0\1\0\1\0\x60" + alien
        + b"MTrk" + len(events).to_bytes(4, "big") + events
    )  # fmt: skip


END = b"\0\xff\x2f\0"


@pytest.mark.parametrize(
    ("events", "says"),
    [
        (b"\xff\xff\xff\xff\x7f" + END[1:], r"more than 4 bytes \(byte 27\)"),
        (b"\x80" * 159 + b"\0" + END[1:], "more than 4 bytes"),
        (b"\x81" * 1_000_000 + b"\0" + END[1:], "more than 4 bytes"),
        (b"\0\xff\x06" + b"\x81" * 1_000_000 + b"\0" + END, "more than 4 bytes"),
        (b"\0\xf0" + b"\x81" * 1_000_000 + b"\0" + END, "more than 4 bytes"),
        (b"\0\xff\x06\xff\xff\xff\x7fx" + END, "goes on after its track has ended"),
        (b"\x81\x81", "goes on after its track has ended"),
        (b"\0", "goes on after its track has ended"),
        (b"\0\xff\x51\x02\x07\xa1" + END, "too short for its kind"),
        (b"\0\xff\x58\x01\x04" + END, "too short for its kind"),
        (b"\0\x40\x40" + END, "begins with an unknown byte"),
        (b"\0\xf4" + END, "begins with an unknown byte"),
        (b"\0\xf0\x01\xf7\0\x40\x40" + END, "begins with an unknown byte"),
        (b"\0\x90\x40\x90" + END, "above 127"),
    ],
)
def test_damage_is_named_with_its_place(events: bytes, says: str) -> None:
    """And found before anything is computed from it: a megabyte of it takes no time at all."""
    with pytest.raises(ImportFault, match=f"it is a damaged MIDI file: .*{says}"):
        read_smf(track_of(events), "x")


def test_the_longest_time_of_the_standard_is_read() -> None:
    """0FFFFFFF ticks are four bytes."""
    (track,) = smf_content(track_of(b"\xff\xff\xff\x7f" + END[1:])).tracks
    assert track.end == 0x0FFFFFFF


def test_what_the_standard_leaves_to_others_is_passed_over() -> None:
    """Chunks of another kind, and what comes after the end of a track."""
    content = track_of(b"\x60" + END[1:] + b"\0\xff\x06\1x", b"XFIH\0\0\0\2hi")
    (track,) = smf_content(content).tracks
    assert (len(track.events), track.end) == (1, 0x60)


def test_small_notes_are_not_spelled_out() -> None:
    """A time signature of 4/2^255 is refused in a line that fits a screen."""
    with pytest.raises(ImportFault, match=r"that rigtui can't use: 4/2\^255$"):
        read_smf(track_of(b"\0\xff\x58\x04\x04\xff\x18\x08" + END), "x")
    assert {TEMPO, METER} == {0x51, 0x58}


@given(TRACKS, st.binary(max_size=9), st.integers(0, 400), st.integers(0, 9))
def test_damage_gives_songs_or_one_sentence(
    tracks: list[list[Any]], junk: bytes, at: int, removed: int
) -> None:
    """Wherever bytes are put in or left out."""
    good = written(tracks)
    try:
        draft = read_smf(good[:at] + junk + good[at + removed :], "x")
    except ImportFault:
        return
    assert isinstance(draft, Draft)
