"""Delay times against the tempo of what is played over them.

Left alone: times under 150 ms (slapback, heard as thickness and not as rhythm), sections on an
ambient preset, a few bars with a tempo of their own (a song that slows to its end has no grid),
and pedals whose time follows the tempo.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from rigtui.checks.finding import SEVERITIES, Hit, RigView, Rule, Severity
from rigtui.checks.played import played, remembered
from rigtui.checks.words import named, section_of
from rigtui.model import Pedal, Section, Song
from rigtui.model.places import place_at, section_place
from rigtui.model.text import count, listed, number_text
from rigtui.moves.clock import beat_of, beat_seconds, quarter_tempo, tempo_of
from rigtui.moves.notes import ECHOES, NOTES, QUARTER, Note, nearest_note, note_of
from rigtui.moves.taps import HEARD

HEARD_MS = 6.0
"""The same for short times, in milliseconds."""
SHORT_MS = 240.0
DRIFT = 0.05
"""Error in proportion up to which a band without a click may drift by itself; with one, more than
that is a warning (common practice; the figure is a default, not measured)."""
SLAPBACK_MS = 150.0
RITARDANDO_BARS = 4
TAPS = 4
"""Taps until a pedal has the tempo (a default, not measured)."""
_EDGE = 1e-9


class Echo(NamedTuple):
    """A delay of one fixed time over one tempo of a song, the one that it fits least."""

    pedal: Pedal
    section: Section
    note: Note
    ideal_ms: float
    error: float
    """The time that is set over the ideal, less 1."""
    severity: Severity | None
    """How far off it is; None where nobody hears it."""
    rank: tuple[int, float]
    """The greater the worse."""


def _weight(set_ms: float, ideal_ms: float, clicked: bool, is_lead: bool) -> Severity | None:
    """How much it matters that a time is off the beat.

    A band without a click drifts as much as `DRIFT` by itself. One fixed time for a lead sound is
    common practice, so that it is never more than advice.

    Source: Friberg and Sundberg on time discrimination in sequences of tones: 2.5 % above some
    240 ms, 6 ms below.
    """
    error = abs(set_ms / ideal_ms - 1)
    if error > DRIFT + _EDGE:
        return "advice" if is_lead else "warning"
    if not clicked:
        return None
    if ideal_ms < SHORT_MS:
        return "advice" if abs(set_ms - ideal_ms) > HEARD_MS + _EDGE else None
    return "advice" if error > HEARD + _EDGE else None


def _notes(song: Song, section: Section) -> tuple[Note, ...]:
    """The usual notes, and the beat where it is another (a dotted quarter in 6/8)."""
    beat = note_of(beat_of(song, section))
    known = any(beat.quarters == note.quarters for note in ECHOES)
    return ECHOES if known else (*ECHOES, beat)


def _echo(
    view: RigView, song: Song, section: Section, is_lead: bool, pedal: Pedal, set_ms: float
) -> Echo:
    tempo = quarter_tempo(song, section)
    note = nearest_note(set_ms, tempo, _notes(song, section))
    ideal = note.ms(tempo)
    clicked = view.player.click if song.click is None else song.click
    severity, error = _weight(set_ms, ideal, clicked, is_lead), set_ms / ideal - 1
    rank = (0 if severity is None else -SEVERITIES.index(severity) + len(SEVERITIES), abs(error))
    return Echo(pedal, section, note, ideal, error, severity, rank)


def _slows(song: Song, section: Section) -> bool:
    return section.tempo not in (None, song.tempo) and section.bars <= RITARDANDO_BARS


def _echoes(view: RigView, song: Song) -> tuple[Echo, ...]:
    """One for each fixed delay that the song plays over, in the order in which they come up."""
    worst: dict[str, Echo] = {}
    told: set[tuple[str, float, str]] = set()
    for part in played(view, song):
        if part.preset is None or part.preset.role == "ambient" or _slows(song, part.section):
            continue
        for name in part.sound:
            pedal = view.known.pedals[name]
            set_ms = pedal.delay_ms
            if set_ms is None or pedal.tap or set_ms < SLAPBACK_MS:
                continue
            key = (name, quarter_tempo(song, part.section), part.preset.role)
            if key in told:
                continue
            told.add(key)
            echo = _echo(view, song, part.section, part.preset.role == "lead", pedal, set_ms)
            if name not in worst or echo.rank > worst[name].rank:
                worst[name] = echo
    return tuple(worst.values())


def _off_grid(view: RigView, song: Song) -> Iterator[Hit]:
    for echo in remembered(view, song, _echoes):
        if echo.severity is None:
            continue
        pedal, tempo = echo.pedal, quarter_tempo(song, echo.section)
        quarter, longest = QUARTER.ms(tempo), pedal.max_delay_ms
        beyond = ""
        if longest is not None and quarter > longest + _EDGE:
            beyond = f"; {QUARTER} is {quarter:.0f} ms, but it only goes to {number_text(longest)}"
        yield Hit(
            place_at("songs", song.id),
            f"{named(pedal)} at {number_text(pedal.delay_ms or 0)} ms is {abs(echo.error):.1%} too "
            f"{'long' if echo.error > 0 else 'short'} for {named(song)} at "
            f"{number_text(tempo_of(song, echo.section))}: {echo.note}, the nearest, is "
            f"{echo.ideal_ms:.0f} ms{beyond}",
            severity=echo.severity,
        )


def _one_time(view: RigView) -> Iterator[Hit | None]:
    if not any(pedal.delay_ms and not pedal.tap for pedal in view.rig.pedals):
        return
    by_pedal: dict[str, list[Echo]] = {}
    for song in view.rig.songs:
        for echo in remembered(view, song, _echoes):
            by_pedal.setdefault(echo.pedal.id, []).append(echo)
        yield None
    for pedal in view.rig.pedals:
        echoes = by_pedal.get(pedal.id, [])
        off = [echo.severity for echo in echoes if echo.severity is not None]
        ideals = [echo.ideal_ms for echo in echoes]
        if len(echoes) < 2 or not off or max(ideals) / min(ideals) - 1 <= HEARD + _EDGE:
            continue
        yield Hit(
            place_at("pedals", pedal.id),
            f"{named(pedal)} has one time, {number_text(pedal.delay_ms or 0)} ms, for "
            f"{count(len(echoes), 'song')}, and is off the beat in {len(off)} of them: "
            f"they need {min(ideals):.0f} to {max(ideals):.0f} ms",
            severity=None if "warning" in off else "advice",
        )


def tapped_note(song: Song, section: Section, pedal: Pedal) -> Note:
    """Return the note that a pedal repeats when it is tapped: its own, or the beat if it has none.

    Many delays are tapped in quarters and repeat dotted eighths (common practice).
    """
    return note_of(Fraction(pedal.subdivision) if pedal.subdivision else beat_of(song, section))


def _too_long(view: RigView, song: Song) -> Iterator[Hit]:
    told: set[str] = set()
    for part in played(view, song):
        for name in part.sound:
            pedal = view.known.pedals[name]
            longest = pedal.max_delay_ms
            if not pedal.tap or longest is None or name in told:
                continue
            tempo, note = quarter_tempo(song, part.section), tapped_note(song, part.section, pedal)
            wanted_ms = note.ms(tempo)
            if wanted_ms <= longest + _EDGE:
                continue
            told.add(name)
            fits = _that_fit(tempo, longest)
            offer = listed((f"{fit} ({fit.ms(tempo):.0f} ms)" for fit in fits), "or")
            yield Hit(
                place_at("songs", song.id),
                f"{named(song)} at {number_text(tempo_of(song, part.section))} needs "
                f"{wanted_ms:.0f} ms from {named(pedal)} for {note}, but it only goes "
                f"to {number_text(longest)}: {offer or 'no note'} fits",
                severity=None if fits else "error",
            )


def _that_fit(quarter_tempo: float, longest_ms: float) -> list[Note]:
    """The longest note that a delay can do, and the longest that is no dotted or triplet one."""
    fit = [note for note in NOTES if note.ms(quarter_tempo) <= longest_ms + _EDGE]
    plain = [note for note in fit if note.name.endswith(" note")]
    return list(dict.fromkeys([*fit[:1], *plain[:1]]))


def taps_wanted(view: RigView, sound: tuple[str, ...]) -> list[Pedal]:
    """Pedals of a sound that are told the tempo by tapping."""
    pedals = (view.known.pedals[name] for name in sound)
    return [pedal for pedal in pedals if pedal.tap]


def _tap_window(view: RigView, song: Song) -> Iterator[Hit]:
    if all(section.tempo is None for section in song.sections):
        return
    tapped: dict[str, float] = {}
    for at, part in enumerate(played(view, song)):
        for pedal in taps_wanted(view, part.sound):
            tempo = tempo_of(song, part.section)
            known = tapped.get(pedal.id, tempo_of(song, song.sections[0]))
            tapped[pedal.id] = tempo
            if at == 0 or abs(tempo / known - 1) <= HEARD + _EDGE:
                continue
            beats = (part.section.rest_beats or 0) + view.player.lead_in_beats
            free = beats * beat_seconds(song, song.sections[at - 1])
            need = TAPS * beat_seconds(song, part.section)
            if need > free + _EDGE:
                yield Hit(
                    section_place(song.id, at),
                    f"{section_of(song, at)} goes to {number_text(tempo)} with "
                    f"{named(pedal)} on: {TAPS} taps take {need:.1f} s, but there are "
                    f"only {free:.1f} s before it",
                )


_GRID = "Friberg and Sundberg, time discrimination: 2.5 %, or 6 ms below 240 ms"
TAP_WHY = "A delay at the old tempo fights the drummer until you tap in the new one."

RULES = (
    Rule(
        "off-grid", "advice", "song", "A delay of one fixed time doesn't fit a song's tempo.",
        "Echoes beside the beat sound like a second drummer who is slightly lost.",
        f"{_GRID}, against a click, where more than 5 % is a warning; without a click the band "
        "drifts as much as 5 % by itself (common practice); on a lead preset never more than "
        "advice",
        _off_grid,
    ),
    Rule(
        "too-long", "warning", "song",
        "A tapped delay should repeat a note that is longer than the delay can go.",
        "A pedal that runs out of time halves it, or stays at its longest, so its "
            "repeats miss the beat.",
        "the pedal's longest time against its subdivision, or the beat, at the song's tempo",
        _too_long,
    ),
    Rule(
        "one-time-many-songs", "warning", "rig", "Songs of several tempos share one delay time.",
        "One time can't fit songs of several tempos: tap it in, or store a time for each.",
        _GRID, _one_time,
    ),
    Rule(
        "tap-window", "advice", "song", "A song changes tempo with no time to tap it in.",
        TAP_WHY, "four taps, a default; no finding where the tempo comes by clock", _tap_window,
    ),
)  # fmt: skip
