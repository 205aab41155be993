"""A time line as a Standard MIDI File.

Format 1: the first track holds the tempo map, meters and section markers, as the specification
asks; each MIDI device has a track of its own with what it is sent.

Source: Standard MIDI Files 1.1.
"""

from __future__ import annotations

import io
import unicodedata
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from rigtui.model.rig import Rig
from rigtui.sheets.timeline import TICKS, Timeline

if TYPE_CHECKING:
    import mido

_SPELLED = {"ß": "ss", "æ": "ae", "Æ": "AE", "ø": "o", "Ø": "O", "œ": "oe", "Œ": "OE", "ł": "l",
            "Ł": "L", "đ": "d", "Đ": "D", "’": "'", "‘": "'", "“": '"', "”": '"', "–": "-",
            "—": "-", "…": "...", "→": "->"}  # fmt: skip
_LONGEST_TEXT = 200


def midi_bytes(rig: Rig, line: Timeline) -> bytes:
    """Return the MIDI file of a time line.

    Args:
        rig: The rig, for the names of its devices.
        line: What `song_timeline` or `setlist_timeline` made of it.
    """
    import mido

    file = mido.MidiFile(type=1, ticks_per_beat=TICKS)
    file.tracks.append(_track(line, line.name, _conductor(line)))
    for device in rig.midi:
        events = [
            (cue.tick, _message(message.octets))
            for cue in line.cues
            for message in cue.messages
            if message.device == device.id
        ]
        if events:
            file.tracks.append(_track(line, device.label, events))
    written = io.BytesIO()
    file.save(file=written)
    return written.getvalue()


Event = tuple[int, Any]
"""A tick and one of mido's messages."""


def _message(octets: tuple[int, ...]) -> Any:
    import mido

    return mido.Message.from_bytes(octets)


def _conductor(line: Timeline) -> list[Event]:
    import mido

    meta = mido.MetaMessage
    events = [(tempo.tick, meta("set_tempo", tempo=tempo.microseconds)) for tempo in line.tempi]
    events += [
        (
            meter.tick,
            meta(
                "time_signature",
                numerator=meter.upper,
                denominator=meter.lower,
                clocks_per_click=meter.clocks,
                notated_32nd_notes_per_beat=8,
            ),
        )
        for meter in line.meters
    ]
    events += [
        (start.tick, meta("cue_marker", text=ascii_text(start.text))) for start in line.starts
    ]
    events += [(mark.tick, meta("marker", text=ascii_text(mark.text))) for mark in line.marks]
    return events


def _track(line: Timeline, name: str, events: Iterable[Event]) -> mido.MidiTrack:
    import mido

    track = mido.MidiTrack()
    track.append(mido.MetaMessage("track_name", name=ascii_text(name)))
    before = 0
    for tick, message in sorted(events, key=lambda event: event[0]):
        track.append(message.copy(time=tick - before))
        before = tick
    track.append(mido.MetaMessage("end_of_track", time=line.end - before))
    return track


def ascii_text(text: str) -> str:
    """Return a text in printable ASCII: accents go, and what has no such letter becomes "?".

    Source: SMF 1.1, text events: "printable ASCII characters for maximum interchange".
    """
    spelled = "".join(_SPELLED.get(char, char) for char in text)
    plain = unicodedata.normalize("NFKD", spelled)
    bare = (char for char in plain if not unicodedata.combining(char))
    return "".join(c if " " <= c <= "~" else "?" for c in bare)[:_LONGEST_TEXT]
