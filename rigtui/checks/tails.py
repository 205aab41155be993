"""Echoes and reverb that a change cuts off, and old echoes that come back."""

from __future__ import annotations

from collections.abc import Iterator

from rigtui.chain.tails import delay_tail_seconds, reverb_tail_seconds
from rigtui.checks.demand import say_seconds
from rigtui.checks.finding import Hit, RigView, Rule
from rigtui.checks.played import played, remembered
from rigtui.checks.tempo import tapped_note
from rigtui.checks.words import named, section_of
from rigtui.model import Pedal, Player, Section, Song
from rigtui.model.places import section_place
from rigtui.model.text import listed, visible
from rigtui.moves.clock import beat_seconds, quarter_tempo, section_seconds

MISSED_SECONDS = 0.1
"""How much of a tail may go without anybody missing it (a default, not measured)."""
_EDGE = 1e-6
"""Seconds by which a tail may outlast a rest of the same length: floating point, not music."""


def tail_seconds(pedal: Pedal, player: Player, tapped_ms: float) -> float | None:
    """Return how long a pedal sounds on after the last note; None where its figures are unknown.

    A pedal that follows the tempo repeats its subdivision, or every beat if it names none, as far
    as it reaches.

    Args:
        pedal: Any pedal; one with both kinds of figures has the longer of its tails.
        player: Who says how far an echo must fall.
        tapped_ms: The time that it has where it follows the tempo.
    """
    floor, tails = player.tail_floor_db, []
    delay_ms = pedal.delay_ms
    if pedal.tap and pedal.kind == "delay":
        delay_ms = min(tapped_ms, pedal.max_delay_ms or tapped_ms)
    if delay_ms is not None and pedal.feedback is not None:
        tails.append(delay_tail_seconds(delay_ms, pedal.feedback, floor))
    if pedal.decay_seconds is not None:
        tails.append(reverb_tail_seconds(pedal.decay_seconds, floor))
    return max(tails, default=None)


def _ringing(
    view: RigView, song: Song, section: Section, names: tuple[str, ...]
) -> dict[str, float]:
    """Tails of the pedals that sound on in a section and stop dead when switched out."""
    tails = {}
    for name in names:
        pedal = view.known.pedals[name]
        if pedal.trails:
            continue
        tapped_ms = 0.0
        if pedal.tap:
            tapped_ms = tapped_note(song, section, pedal).ms(quarter_tempo(song, section))
        tail = tail_seconds(pedal, view.player, tapped_ms)
        if tail is not None:
            tails[name] = tail
    return tails


def _switched_out(view: RigView, song: Song) -> tuple[tuple[int, dict[str, float]], ...]:
    """The sections that end pedals which sound on, and the tails of these pedals."""
    parts, ended = played(view, song), []
    for at in range(1, len(parts)):
        before, after = parts[at - 1], parts[at]
        out = tuple(pedal for pedal in before.sound if pedal not in after.sound)
        tails = _ringing(view, song, before.section, out) if out else {}
        if tails:
            ended.append((at, tails))
    return tuple(ended)


def _rest(song: Song, at: int) -> float:
    """Seconds in which nothing is played before a section."""
    return (song.sections[at].rest_beats or 0) * beat_seconds(song, song.sections[at - 1])


def _tail_cut(view: RigView, song: Song) -> Iterator[Hit]:
    parts = played(view, song)
    for at, tails in remembered(view, song, _switched_out):
        before, rest = parts[at - 1], _rest(song, at)
        cut = {name: tail for name, tail in tails.items() if tail > rest + MISSED_SECONDS}
        if cut:
            each = listed(
                f"{named(view.known.pedals[name])} (sounds on for {say_seconds(tail)})"
                for name, tail in cut.items()
            )
            there_is = f"only {say_seconds(rest)} of rest" if rest else "no rest"
            yield Hit(
                section_place(song.id, at),
                f"{visible(before.section.name)} → {section_of(song, at)} cuts off {each}; there "
                f"is {there_is} before it",
            )


def _stale_echo(view: RigView, song: Song) -> Iterator[Hit]:
    ended = dict(remembered(view, song, _switched_out))
    if not ended:
        return
    parts = played(view, song)
    left: dict[str, tuple[float, float]] = {}
    """Pedal -> its tail, and the seconds since the last note that it heard."""
    for at in range(min(ended), len(parts)):
        after = parts[at]
        for name in [name for name in left if name in after.sound]:
            tail, silent = left.pop(name)
            if tail > silent + _EDGE:
                yield Hit(
                    section_place(song.id, at),
                    f"{section_of(song, at)} switches {named(view.known.pedals[name])} back in "
                    f"{say_seconds(silent)} after its last note, and it sounds on for "
                    f"{say_seconds(tail)}",
                )
        for name, tail in ended.get(at, {}).items():
            if name in view.known.loop_of:
                left[name] = (tail, _rest(song, at))
        if not left:
            continue
        seconds = section_seconds(song, after.section)
        left = {name: (tail, silent + seconds) for name, (tail, silent) in left.items()}


_SOURCE = (
    "echoes: a comb filter's feedback, 20 log10 dB off at each repeat; reverb: reverberation time "
    "as ISO 3382-1 defines it; a fall of 40 dB is a default, not measured"
)

RULES = (
    Rule(
        "tail-cut", "advice", "song", "A change switches out a delay or reverb that still sounds.",
        "The echo stops dead at the change. In a full band often nobody hears that; "
            "after a quiet part everybody does.",
        f"{_SOURCE}; up to {MISSED_SECONDS} s may be missing", _tail_cut,
    ),
    Rule(
        "stale-echo", "warning", "song", "A loop comes back in before its old echoes have died.",
        "The pedal keeps repeating while its loop is out, so the end of the old part comes back.",
        _SOURCE, _stale_echo,
    ),
)  # fmt: skip
