"""What each bank holds where a preset may be in several: the problem, and what an answer costs.

A song whose presets are all in one bank, its home, needs no bank step. With copies the steps hang
on the way a song takes through the banks, so each song is walked: a preset is recalled from the
bank with the fewest steps, of equals the lowest.

Source of the price: the rig file's rules of counting, "moves as written".
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from rigtui.model.banks import Ring

Contents = tuple[tuple[int, ...], ...]
"""For each bank the presets that it holds, in order."""

_MOST_KNOWN = 50_000
"""Prices of a song that are remembered at most."""


class Recalls(NamedTuple):
    """What a song recalls, in order; no preset twice running."""

    presets: tuple[int, ...]
    times: int = 1
    """How often the evening plays it."""
    cold: bool = False
    """Whether it starts from power-on, so that even its first preset has to be recalled."""


@dataclass(frozen=True)
class ContentsProblem:
    """Presets to put in banks, each in one or more."""

    ring: Ring
    rooms: tuple[int, ...]
    """How many memories each bank has."""
    presets: int
    """How many presets there are; each must be in some bank."""
    songs: tuple[Recalls, ...]
    evenings: tuple[tuple[int, ...], ...] = ()
    """For each setlist, the places in `songs` of what it plays, in order."""
    pins: Mapping[int, int] = field(default_factory=dict)
    """Bank that must hold a preset."""

    @property
    def bound(self) -> int:
        """Bank steps that no contents can spare: each song as if all banks were its own."""
        most = max(self.rooms, default=1)
        return sum(song.times * fewest_banks(song.presets, most) for song in self.songs)

    def fits(self, contents: Contents) -> bool:
        """Whether every preset is in a bank, every pin kept, and no bank overfull."""
        held = {preset for bank in contents for preset in bank}
        return (
            len(contents) == len(self.rooms)
            and all(len(bank) <= room for bank, room in zip(contents, self.rooms))
            and held == set(range(self.presets))
            and all(preset in contents[bank] for preset, bank in self.pins.items())
        )


def fewest_banks(presets: Sequence[int], room: int) -> int:
    """Steps of a song that may fill banks at will: one wherever a bank can hold no more of it."""
    steps, held = 0, set[int]()
    for preset in presets:
        held.add(preset)
        if len(held) > room:
            steps, held = steps + 1, {preset}
    return steps


class Score(NamedTuple):
    """What contents cost, in the order in which answers are compared."""

    written: int
    """Bank steps inside songs, each song set up from bank 1."""
    between: int
    """Bank steps between songs, and before the first."""
    at_home: int
    """Those inside songs with each song set up in the bank that suits it best."""
    memories: int
    """Memories that are filled."""


class Pricer:
    """Prices contents, given as the banks of each preset: bit masks, one a preset."""

    def __init__(self, problem: ContentsProblem) -> None:
        self.problem = problem
        self._steps = problem.ring.table
        self._nearest: dict[tuple[int, int], tuple[int, int]] = {}
        self._distinct = [tuple(sorted(set(song.presets))) for song in problem.songs]
        self._known: list[dict[tuple[int, ...], tuple[int, int]]] = [{} for _ in problem.songs]
        self.users: list[list[int]] = [[] for _ in range(problem.presets)]
        """For each preset, the songs that recall it."""
        for at, presets in enumerate(self._distinct):
            for preset in presets:
                self.users[preset].append(at)

    def nearest(self, bank: int, held: int) -> tuple[int, int]:
        """Return the fewest steps from a bank to one of some banks (a mask), and which that is."""
        known = self._nearest.get((bank, held))
        if known is None:
            row = self._steps[bank]
            known = min((row[to], to) for to in range(len(row)) if held >> to & 1)
            self._nearest[bank, held] = known
        return known

    def song(self, at: int, where: Sequence[int]) -> tuple[int, int]:
        """Return a song's bank steps as written, and from the best bank to set it up in."""
        key = tuple([where[preset] for preset in self._distinct[at]])
        known = self._known[at].get(key)
        if known is None:
            known = self._walked(self.problem.songs[at], where)
            if len(self._known[at]) >= _MOST_KNOWN:
                self._known[at].clear()
            self._known[at][key] = known
        return known

    def _walked(self, song: Recalls, where: Sequence[int]) -> tuple[int, int]:
        if not song.presets:
            return 0, 0
        steps, bank = self.nearest(0, where[song.presets[0]])
        written = self.walk(song.presets[1:], bank, where)[0]
        if song.cold:
            return written + steps, written + steps
        if not written or all_held(song.presets, where):
            return written, 0
        held = where[song.presets[0]]
        others = [to for to in range(len(self._steps)) if held >> to & 1 and to != bank]
        starts = (self.walk(song.presets[1:], other, where)[0] for other in others)
        return written, min([written, *starts])

    def walk(self, presets: Iterable[int], bank: int, where: Sequence[int]) -> tuple[int, int]:
        """Recall some presets from a bank on; return the steps, and the bank shown in the end."""
        steps = 0
        for preset in presets:
            if not where[preset] >> bank & 1:
                more, bank = self.nearest(bank, where[preset])
                steps += more
        return steps, bank

    def between(self, where: Sequence[int]) -> int:
        """Return the bank steps between songs and before the first, over all setlists."""
        total, songs = 0, self.problem.songs
        ends: dict[tuple[int, int], int] = {}
        for evening in self.problem.evenings:
            bank, last = 0, -1
            for song in evening:
                presets = songs[song].presets
                if not presets:
                    continue
                # where it is cold there is nothing to set up: its first recall is inside the song
                if not songs[song].cold and presets[0] != last:
                    steps, bank = self.walk(presets[:1], bank, where)
                    total += steps
                if (song, bank) not in ends:
                    ends[song, bank] = self.walk(presets[not songs[song].cold :], bank, where)[1]
                bank, last = ends[song, bank], presets[-1]
        return total

    def score(self, where: Sequence[int]) -> Score:
        """Return all that contents are compared by."""
        written = at_home = 0
        for at, song in enumerate(self.problem.songs):
            both = self.song(at, where)
            written += song.times * both[0]
            at_home += song.times * both[1]
        memories = sum(mask.bit_count() for mask in where)
        return Score(written, self.between(where), at_home, memories)


