"""A second counter of foot moves, slow and literal, to check the program's own against.

It takes plain data, as a TOML reader gives it, and shares no code with the program. Everything is
a search over explicit states and single presses of a foot: nothing is worked out by a formula
that could be wrong in the same way twice. Source: docs/rig-file.md, "Counting moves".

Where the rules leave a case open, the reading taken is said beside it, marked "Reading".
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator
from itertools import count, pairwise
from typing import Any, NamedTuple

Data = dict[str, Any]


class State(NamedTuple):
    """All that a foot can change. Loops toggled are those that differ from the recalled preset."""

    bank: int
    recalled: str | None
    toggled: frozenset[int]
    outside: frozenset[str]
    channel: str | None


class Press(NamedTuple):
    """One press: what it is called, whether it is a bank step or a recall, and what comes of it."""

    label: str
    kind: str
    after: State


class Wanted(NamedTuple):
    """What a section asks for."""

    preset: str
    loops: frozenset[int]
    outside: frozenset[str]
    channel: str | None
    free_loops: frozenset[int]
    free_outside: frozenset[str]


class Machine:
    """The board of one rig file: which presses there are in a state."""

    def __init__(self, data: Data) -> None:
        switcher = data.get("switcher") or {}
        amp = data.get("amp") or {}
        # Reading: with no switcher described there is one bank, as large as any preset needs.
        self.size: int = switcher.get("bank_size", 128)
        self.memories: int = switcher.get("memories", 128)
        self.banks = -(-self.memories // self.size)
        self.buttons = switcher.get("bank_buttons", "up-down")
        self.wraps: bool = switcher.get("bank_wrap", True)
        self.toggling: bool = switcher.get("loop_switches", False)
        self.by_foot = amp.get("channel_switch", "preset") == "foot"
        self.loops = {row["number"]: list(row.get("pedals", [])) for row in data.get("loops", [])}
        self.presets: dict[str, Data] = {row["id"]: row for row in data.get("presets", [])}
        in_loops = {pedal for pedals in self.loops.values() for pedal in pedals}
        self.foot_pedals = [
            row["id"]
            for row in data.get("pedals", [])
            if row["id"] not in in_loops and self._use(row) == "foot"
        ]
        channels = [*amp.get("channels", []), *(p.get("channel") for p in self.presets.values())]
        self.channels = list(dict.fromkeys(c for c in channels if c is not None))
        self.first_channel = amp["channels"][0] if amp.get("channels") else None
        self.songs = {row["id"]: row for row in data.get("songs", [])}

    @staticmethod
    def _use(pedal: Data) -> str:
        use: str = pedal.get("use") or ("between" if pedal["kind"] == "tuner" else "foot")
        return use

    def homes(self, preset: str) -> list[int]:
        """The memories that hold a preset, from the lowest on.

        Reading: a memory that the switcher lacks stores nothing.
        """
        row = self.presets[preset]
        named = [*([row["memory"]] if "memory" in row else []), *row.get("copies", [])]
        return sorted({memory for memory in named if memory <= self.memories})

    def bank_of(self, memory: int) -> int:
        """The bank of a memory, from 0."""
        return (memory - 1) // self.size

    def bank_presses(self, bank: int) -> Iterator[tuple[str, int]]:
        """The bank buttons that do something in a bank, and the bank that each leads to."""
        if self.buttons in ("up", "up-down") and (self.wraps or bank < self.banks - 1):
            yield "bank up", (bank + 1) % self.banks
        if self.buttons == "up-down" and (self.wraps or bank > 0):
            yield "bank down", (bank - 1) % self.banks

    def nearest(self, preset: str, bank: int) -> int | None:
        """The memory from which a preset is recalled as written: fewest bank steps, then lowest."""
        homes = self.homes(preset)
        ring, seen = {bank}, {bank}
        while homes:
            here = [memory for memory in homes if self.bank_of(memory) in ring]
            if here:
                return here[0]
            ring = {there for bank in ring for _, there in self.bank_presses(bank)} - seen
            seen |= ring
        return None

    def stored_loops(self, preset: str | None) -> frozenset[int]:
        """Loops that a preset switches in, of those that there are."""
        if preset is None:
            return frozenset()
        return frozenset(self.presets[preset].get("loops", [])) & frozenset(self.loops)

    def loops_on(self, state: State) -> frozenset[int]:
        """Loops switched in: the recalled preset's, and what was toggled since."""
        return self.stored_loops(state.recalled) ^ state.toggled

    def presses(self, state: State) -> Iterator[Press]:
        """Every single press that a foot can make."""
        for label, there in self.bank_presses(state.bank):
            yield Press(label, "bank", state._replace(bank=there))
        for preset, row in self.presets.items():
            homes = self.homes(preset)
            here = [memory for memory in homes if self.bank_of(memory) == state.bank]
            if here:
                label = f"switch {(here[0] - 1) % self.size + 1}"
            elif not homes:
                label = "switch 0"  # Reading: no switch is its own yet
            else:
                continue
            channel = state.channel if self.by_foot else row.get("channel") or state.channel
            after = State(state.bank, preset, frozenset(), state.outside, channel)
            yield Press(label, "recall", after)
        if self.toggling:
            for loop in self.loops:
                yield Press(f"loop {loop}", "loop", state._replace(toggled=state.toggled ^ {loop}))
        for pedal in self.foot_pedals:
            yield Press(f"pedal {pedal}", "pedal", state._replace(outside=state.outside ^ {pedal}))
        if self.by_foot:
            for channel in self.channels:
                if channel != state.channel:
                    yield Press(f"channel {channel}", "channel", state._replace(channel=channel))

    def wanted(self, section: Data) -> Wanted | None:
        """What a section asks for; nothing at all where its preset is missing or unknown.

        Reading: a loop that both plus and minus name is switched out.
        """
        preset = section.get("preset")
        if preset not in self.presets:
            return None
        plus, minus, may = (section.get(key, []) for key in ("plus", "minus", "may"))
        loops = self.stored_loops(preset)
        if self.toggling:
            loops |= {n for n, pedals in self.loops.items() if set(pedals) & set(plus)}
            loops -= {n for n, pedals in self.loops.items() if set(pedals) & set(minus)}
        return Wanted(
            preset,
            loops,
            frozenset(plus) & frozenset(self.foot_pedals),
            self.presets[preset].get("channel"),
            frozenset(n for n, pedals in self.loops.items() if set(pedals) <= set(may)),
            frozenset(may) & frozenset(self.foot_pedals),
        )

    def as_written(self, wanted: Wanted, state: State) -> bool:
        """Whether a state is the section's own: its preset, toggles, outside pedals, channel."""
        return (
            state.recalled == wanted.preset
            and self.loops_on(state) == wanted.loops
            and state.outside == wanted.outside
            and (not self.by_foot or wanted.channel in (None, state.channel))
        )

    def sounds(self, wanted: Wanted, state: State) -> bool:
        """Whether a state sounds as the section should, whatever is recalled."""
        return (
            self.loops_on(state) ^ wanted.loops <= wanted.free_loops
            and state.outside ^ wanted.outside <= wanted.free_outside
            and wanted.channel in (None, state.channel)
        )

    def power_on(self) -> State:
        """Bank 1, nothing recalled, all outside pedals off, first channel."""
        return State(0, None, frozenset(), frozenset(), self.first_channel)

    def start(self, song: Data) -> State:
        """A song alone, already set up on its first section.

        Reading: a first section without a preset leaves everything as at power-on.
        """
        sections = song.get("sections", [])
        wanted = self.wanted(sections[0]) if sections else None
        state = self.power_on()
        if wanted is None:
            return state
        # Reading: of several memories it was recalled from the one nearest to bank 1.
        memory = self.nearest(wanted.preset, 0)
        return State(
            0 if memory is None else self.bank_of(memory),
            wanted.preset,
            self.stored_loops(wanted.preset) ^ wanted.loops,
            wanted.outside,
            wanted.channel or state.channel,
        )

    def go(self, state: State, wanted: Wanted | None) -> tuple[int, int, State]:
        """Fewest presses to a section as written, and of those the fewest bank steps.

        Returns:
            Presses, bank steps among them, and the state that they end in.
        """
        if wanted is None:
            return 0, 0, state
        home = self.nearest(wanted.preset, state.bank)
        order = count()
        queue: list[tuple[int, int, int, State]] = [(0, 0, next(order), state)]
        done: set[State] = set()
        ends: dict[State, tuple[int, int]] = {}
        while queue:
            moves, steps, _, here = heapq.heappop(queue)
            if ends and (moves, steps) > next(iter(ends.values())):
                break
            if here in done:
                continue
            done.add(here)
            if self.as_written(wanted, here):
                ends[here] = (moves, steps)
                continue
            for press in self.presses(here):
                elsewhere = home is not None and self.bank_of(home) != here.bank
                if press.kind == "recall" and press.after.recalled == wanted.preset and elsewhere:
                    continue  # another copy, and not the nearest
                if press.after not in done:
                    bank = press.kind == "bank"
                    heapq.heappush(queue, (moves + 1, steps + bank, next(order), press.after))
        ((end, (moves, steps)),) = ends.items()  # the best way must end in one state only
        return moves, steps, end


