"""MIDI against the published message table and Standard MIDI File 1.1, byte for byte.

The rows are named as in the project's list of outside values. "SMF" is Standard MIDI Files 1.1,
"MIDI" the MIDI 1.0 message table; what a row says of mido was run with mido 1.3.
"""

from __future__ import annotations

import io

import mido
import py_midicsv
import pytest
from rigs_made import make_rig, preset, section, song

from rigtui.model.wire import preset_messages
from rigtui.moves.clock import quarter_tempo
from rigtui.sheets.midi import midi_bytes
from rigtui.sheets.timeline import LONGEST, SLOWEST, TICKS, song_timeline


def written(
    *, tempo: float = 120, meter: str = "4/4", name: str = "Verse 1", **more: object
) -> bytes:
    """The MIDI file of a song of one section of one bar."""
    row = section(name=name, bars=1, **more)
    rig = make_rig(songs=[song("s", row, tempo=tempo, meter=meter)])
    return midi_bytes(rig, song_timeline(rig, rig.songs[0]))


def sent(**send: object) -> list[str]:
    """What a preset sends on channel 1, one message each, in hexadecimal."""
    rig = make_rig(
        midi=[{"id": "box", "channel": 1, "counts_from": 0}],
        presets=[preset("p", midi=[{"device": "box", **send}])],
    )
    return [bytes(m.octets).hex(" ") for m in preset_messages(rig, rig.presets[0])]


@pytest.mark.parametrize(
    ("row", "hexadecimal"),
    [
        ("M11 120 quarter notes a minute (SMF: FF 51 03 tttttt)", "ff 51 03 07 a1 20"),
        ("M14 marker (SMF: FF 06 len text)", "ff 06 07 56 65 72 73 65 20 31"),
        ("M18 end of track, not optional (SMF)", "ff 2f 00"),
        ("M19 name of the track (SMF: FF 03 len text)", "ff 03 01 73"),
    ],
)
def test_meta_events(row: str, hexadecimal: str) -> None:
    """The file holds the bytes that the specification gives."""
    assert bytes.fromhex(hexadecimal) in written()


def test_m17_six_eight() -> None:
    """M17: 6/8 with a click every dotted quarter note, the specification's worked example."""
    assert bytes.fromhex("ff 58 04 06 03 24 08") in written(meter="6/8")


def test_m15_markers_stand_in_the_first_track() -> None:
    """M15 (SMF): "the first track of a format 1 file", which begins with its name at time 0."""
    content = written()
    assert content[:14] == bytes.fromhex("4d546864 00000006 0001 0001 01e0")
    assert content[22:23] == b"\0"
    assert content[23:25] == b"\xff\x03"


def test_m6_banks_are_selected_before_the_program() -> None:
    """M6 (MIDI): controller 0 is the coarse part, controller 32 the fine one, then the program."""
    assert sent(bank_msb=1, bank_lsb=2, program=5) == ["b0 00 01", "b0 20 02", "c0 05"]


def test_m9_program_128_is_refused_on_the_wire() -> None:
    """M9: a data byte has seven bits; nothing is sent for a number that would need more."""
    assert sent(program=128) == []
    with pytest.raises(ValueError, match=r"0\.\.127"):
        mido.Message("program_change", program=128)


# M25, mido: microseconds rounded to the nearest; 90 is also in a published table of tempi.
@pytest.mark.parametrize(
    ("tempo", "tttttt"),
    [(60, "0f4240"), (90, "0a2c2b"), (100, "0927c0"), (120, "07a120"), (125, "075300"),
     (128, "07270e"), (140, "068a1b"), (174, "0542fc")],
)  # fmt: skip
def test_m25_tempo_bytes(tempo: int, tttttt: str) -> None:
    """Three plain bytes, the nearest whole number of microseconds."""
    assert bytes.fromhex("ff5103" + tttttt) in written(tempo=tempo)


# M24 and M22: the specification's own table of variable-length quantities.
@pytest.mark.parametrize(
    ("number", "hexadecimal"),
    [(0, "00"), (0x40, "40"), (0x7F, "7f"), (0x80, "81 00"), (0x2000, "c0 00"), (0x3FFF, "ff 7f"),
     (0x4000, "81 80 00"), (0x100000, "c0 80 00"), (0x1FFFFF, "ff ff 7f"),
     (0x200000, "81 80 80 00"), (0x8000000, "c0 80 80 00"), (0xFFFFFFF, "ff ff ff 7f"),
     (200, "81 48")],
)  # fmt: skip
def test_m24_lengths(number: int, hexadecimal: str) -> None:
    """The library that writes the files spells them so, and so does the longest that we allow."""
    track = mido.MidiTrack([mido.MetaMessage("end_of_track", time=number)])
    content = io.BytesIO()
    mido.MidiFile(type=1, tracks=[track]).save(file=content)
    assert content.getvalue()[22:] == bytes.fromhex(hexadecimal) + b"\xff\x2f\0"
    assert number <= LONGEST