def all_held(presets: Iterable[int], where: Sequence[int]) -> int:
    """Return the banks (a mask) that hold all of some presets."""
    banks = -1
    for preset in presets:
        banks &= where[preset]
    return banks


def masks_of(problem: ContentsProblem, contents: Contents) -> list[int]:
    """Return the banks of each preset as a mask."""
    where = [0] * problem.presets
    for bank, presets in enumerate(contents):
        for preset in presets:
            where[preset] |= 1 << bank
    return where


def contents_of(problem: ContentsProblem, where: Sequence[int]) -> Contents:
    """Return what each bank holds, for the banks of each preset as masks."""
    return tuple(
        tuple(preset for preset, mask in enumerate(where) if mask >> bank & 1)
        for bank in range(len(problem.rooms))
    )


def flow_within(problem: ContentsProblem, where: Sequence[int]) -> dict[tuple[int, int, int], int]:
    """Return how often songs go from one preset to another without leaving a bank.

    The keys are the bank and the two presets, the lower first.
    """
    pricer = Pricer(problem)
    flow: dict[tuple[int, int, int], int] = {}
    for song in problem.songs:
        if not song.presets:
            continue
        bank = pricer.nearest(0, where[song.presets[0]])[1]
        for before, after in pairwise(song.presets):
            there = pricer.walk((after,), bank, where)[1]
            if there == bank:
                key = (bank, min(before, after), max(before, after))
                flow[key] = flow.get(key, 0) + song.times
            bank = there
    return flow
