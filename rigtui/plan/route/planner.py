"""Route: the fewest presses with the layout as it is, song by song and over the whole evening.

Where it differs from what is written, the plan is the edit that adopts it: sections mapped to
other presets, with other pedals stepped on. An edit is kept only where the report then counts
fewer moves.
"""

from __future__ import annotations

import contextlib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, NamedTuple

from rigtui.model.edits import set_section
from rigtui.model.lookup import lookup
from rigtui.model.rig import Rig, Section, Song
from rigtui.moves import Board, Presses, SongCount, board_of, count_song, on_the_beat
from rigtui.moves.figures import State
from rigtui.moves.machine import power_on, set_up_on
from rigtui.moves.words import presses_in_words
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.evening import Evening, evening_of, figures, goal_of
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import OF_GOAL, Goal
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan, Proof, Status, Stopped
from rigtui.plan.ask.so_far import stopped
from rigtui.plan.route.walk import (
    MOST_FREE,
    Leg,
    WalkedSection,
    cheapest_walk,
    foot_channels,
    outside_masks,
)

_MOST_WALKED = 20_000
"""Sections of an evening, repeats included, up to which it is walked as one."""


@dataclass(frozen=True, slots=True)
class WalkStep:
    """What to press on the way to one section."""

    song: str
    section: int
    """From 0."""
    gap: bool
    """Whether it comes between songs."""
    presses: Presses
    words: tuple[str, ...]
    """The presses as a person says them."""


def song_walk(rig: Rig, song: Song) -> list[WalkStep]:
    """The least-moves walk of a song alone: one step for each change, starting set up.

    Its presses are as many as `least_held` counts.
    """
    walk = _alone(rig, song)
    return _steps(rig, [(song, at) for at in walk.places], walk.legs)


def least_held(rig: Rig, song: Song) -> int:
    """Least moves of a song alone with the presets that memories hold.

    `rigtui.moves` counts as many where every preset has a memory, and fewer where it recalls one
    that has none for a section whose own preset has one.
    """
    if all(stored.bank is not None for stored in board_of(rig).stored):
        return count_song(rig, song).least_moves
    return _alone(rig, song).moves


class _Alone(NamedTuple):
    """A song walked by itself, starting set up."""

    places: list[int]
    """Sections walked to."""
    rows: list[WalkedSection]
    legs: list[Leg]
    """The way to each of them; none where no walk makes every section sound right."""

    @property
    def moves(self) -> int:
        """Presses in all."""
        return sum(leg.moves for leg in self.legs)

    def weighed(self, board: Board, goal: Goal) -> int:
        """What the song weighs at least, mapped in whichever way to the presets that it has."""
        free = (sum(not row.target.fixed & bit for bit in board.loop_bit.values())
                for row in self.rows)  # fmt: skip
        extra = 0
        if not board.toggling or max(free, default=0) <= MOST_FREE:
            for row, leg in zip(self.rows, self.legs):
                at_once = sum(press.kind in ("switch", "loop") for press in leg.presses)
                extra += max(0, at_once + row.others - 1)
        return goal.move * self.moves + goal.extra * extra


def _alone(
    rig: Rig,
    song: Song,
    *,
    writable: bool = False,
    keep: Sequence[str] = (),
    goal: Goal | None = None,
    control: Control | None = None,
) -> _Alone:
    """Walk a song by itself, starting set up, as cheaply as can be."""
    board = board_of(rig)
    targets = [board.target(section) for section in song.sections]
    places = [at for at in range(1, len(targets)) if targets[at] is not None]
    rows = _rows(board, song, places, gap=False, keep=keep)
    start = set_up_on(board, targets[0] if targets else None)
    if goal is not None and goal.extra:
        rows = _with_others(board, song, places, rows, start)
    legs = cheapest_walk(board, start, rows, writable=writable, goal=goal, control=control)
    return _Alone(places, rows, legs or [])