def replay(machine: Machine, state: State, labels: Iterable[object]) -> set[State]:
    """Make presses by name, one after another; all states that they can end in.

    More than one only where presets that are not stored share a name for their press.
    """
    states = {state}
    for label in labels:
        states = {
            press.after
            for state in states
            for press in machine.presses(state)
            if press.label == str(label)
        }
    return states


def count_song(data: Data, song: Data) -> Data:
    """Count one song as written: the figures that the report has of it."""
    machine = Machine(data)
    state = machine.start(song)
    changes = []
    for before, section in pairwise(song.get("sections", [])):
        old = state
        moves, steps, state = machine.go(old, machine.wanted(section))
        loose = {*section.get("early", []), *section.get("may", []), *before.get("may", [])}
        beat = moves - steps - len((old.outside ^ state.outside) & loose)
        changes.append({"moves": moves, "on_the_beat": beat, "state": state})
    extra = sum(max(change["on_the_beat"] - 1, 0) for change in changes)
    moves = sum(change["moves"] for change in changes)
    return {
        "moves": moves,
        "on_the_beat_worst": max((change["on_the_beat"] for change in changes), default=0),
        "crowded": sum(change["on_the_beat"] >= 2 for change in changes),
        "extra_presses": extra,
        "unplayable": sum(unplayable(data, section) for section in song.get("sections", [])),
        "effort": moves + data.get("player", {}).get("extra_press_weight", 3) * extra,
        "changes": changes,
        "hand_moves": hand_moves(machine, song),
    }