@pytest.mark.parametrize(
    "track",
    [
        "00000012 00ff510307a120 00c005 8300c006 00ff2f00",  # each message with its status byte
        "00000011 00ff510307a120 00c005 830006 00ff2f00",  # running status
    ],
)
def test_m26_a_whole_file_in_both_legal_forms(track: str) -> None:
    """Program 5, after 2 s program 6: what our files say is what both forms say."""
    content = bytes.fromhex("4d546864 00000006 0001 0001 0060 4d54726b" + track)
    events = [
        (message.time, message.dict()["program"])
        for message in mido.MidiFile(file=io.BytesIO(content))
        if message.type == "program_change"
    ]
    assert events == [(0, 5), (2.0, 6)]
    rows = [row.strip() for row in py_midicsv.midi_to_csv(io.BytesIO(content))]
    assert [row for row in rows if "Program_c" in row] == [
        "1, 0, Program_c, 0, 5",
        "1, 384, Program_c, 0, 6",
    ]


def test_m12_the_default_tempo_is_never_relied_on() -> None:
    """M12: 120 holds where a file says no tempo; ours say it at tick 0 even then."""
    rig = make_rig(songs=[song("s", section())])
    assert song_timeline(rig, rig.songs[0]).tempi == [(0, 500_000)]


# Tempo and bars


# T2 and T3: worked values of a published music library (hmt, Music.Theory.Tempo_Marking);
# T8: the tempo of 6/8 in a sequencer's documentation (quarter notes per minute whatever the beat).
@pytest.mark.parametrize(
    ("meter", "beat", "tempo", "bars", "expected"),
    [
        ("3/4", "1/4", 90, 1, 2),  # T2
        ("6/8", "1/4", 120, 1, 1.5),  # T3
        ("4/4", None, 120, 8, 16),  # T11 from here on
        ("3/4", None, 90, 16, 32),
        ("6/8", "3/8", 80, 8, 12),
        ("6/8", None, 80, 8, 12),
        ("6/8", "1/8", 180, 8, 16),
        ("7/8", "1/8", 210, 4, 8),
        ("12/8", "3/8", 60, 12, 48),
        ("5/4", None, 150, 4, 8),
        ("2/4", None, 120, 1, 1),
    ],
)
def test_sections_in_seconds(
    meter: str, beat: str | None, tempo: float, bars: float, expected: float
) -> None:
    """The file is as long; what the clock says of them is in test_tempo.py."""
    row = section(name="Part", bars=bars, **({"beat": beat} if beat else {}))
    rig = make_rig(songs=[song("s", row, tempo=tempo, meter=meter)])
    file = mido.MidiFile(file=io.BytesIO(midi_bytes(rig, song_timeline(rig, rig.songs[0]))))
    assert file.length == pytest.approx(expected, abs=expected * 1e-6)


def test_t6_clocks_of_six_eight() -> None:
    """T6 (SMF): 36 clocks to the dotted quarter note, 24 to the quarter, so 72 to the bar."""
    rig = make_rig(songs=[song("s", section(bars=1), meter="6/8")])
    line = song_timeline(rig, rig.songs[0])
    assert line.meters[0].clocks == 36
    assert line.end == 3 * TICKS  # 3 quarter notes of 24 clocks are 72


def test_t8_dotted_quarter_80_is_quarter_120() -> None:
    """T8: SMF tempo stays per quarter note; a library that takes 80 and 6/8 counts eighths."""
    rig = make_rig(songs=[song("s", section(), tempo=80, meter="6/8")])
    played = rig.songs[0]
    assert quarter_tempo(played, played.sections[0]) == 120
    assert song_timeline(rig, played).tempi[0].microseconds == 500_000
    assert mido.bpm2tempo(80, (6, 8)) == 1_500_000


def test_t9_ticks() -> None:
    """T9 (mido): 480 ticks of 480 to the quarter note at 120 are half a second."""
    assert mido.tick2second(480, TICKS, 500_000) == 0.5
    assert mido.second2tick(2.0, TICKS, 500_000) == 1920


def test_the_slowest_tempo() -> None:
    """SMF: three bytes hold 16 777 215 microseconds; 60 000 000 / 3.5766 is 16 775 708.8."""
    assert SLOWEST == 2**24 - 1
    assert bytes.fromhex("ff5103fffa1d") in written(tempo=3.5766)
