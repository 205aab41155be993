"""The cheapest walk through a row of sections, presses and all.

A shortest path over (bank shown, loops on, amp channel), one layer for each section, with the way
back kept. It agrees with `rigtui.moves.least` on songs alone where every preset has its memory, and
goes further: over an evening a press in the gap between two songs is all but free, so pedals are
toggled and banks stepped ahead there wherever that saves a press inside a song.

No foot recalls a preset that no memory holds. So a section whose own preset has a memory is played
on presets that have one, and where its own has none, that one and those with a memory will do: the
song as it is written is always such a walk. In this it goes apart from `rigtui.moves.least`, which
takes every preset.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from rigtui.moves.board import Board, Stored, Target
from rigtui.moves.figures import State
from rigtui.moves.press import Press, Presses, bank_presses
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.goal import Goal

_SONG, _GAP = 1 << 44, 1 << 20
"""What weighs: anything inside a song outweighs all gaps; below a gap's press comes one for each
section that would be mapped otherwise than now, or for each recall of a preset without a memory."""
_CROWD = 48
MOST_FREE = 6
"""Loops free in a section up to which all ways to toggle them ahead are looked at."""


class WalkedSection(NamedTuple):
    """A section to play."""

    target: Target
    gap: bool
    """Whether it is the first of its song, so that its presses come between songs."""
    own: bool = False
    """Whether it is played on its own preset alone, in walks that a rig file can say."""
    others: int = 0
    """Presses on the beat of the change to it that are of outside pedals and of the channel."""


@dataclass(frozen=True, slots=True)
class Leg:
    """The presses that lead to a section, and what they end in."""

    presses: Presses
    gap: bool
    recalled: int | None
    """Place of the preset recalled last; None where none has been yet."""
    mask: int
    outside: int

    @property
    def moves(self) -> int:
        """Presses in all."""
        return len(self.presses)


_Tag = int | tuple[str | None, bool] | None
"""The place of the preset recalled, None for none; or, where it does not matter which preset that
is, the amp's channel and whether no memory holds what is recalled."""
_Key = tuple[int, int, _Tag]


class _Way(NamedTuple):
    cost: int
    before: _Key | None
    recalled: int
    """Place of the preset recalled on this step, -1 for none."""
    through: int
    """Bank shown at the recall: banks stepped ahead come after it."""


def cheapest_walk(
    board: Board,
    start: State,
    rows: Sequence[WalkedSection],
    *,
    writable: bool = False,
    goal: Goal | None = None,
    control: Control | None = None,
) -> list[Leg] | None:
    """Walk from a state through sections so that each sounds right, with the fewest presses.

    By a goal that minds extra presses it is the walk that weighs least, gaps aside.

    Args:
        board: The rig's board.
        start: Where feet and switcher are before the first row.
        rows: The sections.
        writable: Only walks that a rig file can say: the preset recalled names the very channel
            that the section asks for. Among equals, the one that differs least from the file.
        goal: What presses inside songs weigh; moves alone where not given.
        control: Asked now and then whether to stop.

    Returns:
        One leg a row; None if no walk makes every section sound right (only when `writable`, or
        where a preset that the start relies on is not stored).
    """
    walker = _Walker(board, writable, goal or Goal())
    first: _Key = (start.bank, start.mask, walker.first_tag(start))
    layers: list[dict[_Key, _Way]] = [{first: _Way(0, None, -1, start.bank)}]
    for row in rows:
        if control is not None:
            control.stop_if_over()
        layer = walker.layer(layers[-1], row)
        if not layer:
            return None
        layers.append(layer)
    return _legs(board, walker, start, rows, layers)


