"""Songs out of Standard MIDI Files: tempo map, time signatures, markers.

Notes are not looked at. A section goes from one marker to the next; its bars follow from ticks and
time signatures, so nothing about length has to be asked.

Source: Standard MIDI Files 1.1. Without a time signature 4/4 is assumed, without a tempo 120
quarter notes a minute.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from fractions import Fraction
from typing import Any, NamedTuple

from rigtui.model.limits import MAX_SECTIONS
from rigtui.model.meter import default_beat, is_meter
from rigtui.model.text import number_text, visible
from rigtui.store.importing.draft import Draft, DraftSection, DraftSong, ImportFault
from rigtui.store.importing.smf_events import KEY, MARKER, METER, NAME, TEMPO, smf_content

_NEAR_BAR = Fraction(1, 50)
"""Bars by which a marker may miss a bar line and still mean it: played in, not drawn."""
_MINUTE = 60_000_000
_MOST_TEMPI = 200_000
_HIGHEST_POWER = 16
"""The smallest note that a message spells out as a number, as a power of two."""


class _TempoMap(NamedTuple):
    """What a file says besides notes; ticks from its start."""

    quarter: int
    """Ticks per quarter note."""
    name: str
    key: str
    tempi: list[tuple[int, int]]
    """Tick and microseconds per quarter note."""
    meters: list[tuple[int, str]]
    markers: list[tuple[int, str]]
    end: int


def read_smf(content: bytes, name: str) -> Draft:
    """Read a Standard MIDI File.

    Args:
        content: The file.
        name: What the song is called if the file does not say it.

    Raises:
        ImportFault: it is no such file, is damaged, or is of a kind that has no bars.
    """
    tempo_map = _map_of(content)
    notes: list[str] = []
    if tempo_map.end <= 0:
        raise ImportFault("it has no length, so there is nothing to make sections from")
    if not tempo_map.meters or tempo_map.meters[0][0] > 0:
        notes.append("no time signature at the start: 4/4, as in any MIDI file without one")
    if not tempo_map.tempi or tempo_map.tempi[0][0] > 0:
        notes.append("no tempo at the start: 120, as in any MIDI file without one")
    sections = [_section(tempo_map, *span, notes) for span in _spans(tempo_map, notes)]
    first = sections[0].more
    song = DraftSong(
        tempo_map.name or name,
        tempo=first["tempo"],
        meter=first["meter"],
        sections=tuple(_without_repeats(sections)),
        more={"note": f"Key: {tempo_map.key}"} if tempo_map.key else {},
    )
    return Draft("midi", (song,), tuple(notes))


def _map_of(content: bytes) -> _TempoMap:
    read = smf_content(content)
    if read.format == 2:
        raise ImportFault("it is a MIDI file of format 2, loose patterns without a song")
    if not 0 < read.division < 0x8000:
        raise ImportFault("it counts time in film frames, not in bars")
    tempi: dict[int, int] = {}
    meters: dict[int, str] = {}
    markers: list[tuple[int, str]] = []
    name, key = "", ""
    for number, track in enumerate(read.tracks):
        for tick, kind, data in track.events:
            if kind == TEMPO:
                tempi[tick] = int.from_bytes(data[:3], "big")
            elif kind == METER:
                meters[tick] = _meter(data[0], data[1])
            elif kind == MARKER:
                markers.append((tick, _text(data)))
            elif kind == NAME and number == 0 and not name:
                name = _text(data)
            elif kind == KEY and not key:
                key = _key(int.from_bytes(data[:1], "big", signed=True), data[1])
    if len(tempi) > _MOST_TEMPI:
        raise ImportFault(f"it has {len(tempi)} changes of tempo: too many to make sections of")
    if len(markers) + len(meters) > MAX_SECTIONS:
        raise ImportFault(
            f"it has {len(markers)} markers and {len(meters)} time signatures: a song "
            f"has at most {MAX_SECTIONS} sections"
        )
    if any(tempo <= 0 for tempo in tempi.values()):
        raise ImportFault("it has a tempo of zero length")
    markers.sort(key=lambda marker: marker[0])
    end = max((track.end for track in read.tracks), default=0)
    return _TempoMap(
        read.division, name, key, sorted(tempi.items()), sorted(meters.items()), markers, end
    )


def _meter(upper: int, power: int) -> str:
    """A time signature; its lower number stands in the file as a power of two."""
    if power > _HIGHEST_POWER or not is_meter(upper, 1 << power):
        lower = 1 << power if power <= _HIGHEST_POWER else f"2^{power}"
        raise ImportFault(f"it has a time signature that rigtui can't use: {upper}/{lower}")
    return f"{upper}/{1 << power}"


def _key(sharps: int, mode: int) -> str:
    """A key by its number of sharps, flats being below 0; empty where there is no such key.

    Source: Standard MIDI Files 1.1, FF 59; minor keys stand three fifths above their signature.
    """
    if abs(sharps) > 7 or mode > 1:
        return ""
    fifths = sharps + 3 * mode
    return "FCGDAEB"[(fifths + 1) % 7] + ("b", "", "#")[(fifths + 1) // 7 + 1] + "m" * mode


def _text(content: bytes) -> str:
    """Text of a MIDI event: the standard has Latin-1 in mind; many programs write UTF-8."""
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        text = content.decode("latin-1")
    return visible(" ".join(text.replace("\0", " ").split()))[:200]


def _at(events: list[tuple[int, Any]], tick: int, default: Any) -> Any:
    """What holds at a tick."""
    place = bisect_right(events, tick, key=_tick_of)
    return events[place - 1][1] if place else default


def _tick_of(event: tuple[int, Any]) -> int:
    return event[0]


def _spans(tempo_map: _TempoMap, notes: list[str]) -> Iterator[tuple[str, int, int, str]]:
    """Give name, first tick, end and meter of each section."""
    starts = [(tick, text or "Section") for tick, text in tempo_map.markers if tick < tempo_map.end]
    if not starts:
        notes.append("no markers: the whole song is one section")
        starts = [(0, "Song")]
    elif starts[0][0] > 0:
        notes.append('the bars before the first marker are called "Start"')
        starts.insert(0, (0, "Start"))
    for at, (tick, text) in enumerate(starts):
        end = starts[at + 1][0] if at + 1 < len(starts) else tempo_map.end
        if end <= tick:
            notes.append(f"{text} has no length (two markers at once), so it is left out")
            continue
        inside = [when for when, _ in tempo_map.meters if tick < when < end]
        for part, (begin, stop) in enumerate(zip([tick, *inside], [*inside, end])):
            meter = _at(tempo_map.meters, begin, "4/4")
            yield (f"{text} ({meter})" if part else text), begin, stop, meter


def _section(
    tempo_map: _TempoMap, name: str, begin: int, end: int, meter: str, notes: list[str]
) -> DraftSection:
    quarters = Fraction(end - begin, tempo_map.quarter)
    bars = quarters / (Fraction(meter) * 4)
    whole = round(bars)
    if whole and bars != whole and abs(bars - whole) <= _NEAR_BAR:
        notes.append(f"{name} lasts {float(bars):.3f} bars: taken as {whole}")
        bars = Fraction(whole)
    steady, tempo = _tempo(tempo_map, begin, end, default_beat(meter))
    if not steady:
        notes.append(
            f"{name} changes its tempo inside: taken as {number_text(tempo)}, which "
            "lasts just as long"
        )
    length = int(bars) if bars.denominator == 1 else round(float(bars), 6)
    return DraftSection(name, bars=length, more={"tempo": tempo, "meter": meter})


def _tempo(tempo_map: _TempoMap, begin: int, end: int, beat: Fraction) -> tuple[bool, float]:
    """Whether the tempo stays within a microsecond, and the one that makes the section as long."""
    first = bisect_right(tempo_map.tempi, begin, key=_tick_of)
    inside = tempo_map.tempi[first : bisect_left(tempo_map.tempi, end, key=_tick_of)]
    steps = [(begin, _at(tempo_map.tempi, begin, 500_000)), *inside]
    ends = [tick for tick, _ in inside] + [end]
    total = sum((stop - tick) * tempo for (tick, tempo), stop in zip(steps, ends))
    mean = Fraction(total, end - begin)
    used = [tempo for _, tempo in steps]
    return max(used) - min(used) <= 1, simplest_tempo(mean, beat)


def simplest_tempo(microseconds: Fraction, beat: Fraction) -> float:
    """Return the roundest number of beats a minute that a quarter note of this length means.

    A file holds whole microseconds, so 118 beats come back as 117.99988: any number that would be
    written as the same microseconds is as good, and people like the round one.
    """
    exact = Fraction(_MINUTE) / microseconds / (beat * 4)
    for places in range(7):
        tempo = Fraction(round(exact, places))
        if tempo and abs(Fraction(_MINUTE) / tempo / (beat * 4) - microseconds) <= Fraction(3, 4):
            break
    return int(tempo) if tempo.denominator == 1 else float(tempo)


def _without_repeats(sections: list[DraftSection]) -> Iterator[DraftSection]:
    """Drop tempo and meter where they are the song's own.

    Raises:
        ImportFault: there are more sections than fit a song.
    """
    if len(sections) > MAX_SECTIONS:
        raise ImportFault(f"it has {len(sections)} sections: a song has at most {MAX_SECTIONS}")
    song = sections[0].more
    for section in sections:
        more = {key: value for key, value in section.more.items() if value != song[key]}
        yield DraftSection(section.name, bars=section.bars, more=more)
