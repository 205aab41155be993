"""A whole set: whether it fits its slot, and whether its order swaps guitars too often."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from itertools import pairwise

from rigtui.checks.evening import Stop, stops
from rigtui.checks.finding import Fix, Hit, RigView, Rule
from rigtui.checks.played import remembered
from rigtui.checks.words import named
from rigtui.model import Set, Setlist, Song
from rigtui.model.edits import set_set
from rigtui.model.place_words import set_title
from rigtui.model.places import set_place
from rigtui.model.text import clock_time, count, listed, visible
from rigtui.moves.clock import song_seconds

FULL = 1.0
NEARLY_FULL = 0.95
"""Share of the slot above which one more chorus is too much (a default, not measured)."""

Tuned = tuple[str | None, str | None]
"""Guitar and tuning."""


def _by_set(view: RigView, setlist: Setlist) -> Iterator[tuple[int, Set, list[Stop]]]:
    songs: dict[int, list[Stop]] = {}
    for stop in stops(view, setlist):
        songs.setdefault(stop.set_at, []).append(stop)
    for at, stops_of_set in songs.items():
        yield at, setlist.sets[at], stops_of_set


def _length(view: RigView, song: Song) -> float:
    return song_seconds(song)


def _set_time(view: RigView, setlist: Setlist) -> Iterator[Hit]:
    for at, part, songs in _by_set(view, setlist):
        if part.slot_minutes is None:
            continue
        slot = part.slot_minutes * 60
        lengths = [remembered(view, stop.song, _length) for stop in songs]
        gaps = sum(max(stop.gap_seconds or 0, stop.swap.seconds) for stop in songs[1:])
        seconds = sum(lengths) + gaps
        share = seconds / slot
        if share <= NEARLY_FULL:
            continue
        open_ends = sum(bool(part_.until) for stop in songs for part_ in stop.song.sections)
        guess = f"; {count(open_ends, 'open repeat')} in it may run longer" if open_ends else ""
        would_do = _would_do(songs, lengths, seconds - slot)
        yield Hit(
            set_place(setlist.id, at),
            f"{visible(set_title(part, at))} runs {clock_time(seconds)}, {clock_time(gaps)} of it "
            f"between songs, in a slot of {clock_time(slot)}: {share:.0%}{would_do}{guess}",
            severity="error" if share > FULL else None,
        )


def _would_do(songs: list[Stop], lengths: list[float], over: float) -> str:
    """The shortest song that makes the set fit if it is left out."""
    if over <= 0:
        return ""
    enough = [(length, place) for place, length in enumerate(lengths) if length >= over]
    if not enough:
        return f", {clock_time(over)} too long"
    length, place = min(enough)
    return (
        f", {clock_time(over)} too long; leaving out {named(songs[place].song)} "
        f"({clock_time(length)}) would fix it"
    )


def _swap_order(view: RigView, setlist: Setlist) -> Iterator[Hit]:
    for at, part, songs in _by_set(view, setlist):
        tuned = _tuned([stop.song for stop in songs])
        swaps = sum(a != b for a, b in pairwise(tuned))
        groups = dict.fromkeys(tuned)
        if swaps <= len(groups) - 1:
            continue
        yield Hit(
            set_place(setlist.id, at),
            f"{visible(set_title(part, at))} changes guitar or tuning "
            f"{count(swaps, 'time')}; with {listed(map(_group_name, groups))} "
            f"together, {len(groups) - 1} would be enough",
            _grouped(setlist, at, songs, tuned),
        )


def _tuned(songs: list[Song]) -> list[Tuned]:
    """Guitar and tuning of each song; what a song leaves out is as before, at first as next."""
    guitar = next((song.guitar for song in songs if song.guitar), None)
    tuning = next((song.tuning for song in songs if song.tuning), None)
    tuned: list[Tuned] = []
    for song in songs:
        guitar, tuning = song.guitar or guitar, song.tuning or tuning
        tuned.append((guitar, tuning))
    return tuned


def _group_name(group: Tuned) -> str:
    return " in ".join(visible(word) for word in group if word)


def _grouped(setlist: Setlist, at: int, songs: list[Stop], tuned: list[Tuned]) -> Fix | None:
    """Bring the songs of a guitar and tuning together, in the order in which they come up.

    Not where a song leaves its guitar or tuning to the one before, or names its gap: such a song
    belongs where it stands.
    """
    part = setlist.sets[at]
    own = [(stop.song.guitar, stop.song.tuning) for stop in songs]
    tied = any(stop.song.gap_seconds is not None for stop in songs[:-1])
    if tied or own != tuned or len(songs) != len(part.songs):
        return None
    order = tuple(
        stop.song.id
        for group in dict.fromkeys(tuned)
        for stop, in_tune in zip(songs, tuned)
        if in_tune == group
    )
    return Fix(
        f"play the songs of one guitar and tuning together in {visible(set_title(part, at))}",
        partial(set_set, setlist_id=setlist.id, at=at, songs=order),
    )


RULES = (
    Rule(
        "set-time", "warning", "setlist", "A set is longer than its slot, or nearly so.",
        "If the venue pulls the plug, it does so in your last chorus.",
        f"sum of songs, gaps and swaps; {NEARLY_FULL:.0%} is a default, not measured", _set_time,
    ),
    Rule(
        "swap-order", "advice", "setlist",
        "A set changes guitar or tuning more often than its songs need.",
        "Every swap is talk that the singer must fill, and a tuner that somebody must watch.",
        "grouping needs one change fewer than there are groups", _swap_order,
    ),
)  # fmt: skip