class _Walker:
    """One layer after another."""

    def __init__(self, board: Board, writable: bool, goal: Goal) -> None:
        self.board, self.writable = board, writable
        self.move, self.extra = goal.move * _SONG, goal.extra * _SONG
        held = [copy for copies in board.copies for copy in copies if copy.bank is not None]
        if not writable:
            different = {(s.bank, s.mask, s.channel): s for s in reversed(held)}
            held = list(different.values())
        self.held = held
        """Presets that a memory holds and that differ in what matters."""
        self.loops = [board.loop_bit[number] for number in dict.fromkeys(board.loop_of.values())]
        """Loops with a pedal in them."""
        self.banks = sorted({s.bank for s in held if s.bank is not None})
        self.steps = board.steps

    def first_tag(self, start: State) -> _Tag:
        """The tag of the state that a walk starts in."""
        if self.writable:
            return start.preset
        recalled = None if start.preset is None else self.board.stored[start.preset]
        return start.channel, recalled is not None and recalled.bank is None

    def _will_do(self, tag: _Tag, target: Target) -> bool:
        """Whether what is recalled may be played here, and the amp's channel is right.

        What is sent over MIDI matters to mappings only: least moves go by loops and channel.
        """
        wanted = target.preset.channel
        if isinstance(tag, tuple):
            heard, loose = tag
            if loose and target.preset.bank is not None:
                return False
            return self.board.foot_channel or wanted is None or heard == wanted
        if tag is None:
            return False  # a section names a preset
        stored = self.board.stored[tag]
        if stored.bank is None and target.preset.bank is not None:
            return False
        if stored.messages != target.preset.messages:
            return False
        if wanted is None:
            return stored.channel is None or not self.board.foot_channel
        return stored.channel == wanted

    def _tag(self, tag: _Tag, stored: Stored) -> _Tag:
        if not isinstance(tag, tuple):
            return stored.place
        silent = self.board.foot_channel or stored.channel is None
        return tag[0] if silent else stored.channel, stored.bank is None

    def _changed(self, tag: _Tag, mask: int, target: Target) -> int:
        return int(self.writable and (tag != target.preset.place or mask != target.mask))

    def layer(self, layer: dict[_Key, _Way], row: WalkedSection) -> dict[_Key, _Way]:
        """Return the cheapest way into each state in which the section sounds right."""
        board, target = self.board, row.target
        beat = self._beat(row)
        tops = self._tops(row)
        ahead: dict[_Key, _Way] = {}
        cheapest: dict[tuple[int, _Tag], tuple[int, _Key]] = {}
        for key, way in layer.items():
            bank, mask, tag = key
            group = (bank, None if self.writable else tag)
            if group not in cheapest or way.cost < cheapest[group][0]:
                cheapest[group] = (way.cost, key)
            wrong = (mask ^ target.mask) & target.fixed
            if (wrong and not board.toggling) or not self._will_do(tag, target):
                continue
            if self.writable and row.own and tag != target.preset.place:
                continue
            for top in tops:
                there = mask ^ wrong ^ top
                cost = way.cost + beat[(wrong | top).bit_count()]
                cost += self._changed(tag, there, target)
                _offer(ahead, (bank, there, tag), _Way(cost, key, -1, bank))
        self._recall(ahead, cheapest, row, beat, tops)
        if row.gap:
            ahead = self._stepped_ahead(ahead, target)
        if board.toggling and len(ahead) > _CROWD:
            return _without_hopeless(ahead, self.move + self.extra)
        return ahead

    def _beat(self, row: WalkedSection) -> list[int]:
        """What so many recalls and toggles on the way to a section weigh."""
        presses = range(len(self.board.loop_numbers) + 2)
        if row.gap:
            return [_GAP * number for number in presses]
        return [
            self.move * number + self.extra * max(0, number + row.others - 1) for number in presses
        ]

    def _tops(self, row: WalkedSection) -> list[int]:
        """Free loops that may be toggled before they need be, so that presses do not meet."""
        free = [bit for bit in self.loops if not row.target.fixed & bit]
        if row.gap or not (self.extra and self.board.toggling) or len(free) > MOST_FREE:
            return [0]
        return [
            sum(bit for at, bit in enumerate(free) if chosen >> at & 1)
            for chosen in range(1 << len(free))
        ]

    def _recall(
        self,
        ahead: dict[_Key, _Way],
        cheapest: dict[tuple[int, _Tag], tuple[int, _Key]],
        row: WalkedSection,
        beat: Sequence[int],
        tops: Sequence[int],
    ) -> None:
        """Offer every recall: banks stepped, a preset recalled, what it gets wrong toggled."""
        board, target = self.board, row.target
        step = _GAP if row.gap else self.move
        near: dict[int | None, list[tuple[int, _Key, int]]] = {None: []}
        for (bank, _), (cost, key) in cheapest.items():
            near[None].append((cost, key, bank))
        for there in self.banks:
            best: dict[_Tag, tuple[int, _Key, int]] = {}
            for (bank, tag), (cost, key) in cheapest.items():
                cost += step * self.steps[bank][there]
                if tag not in best or cost < best[tag][0]:
                    best[tag] = (cost, key, there)
            near[there] = list(best.values())
        own = [target.preset] if target.preset.bank is None else []
        at_hand = [*own, *self.held]
        if self.writable and row.own:
            at_hand = list(board.copies[target.preset.place])
        for stored in at_hand:
            wrong = (stored.mask ^ target.mask) & target.fixed
            if wrong and not board.toggling:
                continue
            for top in tops:
                mask = stored.mask ^ wrong ^ top
                presses = beat[1 + (wrong | top).bit_count()]
                if not self.writable and stored.bank is None:
                    presses += 1  # among equals what a foot can recall
                for cost, key, there in near[stored.bank]:
                    tag = self._tag(key[2], stored)
                    if not self._will_do(tag, target):
                        continue
                    total = cost + presses + self._changed(tag, mask, target)
                    known = ahead.get((there, mask, tag))
                    if known is None or total < known.cost:
                        ahead[there, mask, tag] = _Way(total, key, stored.place, there)

    def _stepped_ahead(self, layer: dict[_Key, _Way], target: Target) -> dict[_Key, _Way]:
        """Add what can be done ahead in a gap: free loops toggled, banks stepped."""
        if self.board.toggling and not self.writable:
            free = [bit for bit in self.board.loop_bit.values() if not target.fixed & bit]
            for bit in free:
                for (bank, mask, tag), way in list(layer.items()):
                    _offer(layer, (bank, mask ^ bit, tag), way._replace(cost=way.cost + _GAP))
        for (bank, mask, tag), way in list(layer.items()):
            for there in range(len(self.steps)):
                steps = self.steps[bank][there]
                if steps:
                    cost = way.cost + _GAP * steps
                    _offer(layer, (there, mask, tag), way._replace(cost=cost))
        return layer