def _with_others(
    board: Board, song: Song, places: Sequence[int], rows: Sequence[WalkedSection], start: State
) -> list[WalkedSection]:
    """The rows with what is pressed on the beat beside recalls and toggles."""
    on, channel = start.outside, start.channel
    masks, channels = outside_masks(board, on, rows), foot_channels(board, channel, rows)
    counted = []
    for at, row, mask, named in zip(places, rows, masks, channels):
        waiting = board.waiting(song.sections[at - 1], song.sections[at])
        presses = board.pedal_presses(on ^ mask, waiting)
        counted.append(row._replace(others=len(on_the_beat(presses)) + (named != channel)))
        on, channel = mask, named
    return counted


def evening_walk(rig: Rig, songs: Sequence[Song], control: Control | None = None) -> list[WalkStep]:
    """The cheapest walk of a whole evening from power-on.

    Presses inside songs weigh most, presses between songs decide among equals.

    Raises:
        Stopped: the player cancelled, the time is up, or the evening is longer than any.
    """
    board = board_of(rig)
    rows: list[WalkedSection] = []
    places: list[tuple[Song, int]] = []
    mapped: dict[str, tuple[list[WalkedSection], list[tuple[Song, int]]]] = {}
    for song in songs:
        if song.id not in mapped:
            if control is not None:
                control.stop_if_over()
            at_hand = [at for at, s in enumerate(song.sections) if board.target(s) is not None]
            its_places = [(song, at) for at in at_hand]
            mapped[song.id] = _rows(board, song, at_hand, gap=True), its_places
        rows += mapped[song.id][0]
        places += mapped[song.id][1]
        if len(rows) > _MOST_WALKED:
            raise Stopped
    legs = cheapest_walk(board, power_on(board), rows, control=control) or []
    return _steps(rig, places, legs)


def _rows(
    board: Board, song: Song, places: Sequence[int], *, gap: bool, keep: Sequence[str] = ()
) -> list[WalkedSection]:
    rows = []
    for nth, at in enumerate(places):
        target = board.target(song.sections[at])
        assert target is not None
        rows.append(WalkedSection(target, gap and nth == 0, song.sections[at].preset in keep))
    return rows


def _steps(rig: Rig, places: Sequence[tuple[Song, int]], legs: Sequence[Leg]) -> list[WalkStep]:
    board = board_of(rig)
    steps = []
    for (song, at), leg in zip(places, legs):
        section = song.sections[at]
        heard = _as_recalled(board, section, leg)
        words = presses_in_words(rig, heard, leg.presses, timed=not leg.gap)
        steps.append(WalkStep(song.id, at, leg.gap, leg.presses, words))
    return steps


def _as_recalled(board: Board, section: Section, leg: Leg) -> Section:
    """The section as the walk plays it, so that words name the preset that it recalls."""
    if leg.recalled is None:
        return section
    return section.model_copy(update=_mapping(board, section, leg))


def _mapping(board: Board, section: Section, leg: Leg) -> dict[str, Any]:
    """The keys of a section that make it what a leg ends in."""
    assert leg.recalled is not None
    stored = board.stored[leg.recalled]
    own = {loop: pedal for pedal, loop in reversed(board.loop_of.items())}
    loops_on = [own[n] for n in board.names(leg.mask & ~stored.mask) if n in own]
    loops_off = [own[n] for n in board.names(stored.mask & ~leg.mask) if n in own]
    kept = [p for p in section.plus if p not in board.outside_bit and p not in board.loop_of]
    outside = [p for p in board.outside if leg.outside & board.outside_bit[p]]
    dead = [p for p in section.minus if p not in board.loop_of]
    if not board.toggling:  # then what stands there does nothing, and is left as it stands
        kept += [p for p in section.plus if p in board.loop_of]
        dead = list(section.minus)
    return {
        "preset": board.preset_ids[leg.recalled],
        "plus": _in_order(section.plus, [*outside, *loops_on, *kept]),
        "minus": _in_order(section.minus, [*loops_off, *dead]),
    }


def _in_order(old: Sequence[str], new: Sequence[str]) -> tuple[str, ...]:
    """The new names, those that stood there already in their old order."""
    return tuple(dict.fromkeys([pedal for pedal in old if pedal in new] + list(new)))


