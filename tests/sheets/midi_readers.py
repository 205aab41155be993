"""MIDI files read by two libraries that share no code, as the same plain events.

mido (which also writes them), and py_midicsv, a port of the public-domain midicsv.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from fractions import Fraction
from typing import NamedTuple

import mido
import py_midicsv


class Seen(NamedTuple):
    """One event."""

    track: int
    """From 0."""
    tick: int
    kind: str
    """name, marker, cue, tempo, meter, program, control or end."""
    value: tuple[int | str, ...]


class Read(NamedTuple):
    """A whole file."""

    format: int
    ticks_per_quarter: int
    events: list[Seen]


def by_mido(content: bytes) -> Read:
    """Read with mido."""
    file = mido.MidiFile(file=io.BytesIO(content))
    events = []
    for number, track in enumerate(file.tracks):
        tick = 0
        for message in track:
            tick += message.time
            events.append(Seen(number, tick, *_of_mido(message)))
    return Read(file.type, file.ticks_per_beat, events)


def _of_mido(message: object) -> tuple[str, tuple[int | str, ...]]:
    m: mido.Message = message  # type: ignore[assignment]
    return {
        "track_name": lambda: ("name", (m.name,)),
        "marker": lambda: ("marker", (m.text,)),
        "cue_marker": lambda: ("cue", (m.text,)),
        "set_tempo": lambda: ("tempo", (m.tempo,)),
        "time_signature": lambda: (
            "meter",
            (m.numerator, m.denominator, m.clocks_per_click, m.notated_32nd_notes_per_beat),
        ),
        "program_change": lambda: ("program", (m.channel, m.program)),
        "control_change": lambda: ("control", (m.channel, m.control, m.value)),
        "end_of_track": lambda: ("end", ()),
    }[m.type]()


_CSV: dict[str, Callable[[list[str]], tuple[str, tuple[int | str, ...]]]] = {
    "Title_t": lambda v: ("name", (v[0],)),
    "Marker_t": lambda v: ("marker", (v[0],)),
    "Cue_point_t": lambda v: ("cue", (v[0],)),
    "Tempo": lambda v: ("tempo", (int(v[0]),)),
    "Time_signature": lambda v: ("meter", (int(v[0]), 2 ** int(v[1]), int(v[2]), int(v[3]))),
    "Program_c": lambda v: ("program", (int(v[0]), int(v[1]))),
    "Control_c": lambda v: ("control", (int(v[0]), int(v[1]), int(v[2]))),
    "End_track": lambda v: ("end", ()),
}


def by_midicsv(content: bytes, strict: bool = True) -> Read:
    """Read with py_midicsv; `strict` allows no other events than those that we write."""
    lines = py_midicsv.midi_to_csv(io.BytesIO(content))
    events, header = [], (0, 0)
    for row in csv.reader(lines, skipinitialspace=True):
        track, tick, kind, *values = row
        if kind == "Header":
            header = (int(values[0]), int(values[2]))
        elif kind in _CSV:
            events.append(Seen(int(track) - 1, int(tick), *_CSV[kind](values)))
        elif strict:
            assert kind in ("Start_track", "End_of_file"), row
    return Read(*header, events)


READERS = {"mido": by_mido, "midicsv": by_midicsv}


def seconds_of(read: Read, tick: int) -> Fraction:
    """When a tick comes, by the file's own tempi.

    Source: SMF 1.1: tempo is microseconds per quarter note, 500 000 until the first one.
    """
    passed, since, tempo = Fraction(0), 0, 500_000
    for event in sorted((e for e in read.events if e.kind == "tempo"), key=lambda e: e.tick):
        if event.tick >= tick:
            break
        passed += Fraction((event.tick - since) * tempo, read.ticks_per_quarter)
        since, tempo = event.tick, int(event.value[0])
    passed += Fraction((tick - since) * tempo, read.ticks_per_quarter)
    return passed / 1_000_000


def tick_seconds(read: Read, tick: int) -> Fraction:
    """How long the tick before this one lasts."""
    return seconds_of(read, tick) - seconds_of(read, tick - 1) if tick else Fraction(1, 1000)
