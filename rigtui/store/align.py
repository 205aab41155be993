"""Which item of an old list became which item of a new one. Knows data, not text."""

from __future__ import annotations

from bisect import bisect_left
from collections import Counter, defaultdict, deque
from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from datetime import date, time
from difflib import SequenceMatcher
from typing import Any

# What marks a row of a table however the rest of it changes.
_IDENTITIES = (("id",), ("number",), ("rule", "where"))
_NEARLY, _CLEARLY = 0.5, 0.6
_MOST_PAIRS = 20_000  # comparing everything with everything must not take a noticeable time


def same(left: Any, right: Any) -> bool:
    """Whether two plain values say the same in TOML: true is not 1, but 2.0 is 2."""
    if type(left) is str:  # by far the most frequent
        return bool(left == right)
    if isinstance(left, Mapping):
        return (
            isinstance(right, Mapping)
            and len(left) == len(right)
            and all(key in right and same(value, right[key]) for key, value in left.items())
        )
    if isinstance(left, list | tuple):
        alike = isinstance(right, list | tuple) and len(left) == len(right)
        return alike and all(map(same, left, right))
    if isinstance(left, bool) or isinstance(right, bool):
        return left is right
    if isinstance(left, date | time):  # times of two zones can be equal without being the same
        return type(left) is type(right) and left.isoformat() == right.isoformat()
    return bool(left == right)


def freeze(value: Any) -> Hashable:
    """Return a hashable key for a value: two values have equal keys exactly when they are
    `same`.
    """
    if isinstance(value, Mapping):
        return "table", frozenset((key, freeze(item)) for key, item in value.items())
    if isinstance(value, list | tuple):
        return "array", tuple(map(freeze, value))
    if isinstance(value, bool | date | time):
        return type(value).__name__, str(value)
    return "value", value


def align(old: Sequence[Any], new: Sequence[Any]) -> list[int | None]:
    """Say for each new item which old item it was, or None if it is new.

    Rows with an identity (an id, a number, a rule and its place) are followed by it; a row whose
    identity changed while most of the rest stayed was renamed. Other items are followed by
    content: what stayed in order, then what moved, then what is most alike, then what stands in
    the same gap between the others.
    """
    identity = _identity_of([*old, *new])
    mark = identity or freeze
    rows = _Alignment(old, new)
    rows.match_marks([mark(item) for item in old], [mark(item) for item in new])
    rows.match_alike(_NEARLY, in_place=True)
    rows.match_alike(_CLEARLY, in_place=False)
    if identity is None:
        rows.match_gaps()
    return rows.matches


def staying(matches: Sequence[int | None]) -> set[int]:
    """Positions in `matches` of a longest run of old items that keep their order.

    Source: longest increasing subsequence by patience sorting (Fredman 1975).
    """
    tails: list[int] = []  # the smallest old item that ends a run of each length
    ends: list[int] = []  # and its position in `matches`
    before: dict[int, int | None] = {}
    for position, was in enumerate(matches):
        if was is None:
            continue
        length = bisect_left(tails, was)
        before[position] = ends[length - 1] if length else None
        tails[length : length + 1] = [was]
        ends[length : length + 1] = [position]
    kept: set[int] = set()
    step = ends[-1] if ends else None
    while step is not None:
        kept.add(step)
        step = before[step]
    return kept


def likeness(left: Any, right: Any) -> float:
    """How much two items agree, 0 to 1: the share of their keys, identity apart, that do."""
    if not isinstance(left, Mapping) or not isinstance(right, Mapping):
        return float(same(left, right))
    keys = (left.keys() | right.keys()) - {key for identity in _IDENTITIES for key in identity}
    agreed = sum(key in left and key in right and same(left[key], right[key]) for key in keys)
    return agreed / len(keys) if keys else 0.0


def _identity_of(items: Sequence[Any]) -> Callable[[Any], Hashable] | None:
    for keys in _IDENTITIES:
        if all(isinstance(item, Mapping) and all(key in item for key in keys) for item in items):
            return lambda item, keys=keys: tuple(freeze(item[key]) for key in keys)  # type: ignore[misc]
    return None


class _Alignment:
    """The matches found so far between two lists."""

    def __init__(self, old: Sequence[Any], new: Sequence[Any]) -> None:
        self.old, self.new = old, new
        self.matches: list[int | None] = [None] * len(new)
        self._free = set(range(len(old)))  # old items that no new one has taken

    def _match(self, was: int, now: int) -> None:
        self.matches[now] = was
        self._free.discard(was)

    def match_marks(self, old: list[Hashable], new: list[Hashable]) -> None:
        """Match equal marks: in order as far as that goes, then wherever they moved."""
        # From both ends first: of two equal rows the one that was left alone is to be kept.
        most = min(len(old), len(new))
        head = next((at for at in range(most) if old[at] != new[at]), most)
        tail = next((at for at in range(most - head) if old[-1 - at] != new[-1 - at]), most - head)
        for at in (*range(head), *range(-tail, 0)):
            self._match(at % len(old), at % len(new))
        inner_old, inner_new = old[head : len(old) - tail], new[head : len(new) - tail]
        times = Counter(inner_old)
        # Where much is alike, what follows does as well, and in a time that does not explode.
        if sum(times[mark] for mark in inner_new) <= _MOST_PAIRS:
            inner = SequenceMatcher(None, inner_old, inner_new, autojunk=False)
            for was, now, size in inner.get_matching_blocks():
                for step in range(size):
                    self._match(head + was + step, head + now + step)
        left: defaultdict[Hashable, deque[int]] = defaultdict(deque)
        for was in sorted(self._free):
            left[old[was]].append(was)
        for now in self._unmatched():
            if left[new[now]]:
                self._match(left[new[now]].popleft(), now)

    def match_alike(self, least: float, in_place: bool) -> None:
        """Match the most alike of what is left, in the same gap or anywhere."""
        free, unmatched = sorted(self._free), self._unmatched()
        if len(free) * len(unmatched) > _MOST_PAIRS:
            return
        gap_of_old, gap_of_new = self._gaps()
        scored = [
            (-score, abs(was - now), now, was)
            for now in unmatched
            for was in free
            if not in_place or gap_of_old[was] == gap_of_new[now]
            if (score := likeness(self.old[was], self.new[now])) >= least
        ]
        for _, _, now, was in sorted(scored):
            if was in self._free and self.matches[now] is None:
                self._match(was, now)

    def match_gaps(self) -> None:
        """Match what is left in each gap by position."""
        gap_of_old, gap_of_new = self._gaps()
        left: defaultdict[int, deque[int]] = defaultdict(deque)
        for was in sorted(self._free):
            left[gap_of_old[was]].append(was)
        for now in self._unmatched():
            if left[gap_of_new[now]]:
                self._match(left[gap_of_new[now]].popleft(), now)

    def _unmatched(self) -> list[int]:
        return [now for now, was in enumerate(self.matches) if was is None]

    def _gaps(self) -> tuple[list[int], list[int]]:
        """For each old and each new item, the old item in steady order that comes before it."""
        steady = {now: self.matches[now] for now in staying(self.matches)}
        anchors = set(steady.values())
        return (
            list(_last_seen(was if was in anchors else None for was in range(len(self.old)))),
            list(_last_seen(steady.get(now) for now in range(len(self.new)))),
        )


def _last_seen(steps: Iterator[int | None]) -> Iterator[int]:
    last = -1
    for step in steps:
        last = last if step is None else step
        yield last