def plan_route(rig: Rig, question: Question | None = None, control: Control | None = None) -> Plan:
    """Find the least-moves walks, and the edit that adopts those that save moves.

    Args:
        rig: The rig; its layout stays as it is.
        question: The setlists that count, and presets whose sections stay on them.
        control: Progress out, cancel in.
    """
    control = control or Control()
    question = question or Question()
    evening = evening_of(rig, question.setlists)
    before = figures(rig, evening)
    control.goal = goal_of(rig, evening, question.first)
    try:
        return _walked(rig, evening, before, control, question.keep)
    except Stopped:
        return stopped("route", before, control)


def _walked(
    rig: Rig, evening: Evening, before: Figures, control: Control, keep: Sequence[str]
) -> Plan:
    search = _Walks(rig, evening, before, control)
    adopted = rig
    try:
        for at, song in enumerate(evening.songs):
            control.tell("walking the songs", at / len(evening.songs), bound=search.bound)
            least = search.walk(song)
            new = _adopt(adopted, song, keep, least, control)
            if new is not adopted:
                adopted = new
                control.offer(partial(search.plan, adopted))
        for walk in evening.walks:
            search.evenings.append(_walk_data(rig, evening, *walk, control))
    except Stopped:
        control.stop_if_cancelled()
        search.late = True
    return search.plan(adopted, control)


class _Walks:
    """The walks of an evening's songs as far as there was time for them, and the plan from them."""

    def __init__(self, rig: Rig, evening: Evening, before: Figures, control: Control) -> None:
        self.rig, self.evening, self.before, self.control = rig, evening, before, control
        self.late = False
        """Whether the time was up before all was walked."""
        self.evenings: list[dict[str, Any]] = []
        """Each setlist as one walk."""
        self.least = 0
        """Least moves of the evening by the rules."""
        for song in evening.songs:
            control.stop_if_cancelled()
            self.least += evening.times[song.id] * count_song(rig, song).least_moves
        self.bound = control.goal.move * self.least
        """No mapping weighs less, as far as is known by now."""
        self._known: dict[str, _Alone] = {}

    def walk(self, song: Song) -> int:
        """Walk a song alone; return what it weighs at least with the presets that memories hold.

        Raises:
            Stopped: the player cancelled, or the time is up.
        """
        goal, rig = self.control.goal, self.rig
        walk = self._known[song.id] = _alone(rig, song, control=self.control)
        if goal.extra:
            walk = _alone(rig, song, goal=goal, control=self.control)
        weight = walk.weighed(board_of(rig), goal)
        more = weight - goal.move * count_song(rig, song).least_moves
        self.bound += self.evening.times[song.id] * more
        return weight

    def plan(self, adopted: Rig, control: Control) -> Plan:
        """The plan that adopts what was found by now."""
        after, bound, goal = figures(adopted, self.evening), self.bound, control.goal
        weighed = goal.weighed(after)
        songs, unwritten = [], []
        for song in self.evening.songs:
            control.stop_if_cancelled()
            row = _song_row(self.rig, adopted, song, self._known.get(song.id))
            songs.append(row)
            saved = row["moves_after"] - row["least_held"]
            if saved > 0 and song.id in self._known:
                unwritten.append(_by_foot(self.rig, song, self._known[song.id], saved))
        status = Status.OPTIMAL if weighed <= bound else Status.FEASIBLE
        if self.late and status is not Status.OPTIMAL:
            status = Status.TIMED_OUT
        question = f"{OF_GOAL[goal.first]} as written, with the layout as it is"
        return Plan(
            kind="route",
            status=status,
            before=self.before,
            rig=adopted,
            after=after,
            goal=goal,
            bound=bound,
            objective={"moves": after.moves, "extra_presses": after.extra_presses},
            parts=(Proof("route", question, goal.shown(weighed), goal.shown(bound)),),
            details={
                "songs": songs,
                "walks": list(self.evenings),
                "least_moves": self.least,
                "least_held": sum(
                    self.evening.times[song["id"]] * song["least_held"] for song in songs
                ),
                "by_foot": unwritten,
            },
        )