def unplayable(data: Data, section: Data) -> bool:
    """Whether a section's preset is in no memory, and none that is switches the same.

    Reading: a section whose preset there is not is no matter of memories; loops that there are not
    switch nothing.
    """
    machine = Machine(data)
    preset = section.get("preset")
    if "switcher" not in data or preset not in machine.presets:
        return False

    def switches(row: str) -> tuple[object, ...]:
        table = machine.presets[row]
        return machine.stored_loops(row), table.get("channel"), table.get("midi", [])

    stored = [row for row in machine.presets if machine.homes(row)]
    return all(switches(row) != switches(preset) for row in stored)


def hand_moves(machine: Machine, song: Data) -> int:
    """New hands texts, and changes of guitar volume between neighbours that both name one."""

    def volume(section: Data) -> float | None:
        preset = machine.presets.get(section.get("preset", ""), {})
        volume: float | None = section.get("guitar_volume", preset.get("guitar_volume"))
        return volume

    total = 0
    for before, after in pairwise(song.get("sections", [])):
        if after.get("hands") and after["hands"] != before.get("hands"):
            total += 1
        if None not in (volume(before), volume(after)) and volume(before) != volume(after):
            total += 1
    return total


def least_moves(data: Data, song: Data) -> int:
    """The fewest presses of a whole song, at most one recall in a change.

    One search over (section reached, recalled yet in this change, state), cost by cost.
    """
    machine = Machine(data)
    sections = [w for w in map(machine.wanted, song.get("sections", [])[1:]) if w is not None]
    start = (0, False, forget_unheard(machine, machine.start(song)))
    seen, ring, cost = {start}, [start], 0
    while True:
        following: list[tuple[int, bool, State]] = []
        for place in ring:  # grows while it is read: moving on to the next section costs nothing
            at, recalled, state = place
            if at == len(sections):
                return cost
            if machine.sounds(sections[at], state):
                onward = (at + 1, False, state)
                if onward not in seen:
                    seen.add(onward)
                    ring.append(onward)
            for press in machine.presses(state):
                if press.kind == "recall" and recalled:
                    continue
                after = forget_unheard(machine, press.after)
                there = (at, recalled or press.kind == "recall", after)
                if there not in seen:
                    following.append(there)
        ring = [place for place in dict.fromkeys(following) if place not in seen]
        seen.update(ring)
        cost += 1


def forget_unheard(machine: Machine, state: State) -> State:
    """Write a state by its loops alone: which preset switched them in is not heard."""
    return state._replace(recalled=None, toggled=machine.loops_on(state))


def count_setlist(data: Data, setlist: Data) -> Data:
    """Count an evening: its songs' own figures, and the moves that set each of them up."""
    machine = Machine(data)
    ids = [song for part in setlist.get("sets", []) for song in part["songs"]]
    evening = [machine.songs[song] for song in ids if song in machine.songs]
    state, set_up_moves = machine.power_on(), 0
    for song in evening:
        for place, section in enumerate(song.get("sections", [])):
            moves, _, state = machine.go(state, machine.wanted(section))
            if place == 0:
                set_up_moves += moves
    counts = [count_song(data, song) for song in evening]
    summed = ("moves", "crowded", "extra_presses", "unplayable", "effort")
    return {
        **{key: sum(counted[key] for counted in counts) for key in summed},
        "least_moves": sum(least_moves(data, song) for song in evening),
        "set_up_moves": set_up_moves,
        "guitar_changes": guitar_changes(evening),
    }


def guitar_changes(evening: list[Data]) -> int:
    """Times that guitar or tuning differs from what it was; a song that names none keeps it.

    Reading: the first to be named, after songs that named none, differs from those.
    """
    total = 0
    held: Data = {}
    for place, song in enumerate(evening):
        named = {key: song[key] for key in ("guitar", "tuning") if song.get(key) is not None}
        total += place > 0 and any(held.get(key) != value for key, value in named.items())
        held |= named
    return total
