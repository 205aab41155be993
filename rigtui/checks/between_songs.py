"""Between songs: swaps and set-up that the gap has no time for, and what is left over."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.checks.carry import CARRY_WHY, Carried, Left, carried_into, gets, said
from rigtui.checks.demand import (
    HandWork,
    ahead_seconds,
    feet_seconds,
    figures_set,
    is_over,
    say_seconds,
    window_seconds,
)
from rigtui.checks.evening import Stop, stops
from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.played import played, remembered
from rigtui.checks.tempo import TAP_WHY, TAPS, taps_wanted
from rigtui.checks.words import named
from rigtui.model import Setlist, Song
from rigtui.model.edits import set_song
from rigtui.model.text import listed, number_text
from rigtui.moves import on_the_beat
from rigtui.moves.clock import beat_seconds, section_seconds, tempo_of
from rigtui.moves.taps import HEARD
from rigtui.moves.words import presses_in_words

TIGHT = 0.8
"""Share of a gap above which a swap gets tight (a default, not measured)."""


def _gap_words(stop: Stop) -> str:
    assert stop.before is not None
    return f"{named(stop.before)} → {named(stop.song)}"


def _guitar_conflict(view: RigView, setlist: Setlist) -> Iterator[Hit]:
    for stop in stops(view, setlist):
        if stop.before is None or stop.gap_seconds is None or not stop.swap.seconds:
            continue
        if stop.swap.seconds <= TIGHT * stop.gap_seconds:
            continue
        # A gap that the song itself names is a promise to the band; the usual gap can stretch.
        promised = stop.before.gap_seconds is not None
        over = is_over(stop.swap.seconds, stop.gap_seconds)
        yield Hit(
            stop.where,
            f"{_gap_words(stop)} needs {say_seconds(stop.swap.seconds)} to "
            f"{listed(stop.swap.words)}{'; the gap is' if over else ', nearly all of the gap of'} "
            f"{say_seconds(stop.gap_seconds)}",
            severity="error" if promised and over else None,
        )


def _late_set_up(view: RigView, setlist: Setlist) -> Iterator[Hit | None]:
    for stop in stops(view, setlist):
        yield None
        gap, before = stop.gap_seconds, stop.before
        if before is None or gap is None or not stop.presses:
            continue
        if stop.swap.seconds > TIGHT * gap:
            continue  # guitar-conflict says it
        if not before.sections or not stop.song.sections:
            continue
        first, last = stop.song.sections[0], before.sections[-1]
        window = gap + window_seconds(view.player, first.rest_beats, beat_seconds(before, last))
        ended = played(view, before)[-1]
        hands = figures_set(view.player, ended.volume, ended.pickup, played(view, stop.song)[0])
        if stop.new_guitar:
            hands = HandWork()
        now = max(
            feet_seconds(view.player, on_the_beat(stop.presses)), hands.seconds + stop.swap.seconds
        )
        ahead = ahead_seconds(view.player, stop.presses)
        if not is_over(now, window) and not is_over(ahead, window + section_seconds(before, last)):
            continue
        swaps = f"to {listed(stop.swap.words)} and " if stop.swap.words else ""
        words = listed(
            (*presses_in_words(view.rig, first, stop.presses, timed=False), *hands.words)
        )
        yield Hit(
            stop.where,
            f"{_gap_words(stop)} needs {say_seconds(max(now, ahead))} {swaps}for "
            f"{words}, but there is only {say_seconds(window)} between the last beat "
            "of one and the first of the other",
        )


def _carry_over(view: RigView, setlist: Setlist) -> Iterator[Hit | None]:
    left = Left(channel=view.board.first_channel, channel_from="power-on")
    told: set[tuple[str, str]] = set()
    for stop in stops(view, setlist):
        yield None
        if stop.capo_left:
            yield Hit(
                stop.where,
                f"{named(stop.song)} doesn't say whether it needs a capo, and one is "
                f"still on fret {stop.capo_left} from an earlier song",
                _no_capo(stop.song),
            )
        if stop.new_guitar:
            left = left._replace(volume=None)
        for carried in _carried_to(view, left, stop):
            volume = carried.what == "volume"
            origin = said(left.volume_from if volume else left.channel_from)
            if (carried.what, origin) not in told:
                told.add((carried.what, origin))
                yield Hit(stop.where, carried.words, carried.fix)
        left = _after(left, remembered(view, stop.song, _end))


def _no_capo(song: Song) -> Fix:
    return Fix(f"set capo 0 for {named(song)}", partial(set_song, song_id=song.id, capo=0))


def _carried_to(view: RigView, left: Left, stop: Stop) -> Iterator[Carried]:
    """What a song gets from the songs before; what it gets from itself, its own rule says."""
    parts = played(view, stop.song)
    for what, at in remembered(view, stop.song, _takers):
        for carried in carried_into(view, left, stop.song, at, parts[at]):
            if carried.what == what:
                yield carried


def _takers(view: RigView, song: Song) -> tuple[tuple[str, int], ...]:
    """The first sections that would get a volume, and a channel, from before the song."""
    takers: dict[str, int] = {}
    named: set[str] = set()
    for at, part in enumerate(played(view, song)):
        named |= {"volume"} if part.named_volume is not None else set()
        named |= {"channel"} if part.preset is not None and part.preset.channel else set()
        for what in sorted(gets(part) - named, reverse=True):  # the volume before the channel
            takers.setdefault(what, at)
    return tuple(takers.items())


def _end(view: RigView, song: Song) -> Left:
    """What a song leaves behind of what it names itself."""
    left = Left()
    for at, part in enumerate(played(view, song)):
        left = left.after(song, at, part)
    return left


def _after(left: Left, end: Left) -> Left:
    if end.volume is not None:
        left = left._replace(
            volume=end.volume, volume_from=end.volume_from, volume_before=end.volume_before
        )
    if end.channel is not None:
        left = left._replace(channel=end.channel, channel_from=end.channel_from)
    return left


def _tap_window(view: RigView, setlist: Setlist) -> Iterator[Hit]:
    if not any(pedal.tap for pedal in view.rig.pedals):
        return
    tempi: dict[str, float] = {}
    for stop in stops(view, setlist):
        parts = played(view, stop.song)
        if not parts:
            continue
        tempo = tempo_of(stop.song, parts[0].section)
        seconds = TAPS * beat_seconds(stop.song, parts[0].section)
        for pedal in taps_wanted(view, parts[0].sound):
            known = tempi.get(pedal.id)
            same = known is not None and abs(tempo / known - 1) <= HEARD
            if stop.gap_seconds is not None and not same and seconds > stop.gap_seconds:
                yield Hit(
                    stop.where,
                    f"{named(stop.song)} starts with {named(pedal)} on at "
                    f"{number_text(tempo)}: {TAPS} taps take {seconds:.1f} s, and the gap "
                    f"before it is {say_seconds(stop.gap_seconds)}",
                )
        tempi |= remembered(view, stop.song, _tapped)


def _tapped(view: RigView, song: Song) -> dict[str, float]:
    """The tempo that each pedal was last tapped in a song."""
    return {
        pedal.id: tempo_of(song, part.section)
        for part in played(view, song)
        for pedal in taps_wanted(view, part.sound)
    }


RULES = (
    Rule(
        "guitar-conflict", "warning", "setlist",
        "A change of guitar, tuning or capo doesn't fit the gap between two songs.",
        "The band starts while you are still at the tuner.",
        "sum of the player's own times over the gap; their defaults are proposals",
        _guitar_conflict,
    ),
    Rule(
        "late-set-up", "warning", "setlist",
        "The set-up moves for the next song don't fit the gap before it.",
        "If you aren't set up in time, the song starts with the wrong sound.",
        "sum of the player's own times over the gap; their defaults are proposals", _late_set_up,
    ),
    Rule(
        "carry-over", "warning", "setlist",
        "A song gets a capo, a guitar volume or an amp channel left over from the song before.",
        CARRY_WHY, "common practice", _carry_over,
    ),
    Rule(
        "tap-window", "advice", "setlist", "A gap is too short to tap in the next song's tempo.",
        TAP_WHY, "four taps, a default; no finding where the tempo comes by clock", _tap_window,
    ),
)  # fmt: skip