def _offer(layer: dict[_Key, _Way], key: _Key, way: _Way) -> None:
    known = layer.get(key)
    if known is None or way.cost < known.cost:
        layer[key] = way


def _without_hopeless(layer: dict[_Key, _Way], toggle: int) -> dict[_Key, _Way]:
    """Drop states that a cheaper one of the same bank and channel reaches by toggling.

    Args:
        layer: The states.
        toggle: What a toggle weighs at most.
    """
    ranked = sorted(layer.items(), key=lambda item: item[1].cost)
    leaders = ranked[:16]
    kept = {}
    for key, way in ranked:
        for leader, its in leaders:
            if its.cost >= way.cost:
                kept[key] = way
                break
            same = leader[0] == key[0] and leader[2] == key[2]
            # One more for each section that follows may differ from the file, never a press.
            if same and its.cost + toggle * (leader[1] ^ key[1]).bit_count() <= way.cost:
                break
        else:
            kept[key] = way
    return kept


def _legs(
    board: Board,
    walker: _Walker,
    start: State,
    rows: Sequence[WalkedSection],
    layers: list[dict[_Key, _Way]],
) -> list[Leg]:
    """Follow the cheapest way back, and say it in presses."""
    key: _Key | None = min(layers[-1], key=lambda key_: layers[-1][key_].cost)
    keys: list[_Key] = []
    for layer in reversed(layers):
        assert key is not None
        keys.append(key)
        key = layer[key].before
    keys.reverse()
    outside = outside_masks(board, start.outside, rows)
    channels = foot_channels(board, start.channel, rows)
    legs, recalled = [], start.preset
    on, channel = start.outside, start.channel
    for at, row in enumerate(rows):
        before, after = keys[at], keys[at + 1]
        way = layers[at + 1][after]
        presses = _presses(board, before, after, way)
        recalled = recalled if way.recalled < 0 else way.recalled
        presses += board.pedal_presses(on ^ outside[at])
        if channels[at] != channel:
            presses.append(Press("channel", channels[at] or ""))
        presses += bank_presses(board.ring.way(way.through, after[0]))  # those ahead come last
        on, channel = outside[at], channels[at]
        legs.append(Leg(tuple(presses), row.gap, recalled, after[1], on))
    return legs


def _presses(board: Board, before: _Key, after: _Key, way: _Way) -> list[Press]:
    """The presses from one state to the next, outside pedals and banks stepped ahead aside."""
    presses: list[Press] = []
    mask = before[1]
    bank = before[0]
    if way.recalled >= 0:
        stored = board.nearest(way.recalled, way.through)
        presses += bank_presses(board.ring.way(bank, way.through))
        presses.append(Press("switch", stored.switch))
        mask = stored.mask
    presses += [Press("loop", number) for number in board.names(mask ^ after[1])]
    return presses


def outside_masks(board: Board, on: int, rows: Sequence[WalkedSection]) -> list[int]:
    """Outside pedals on in each row.

    A pedal waits until it is needed, unless a gap comes before that, once it is needed no more as
    it is: then it is stepped on in that gap.
    """
    masks = [0] * len(rows)
    for bit in board.outside_bit.values():
        _fill(masks, rows, bit, bool(on & bit))
    return masks


def _fill(masks: list[int], rows: Sequence[WalkedSection], bit: int, state: bool) -> None:
    free_from = 0
    for at, row in enumerate(rows):
        if not row.target.outside_fixed & bit:
            continue
        wanted = bool(row.target.outside & bit)
        switch = at
        if wanted != state:
            gaps = [nth for nth in range(free_from, at + 1) if rows[nth].gap]
            switch = gaps[-1] if gaps else at
        for nth in range(free_from, at + 1):
            if wanted if nth >= switch else state:
                masks[nth] |= bit
        state, free_from = wanted, at + 1
    for nth in range(free_from, len(rows)):
        if state:
            masks[nth] |= bit


def foot_channels(
    board: Board, channel: str | None, rows: Sequence[WalkedSection]
) -> list[str | None]:
    """The channel in each row where it has a footswitch of its own."""
    if not board.foot_channel:
        return [channel] * len(rows)
    named = [row.target.preset.channel for row in rows]
    channels: list[str | None] = []
    for at, row in enumerate(rows):
        wanted = named[at]
        if wanted is None and row.gap:
            # Nothing is asked for here: set what comes next ahead, if no other gap comes first.
            for later in range(at, len(rows)):
                if later > at and rows[later].gap:
                    break
                if named[later] is not None:
                    wanted = named[later]
                    break
        channel = channel if wanted is None else wanted
        channels.append(channel)
    return channels