def _by_foot(rig: Rig, song: Song, walk: _Alone, saved: int) -> dict[str, Any]:
    """What the walk of a song has over the song as a plan can write it, as plain data.

    A section that is mapped to another preset asks for that preset's channel; on the walk the amp
    may be on the section's own channel all the same.

    Returns:
        `id`, the moves `saved`, and the `sections` that no mapping can say: each with its place
        (`section`, from 0), the `preset` recalled last (None for none yet), the `channel` that the
        section asks for, and whether that preset `sends` other messages than the section's own.
    """
    board = board_of(rig)
    sections = []
    for at, leg in zip(walk.places, walk.legs):
        target = board.target(song.sections[at])
        if target is None:
            continue
        preset = None if leg.recalled is None else rig.presets[leg.recalled]
        wanted = target.preset.channel
        stored = None if leg.recalled is None else board.stored[leg.recalled]
        names = stored and stored.channel
        other = wanted != names and (wanted is not None or board.foot_channel)
        sends = stored is not None and stored.messages != target.preset.messages
        if preset is None or other or sends:
            row = {"section": at, "preset": preset and preset.id, "channel": wanted, "sends": sends}
            sections.append(row)
    return {"id": song.id, "saved": saved, "sections": sections}


def _adopt(rig: Rig, song: Song, keep: Sequence[str], least: int, control: Control) -> Rig:
    """Map a song's sections as its cheapest walk plays them, if the report then counts less.

    Args:
        rig: The rig.
        song: The song as it is in it.
        keep: Presets whose sections stay on them.
        least: No mapping of it weighs less.
        control: Stops it.
    """
    board, goal = board_of(rig), control.goal
    counted = count_song(rig, song)
    if _weighed(counted, goal) <= least:
        return rig
    walk = _alone(rig, song, writable=True, keep=keep, goal=goal, control=control)
    new = rig
    for at, leg in zip(walk.places, walk.legs):
        section = song.sections[at]
        mapping = {
            key: value
            for key, value in _mapping(board, section, leg).items()
            if value != getattr(section, key)
        }
        if mapping:
            new = set_section(new, song.id, at, **mapping)
    after = next(row for row in new.songs if row.id == song.id)
    recounted = count_song(new, after)
    worse = recounted.unplayable > counted.unplayable
    return rig if worse or _weighed(recounted, goal) >= _weighed(counted, goal) else new


def _weighed(counted: SongCount, goal: Goal) -> int:
    return goal.move * counted.moves + goal.extra * counted.extra_presses


def song_data(rig: Rig, adopted: Rig, song: Song, control: Control | None = None) -> dict[str, Any]:
    """The moves and the walk of a song alone, as plain data.

    Args:
        rig: The rig that the walk is for.
        adopted: The rig that has adopted the walks.
        song: The song, as it is in `rig`.
        control: Stops the walk; then the song is walked as it is written.
    """
    known = None
    with contextlib.suppress(Stopped):
        known = _alone(rig, song, control=control)
    return _song_row(rig, adopted, song, known)


def _song_row(rig: Rig, adopted: Rig, song: Song, known: _Alone | None) -> dict[str, Any]:
    """The same from its walk; None where there was no time for one."""
    counted = count_song(rig, song)
    new = lookup(adopted).songs[song.id]
    if known is None:
        held = counted.least_moves
        walk = [
            (change.to_section, change.presses, presses_in_words(rig, section, change.presses))
            for change in counted.changes
            for section in [song.sections[change.to_section]]
        ]
    else:
        held = known.moves
        steps = _steps(rig, [(song, at) for at in known.places], known.legs)
        walk = [(step.section, step.presses, step.words) for step in steps]
    return {
        "id": song.id,
        "moves_before": counted.moves,
        "moves_after": count_song(adopted, new).moves,
        "least_moves": counted.least_moves,
        "least_held": held,
        "walk": [
            {"section": at, "presses": list(map(str, presses)), "words": list(words)}
            for at, presses, words in walk
        ],
    }


def _walk_data(
    rig: Rig, evening: Evening, setlist: str, song_ids: Sequence[str], control: Control
) -> dict[str, Any]:
    songs = {song.id: song for song in evening.songs}
    steps = evening_walk(rig, [songs[song] for song in song_ids], control)
    return {
        "setlist": setlist,
        "moves": sum(len(s.presses) for s in steps if not s.gap),
        "set_up_moves": sum(len(s.presses) for s in steps if s.gap),
        "steps": [
            {"song": s.song, "section": s.section, "between_songs": s.gap,
             "presses": list(map(str, s.presses)), "words": list(s.words)}
            for s in steps
        ],
    }  # fmt: skip
