"""What a Standard MIDI File holds beside its notes: header, and the meta events of each track.

Nothing is computed from a length that the file gives before the length is checked, so the time
that reading takes grows with the size of the file and with nothing else.

Source: Standard MIDI Files 1.1: chunks, variable-length numbers of at most four bytes, running
status.
"""

from __future__ import annotations

import struct
from typing import NamedTuple

from rigtui.store.importing.draft import ImportFault

NAME, MARKER, END, TEMPO, METER, KEY = 0x03, 0x06, 0x2F, 0x51, 0x58, 0x59
"""Types of meta events."""
_SHORTEST = {TEMPO: 3, METER: 2, KEY: 2}
_NUMBER_BYTES = 4
_HEADER_BYTES = 6
_META, _SYSEX = 0xFF, (0xF0, 0xF7)
# Data bytes of channel messages, by the upper half of their status from 8 to 14.
_DATA_BYTES = (2, 2, 2, 2, 1, 1, 2)


class MetaEvent(NamedTuple):
    """A meta event: tick from the start of its track, type and content."""

    tick: int
    type: int
    content: bytes


class Track(NamedTuple):
    """The meta events of a track, and the tick at which it ends."""

    events: tuple[MetaEvent, ...]
    end: int


class SmfContent(NamedTuple):
    """A whole file."""

    format: int
    division: int
    """Ticks per quarter note; 0x8000 and more where it counts film frames."""
    tracks: tuple[Track, ...]


def smf_content(content: bytes) -> SmfContent:
    """Read a Standard MIDI File.

    Raises:
        ImportFault: it is no such file, or is damaged, with the byte at which that shows.
    """
    if not content.startswith(b"MThd"):
        raise ImportFault("it is not a Standard MIDI File: those begin with MThd")
    start, at = _chunk(content, 0)
    if at - start < _HEADER_BYTES:
        raise _damaged(at, "its header is too short")
    format, tracks, division = struct.unpack_from(">HHH", content, start)
    read: list[Track] = []
    while len(read) < tracks:
        kind = content[at : at + 4]
        start, at = _chunk(content, at)
        if kind == b"MTrk":  # other kinds of chunks are for programs that know them
            read.append(_EventReader(content, start, at).track())
    return SmfContent(format, division, tuple(read))


def _chunk(content: bytes, at: int) -> tuple[int, int]:
    """Where the content of the chunk at a place begins and ends."""
    start = at + 8
    end = start + int.from_bytes(content[at + 4 : start], "big")
    if len(content) < end:
        raise _damaged(len(content), "it ends in the middle of a part")
    return start, end


def _damaged(at: int, why: str) -> ImportFault:
    return ImportFault(f"it is a damaged MIDI file: {why} (byte {at + 1})")


class _EventReader:
    """Goes through the events of one track."""

    def __init__(self, content: bytes, at: int, end: int) -> None:
        self._content, self._at, self._end = content, at, end

    def track(self) -> Track:
        """Read the track."""
        events: list[MetaEvent] = []
        tick, running = 0, 0
        while self._at < self._end:
            tick += self._number()
            status = self._take(1)[0]
            if status < 0x80:  # no status but the first data byte of one like the last
                self._at -= 1
                status = running
            if status == _META:
                type = self._take(1)[0]
                events.append(MetaEvent(tick, type, self._take(self._number())))
                if len(events[-1].content) < _SHORTEST.get(type, 0):
                    raise _damaged(self._at, "an event is too short for its kind")
                if type == END:
                    break
            elif status in _SYSEX:
                running = 0
                self._take(self._number())
            elif 0x80 <= status < 0xF0:
                running = status
                if any(byte >= 0x80 for byte in self._take(_DATA_BYTES[(status >> 4) - 8])):
                    raise _damaged(self._at, "a note or controller has a value above 127")
            else:
                raise _damaged(self._at, "an event begins with an unknown byte")
        return Track(tuple(events), tick)

    def _number(self) -> int:
        """A number of seven bits a byte; the last byte has its eighth bit clear."""
        value = 0
        for _ in range(_NUMBER_BYTES):
            byte = self._take(1)[0]
            value = value << 7 | byte & 0x7F
            if byte < 0x80:
                return value
        raise _damaged(self._at, f"a time or length takes more than {_NUMBER_BYTES} bytes")

    def _take(self, length: int) -> bytes:
        start, self._at = self._at, self._at + length
        if self._at > self._end:
            raise _damaged(start, "an event goes on after its track has ended")
        return self._content[start : self._at]
