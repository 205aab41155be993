"""The best loop design by trying everything, to check the planner against.

It takes a rig and what is asked, and tries every set of pedals in loops, every way to share loops,
and every choice of presets. It shares no code with the planner; what a section wants is read off
the model's own `sound`.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import NamedTuple

from rigtui.model import Preset, Rig, Section
from rigtui.model.lookup import lookup
from rigtui.plan.ask.question import Question

FAR = 1 << 50
"""More than any evening weighs."""
FIRST_OF_ALL = 100_000
"""What an extra press weighs that comes before all moves of a small evening."""
STAYS_OUT = ("between", "treadle", "home")
"""Uses that no loop goes with; none of them ever costs a press."""


class Want(NamedTuple):
    on: frozenset[str]
    off: frozenset[str]
    channel: str | None
    """Where presets differ in what they send over MIDI, the channel and what is sent."""
    any_channel: bool
    foot: int
    own: str | None = None
    """The kept preset that this is, or that the section is on and stays on."""
    soft: frozenset[str] = frozenset()
    """Pedals that, outside, need not be switched on the beat of the change to it."""


class Stored(NamedTuple):
    """A preset that could be stored: loops on, channel, and which kept preset it is, if any."""

    state: tuple[bool, ...]
    channel: str | None
    own: str | None = None


class Weights(NamedTuple):
    """What presses weigh: (1, 0) counts moves, (1, 3) effort with the usual weight."""

    move: int = 1
    extra: int = 0
    """What an extra press weighs, beside the move that it is."""

    def shown(self, weight: int) -> float:
        """Moves or effort, or extra presses where they come first."""
        return weight // self.extra if self.extra == FIRST_OF_ALL else weight / self.move

    def of(self, presses: int, others: int) -> int:
        """What recalls and toggles weigh, and the extra presses of a change with them.

        Args:
            presses: Recalls and toggles.
            others: Other presses on the beat of the same change.
        """
        return self.move * presses + self.extra * max(0, presses + others - 1)


class Played(NamedTuple):
    times: int
    cold: bool
    wants: list[Want]


def read(rig: Rig, asked: Question) -> tuple[list[Played], list[Want]]:
    """What each song wants, and what presets that are kept must be.

    Source of what keeping means: docs/planning.md, "A preset that stays"; of messages: "What can
    be played" there: a preset that stands in for another sends the same.
    """
    known = lookup(rig)
    differ = len({preset.midi for preset in rig.presets}) > 1
    by_foot = rig.amp.channel_switch == "foot"
    stays_out = {p.id for p in known.outside() if p.used in STAYS_OUT}
    pedals = frozenset(known.pedals) - stays_out
    times: dict[str, int] = {}
    for setlist in rig.setlists:
        for song_id in setlist.song_ids:
            times[song_id] = times.get(song_id, 0) + 1
    if not rig.setlists:
        times = {song.id: 1 for song in rig.songs}

    def recalled(preset: Preset) -> str | None:
        return f"{preset.channel or None} {preset.midi}" if differ else preset.channel or None

    def want(section: Section, foot: int, before: Section | None) -> Want:
        preset = known.presets[section.preset]
        on = frozenset(known.sound(section)) - stays_out
        free = frozenset(section.may)
        channel = recalled(preset)
        own = section.preset if section.preset in asked.keep else None
        any_channel = channel is None and not by_foot and own is None
        soft = {*section.may, *section.early, *(before.may if before is not None else ())}
        return Want(on - free, pedals - on - free, channel, any_channel, foot, own, frozenset(soft))

    songs = []
    for song in rig.songs:
        wants: list[Want] = []
        cold = bool(song.sections) and song.sections[0].preset not in known.presets
        channel = rig.amp.channels[0] if rig.amp.channels else None
        for at, section in enumerate(song.sections):
            if section.preset not in known.presets:
                continue
            wanted = known.presets[section.preset].channel or None
            foot = 0
            if by_foot and wanted is not None:
                foot = int(at > 0 and wanted != channel)
                channel = wanted
            wants.append(want(section, foot, song.sections[at - 1] if at else None))
        songs.append(Played(times.get(song.id, 0), cold and bool(wants), wants))
    kept = []
    for preset_id in asked.keep:
        preset = known.presets[preset_id]
        left_on = {p.id for p in known.outside() if p.used == "always"}
        on = frozenset(known.preset_pedals(preset)) | left_on
        kept.append(Want(on, pedals - on, recalled(preset), False, 0, preset_id))
    return songs, kept


def switched_on_top(songs: list[Played], kept: list[Want]) -> set[str]:
    """Pedals that a section on a kept preset wants otherwise than the preset has them."""
    presets = {want.own: want for want in kept}
    return {
        pedal
        for song in songs
        for want in song.wants
        if want.own is not None
        for pedal in (want.on & presets[want.own].off) | (want.off & presets[want.own].on)
    }


def layouts(rig: Rig, asked: Question) -> Iterator[tuple[frozenset[str], ...]]:
    """Every way to put pedals in loops that the switcher and the options allow."""
    known = lookup(rig)
    songs, kept = read(rig, asked)
    every = [want for song in songs for want in song.wants] + kept
    must = set(asked.pin_in)
    for preset_id in asked.keep:
        must.update(known.preset_pedals(known.presets[preset_id]))
    never = set(asked.pin_out)
    never |= {p.id for p in known.outside() if p.used in STAYS_OUT}
    if not (rig.switcher and rig.switcher.loop_switches):
        never |= switched_on_top(songs, kept)
    between = bool(rig.switcher and rig.switcher.between_loops)
    apart = {frozenset(pair) for pair in asked.apart}

    def may_share(group: tuple[str, ...]) -> bool:
        if len(group) > 1 and not asked.sharing:
            return False
        for a, b in itertools.combinations(group, 2):
            if frozenset((a, b)) in apart:
                return False
            if any((a in w.on and b in w.off) or (b in w.on and a in w.off) for w in every):
                return False
        return True

    def of_side(side: str) -> list[list[tuple[str, ...]]]:
        row = [p for p in known.order if known.pedals[p].side == side]
        ways = []
        for inside in itertools.product((False, True), repeat=len(row)):
            held = [at for at, pedals in enumerate(inside) if pedals]
            names = {row[at] for at in held}
            if names & never or (must & set(row)) - names:
                continue
            stretch = not held or held[-1] - held[0] + 1 == len(held)
            if asked.keep_order and not between and not stretch:
                continue
            for joined in itertools.product((False, True), repeat=max(0, len(held) - 1)):
                groups: list[tuple[str, ...]] = []
                ok = True
                for nth, at in enumerate(held):
                    if nth and joined[nth - 1]:
                        ok &= held[nth - 1] + 1 == at
                        groups[-1] = (*groups[-1], row[at])
                    else:
                        groups.append((row[at],))
                if ok and all(may_share(group) for group in groups):
                    ways.append(groups)
        return ways

    counts = {side: sum(loop.side == side for loop in rig.loops) for side in ("front", "fx")}
    counts |= dict(asked.loops or {})
    for front in of_side("front"):
        for fx in of_side("fx"):
            if asked.total_loops is not None:
                fits = len(front) + len(fx) <= asked.total_loops
            else:
                fits = len(front) <= counts["front"] and len(fx) <= counts["fx"]
            if fits:
                yield tuple(frozenset(group) for group in (*front, *fx))


class Priced(NamedTuple):
    moves: int
    worst: int
    loops: int
    presets: int


def outside_presses(song: Played, pedals: frozenset[str] | set[str]) -> tuple[int, list[int]]:
    """Presses of outside pedals in a song, and at each section how many are on its beat.

    The channel's own footswitch counts with them. A pedal waits until it is wanted otherwise.
    """
    total, beats = 0, [want.foot for want in song.wants]
    for pedal in sorted(pedals):
        state = False if song.cold else None
        last = -1
        for nth, want in enumerate(song.wants):
            if pedal not in want.on and pedal not in want.off:
                continue
            if state is not None and state != (pedal in want.on):
                total += 1
                beats[nth] += last == nth - 1 and pedal not in want.soft
            state, last = pedal in want.on, nth
    return total + sum(want.foot for want in song.wants), beats


def price(
    rig: Rig,
    asked: Question,
    groups: tuple[frozenset[str], ...],
    weights: Weights = Weights(),  # noqa: B008
) -> tuple[int, Priced | None] | None:
    """What a layout weighs at least, and all four figures where nothing is left free."""
    songs, kept = read(rig, asked)
    played = [song for song in songs if song.times]
    inside = frozenset().union(*groups) if groups else frozenset()
    most = rig.switcher.memories if asked.memories is None else asked.memories
    every = [want for song in songs for want in song.wants] + kept
    switched = {p for w in every for p in w.on} & {p for w in every for p in w.off}
    pressed = [outside_presses(song, switched - inside) for song in played]
    rest = sum(
        song.times * (weights.move * total + (weights.of(1, beats[0]) if song.cold else 0))
        for song, (total, beats) in zip(played, pressed)
    )
    channels = {want.channel for want in [w for s in played for w in s.wants] + kept}
    states = itertools.product((False, True), repeat=len(groups))
    points = [
        Stored(*point) for point in itertools.product(states, sorted(channels, key=str) or [None])
    ]

    def fits(point: Stored, want: Want) -> bool:
        if want.own is not None and point.own != want.own:
            return False
        return sounds(groups, point, want)

    needed = [point for point in points if any(fits(point, w) for s in played for w in s.wants)]
    exact = [exactly(groups, want) for want in kept]
    made = [(point.state, point.channel) for point in exact]
    needed = [point for point in needed if (point.state, point.channel) not in made]
    best: int | None = None
    room = most - len(set(exact))
    if room < 0:
        return None
    for extra in itertools.combinations(needed, min(room, len(needed))):
        chosen = [*dict.fromkeys(exact), *extra]
        total = 0
        for song, (_, beats) in zip(played, pressed):
            cost: dict[int, int] = {}
            for nth, want in enumerate(song.wants):
                now = {}
                for at, point in enumerate(chosen):
                    if fits(point, want):
                        stay = cost.get(at, FAR) + weights.of(0, beats[nth])
                        change = min(cost.values(), default=FAR) + weights.of(1, beats[nth])
                        now[at] = min(stay, change) if nth else 0
                cost = now
            if song.wants:
                total += song.times * min(cost.values(), default=FAR)
        if total < FAR >> 1 and (best is None or total < best):
            best = total
    if best is None:
        return None
    return rest + best, _all_four(groups, played, kept, switched, inside, rest + best)


def sounds(groups: tuple[frozenset[str], ...], point: Stored, want: Want) -> bool:
    """Whether a preset sounds as a section wants, the pedals in loops and the channel."""
    if not want.any_channel and point.channel != want.channel:
        return False
    on_loops = zip(groups, point.state)
    return all(not (group & (want.off if on else want.on)) for group, on in on_loops)


def exactly(groups: tuple[frozenset[str], ...], want: Want) -> Stored:
    """A kept preset as it is stored."""
    point = Stored(tuple(bool(group & want.on) for group in groups), want.channel, want.own)
    assert sounds(groups, point, want)
    return point


def _all_four(groups, played, kept, switched, inside, moves) -> Priced | None:
    if kept:
        return None
    wants = [want for song in played for want in song.wants]
    free = any(switched - want.on - want.off for want in wants)
    mixed = len({(want.channel, want.any_channel) for want in [*wants, *kept]}) > 1
    if free or (mixed and any(want.any_channel for want in wants)):
        return None

    def state(want: Want):
        return (tuple(bool(group & want.on & switched) for group in groups), want.channel)

    worst = 0
    for song in played:
        if song.cold:
            first = song.wants[0]
            worst = max(worst, 1 + first.foot + len(first.on & switched - inside))
        for a, b in itertools.pairwise(song.wants):
            presses = len((a.on ^ b.on) & switched - inside) + b.foot + (state(a) != state(b))
            worst = max(worst, presses)
    presets = len({state(want) for want in [*wants, *kept]})
    return Priced(moves, worst, len(groups), presets)


def best(
    rig: Rig,
    asked: Question,
    weights: Weights = Weights(),  # noqa: B008
) -> tuple[int, Priced | None] | None:
    """Least weight of all layouts, and the best four figures where nothing is left free."""
    priced = [
        cost for groups in layouts(rig, asked) if (cost := price(rig, asked, groups, weights))
    ]
    if not priced:
        return None
    full = [cost for _, cost in priced if cost is not None]
    return min(moves for moves, _ in priced), min(full, default=None)


def price_toggling(
    rig: Rig, asked: Question, groups: tuple[frozenset[str], ...], weights: Weights
) -> int | None:
    """What a layout weighs at least where one press toggles one loop on top of the preset."""
    songs, kept = read(rig, asked)
    assert not kept
    played = [song for song in songs if song.times]
    inside = frozenset().union(*groups) if groups else frozenset()
    most = rig.switcher.memories if asked.memories is None else asked.memories
    every = [want for song in songs for want in song.wants]
    switched = {p for w in every for p in w.on} & {p for w in every for p in w.off}
    pressed = [outside_presses(song, switched - inside) for song in played]
    rest = sum(song.times * weights.move * total for song, (total, _) in zip(played, pressed))
    masks = list(itertools.product((False, True), repeat=len(groups)))
    channels = sorted({want.channel for song in played for want in song.wants}, key=str) or [None]
    points = [(mask, channel) for mask in masks for channel in channels]

    def fits(mask, want: Want) -> bool:
        return all(not (group & (want.off if on else want.on)) for group, on in zip(groups, mask))

    def apart(a, b) -> int:
        return sum(x != y for x, y in zip(a, b))

    best: int | None = None
    for chosen in itertools.combinations(points, min(most, len(points))):
        total = 0
        for song, (_, beats) in zip(played, pressed):
            cost: dict = {}
            for nth, want in enumerate(song.wants):
                now: dict = {}
                others = beats[nth]
                for mask in masks:
                    if not fits(mask, want):
                        continue
                    for at, (own, channel) in enumerate(chosen):
                        if not want.any_channel and channel != want.channel:
                            continue
                        if nth == 0:
                            cold = weights.of(1 + apart(own, mask), others)
                            ways = [cold if song.cold else 0]
                        else:
                            again = weights.of(1 + apart(own, mask), others)
                            ways = [c + again for c in cost.values()]
                            ways += [
                                c + weights.of(apart(was, mask), others)
                                for (there, was), c in cost.items()
                                if there == at
                            ]
                        if ways:
                            now[at, mask] = min(ways)
                cost = now
            if song.wants:
                total += song.times * min(cost.values(), default=FAR)
        if total < FAR >> 1 and (best is None or total < best):
            best = total
    return None if best is None else rest + best


def best_toggling(rig: Rig, asked: Question, weights: Weights) -> int | None:
    """Least weight of all layouts where loops can be toggled."""
    priced = [price_toggling(rig, asked, groups, weights) for groups in layouts(rig, asked)]
    return min((cost for cost in priced if cost is not None), default=None)
