"""Two sets of edits of one list put together, where its items have no ids to know them by.

What each side changed is found by comparing it with the list that both started from; changes of
different places go together. Source: the three-way merge of diff3 (Khanna, Kunal and Pierce,
"A Formal Investigation of Diff3", 2007), taking changes that only touch for apart.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Any

MergeItem = Callable[[Any, Any, Any, int], Any]
_MOST_PAIRS = 1_000_000  # comparing more than that takes a time that a player would notice
_ALIKE = 0.5


@dataclass(frozen=True, slots=True)
class _ListEdit:
    """The items base[start:end] gave way to others."""

    start: int
    end: int
    items: tuple[Any, ...]

    def meets(self, other: _ListEdit) -> bool:
        """Whether the two cannot be told apart; those that only touch can."""
        if self.start == self.end and other.start == other.end:
            return self.start == other.start
        return self.start < other.end and other.start < self.end

    @property
    def is_one_for_one(self) -> bool:
        return len(self.items) == self.end - self.start


def merged_list(
    base: Sequence[Any], mine: Sequence[Any], theirs: Sequence[Any], merge_item: MergeItem
) -> list[Any] | None:
    """Put together what two sides made of a list; None if their changes meet.

    Args:
        base: The list that both started from, as plain data.
        mine: One side's list.
        theirs: The other side's list.
        merge_item: Merges an item that both sides changed: base, mine, theirs, place in base.
    """
    ours, others = _changes(base, mine), _changes(base, theirs)
    if ours is None or others is None:
        return None
    # Taken out by both and put back by one is a move that the other side knows nothing of.
    put_back = {_mark(item) for change in (*ours, *others) for item in change.items}
    here = {(change.start, change.end): change for change in ours}
    there = {(change.start, change.end): change for change in others}
    if any(change.meets(other) and here.get((other.start, other.end)) is not change
           for change in ours for other in others):  # fmt: skip
        return None
    merged: list[Any] = []
    at = 0
    for start, end in sorted({*here, *there}):
        mine_here, theirs_here = here.get((start, end)), there.get((start, end))
        items = _items(base, mine_here, theirs_here, merge_item, put_back)
        if items is None:
            return None
        merged += [*base[at:start], *items]
        at = end
    merged += base[at:]
    return None if _doubles(merged) and not _doubles(mine) and not _doubles(theirs) else merged


def _items(
    base: Sequence[Any],
    mine: _ListEdit | None,
    theirs: _ListEdit | None,
    merge_item: MergeItem,
    put_back: set[str],
) -> Sequence[Any] | None:
    """What comes in place of some items that one side changed, or both."""
    if mine is None or theirs is None:
        change = mine or theirs
        assert change is not None
        return change.items
    gone = base[mine.start : mine.end]
    if mine == theirs:
        return None if any(_mark(item) in put_back for item in gone) else mine.items
    one_for_one = mine.is_one_for_one and theirs.is_one_for_one and len(gone) == 1
    if one_for_one and _alike(gone[0], mine.items[0]) and _alike(gone[0], theirs.items[0]):
        return [merge_item(gone[0], mine.items[0], theirs.items[0], mine.start)]
    return None


def _changes(base: Sequence[Any], side: Sequence[Any]) -> list[_ListEdit] | None:
    """What a side did to a list, in order; None if there is too much to compare."""
    old, new = [_mark(item) for item in base], [_mark(item) for item in side]
    head = 0
    while head < min(len(old), len(new)) and old[head] == new[head]:
        head += 1
    tail = 0
    while tail < min(len(old), len(new)) - head and old[-1 - tail] == new[-1 - tail]:
        tail += 1
    a, b = old[head : len(old) - tail], new[head : len(new) - tail]
    if len(a) * len(b) > _MOST_PAIRS:
        return None
    changes = []
    for tag, i, j, k, m in SequenceMatcher(None, a, b, autojunk=False).get_opcodes():
        if tag == "equal":
            continue
        change = _ListEdit(head + i, head + j, tuple(side[head + k : head + m]))
        pairs = list(zip(base[change.start : change.end], change.items))
        if change.is_one_for_one and all(_alike(*pair) for pair in pairs):
            changes += [
                _ListEdit(place, place + 1, (item,))
                for place, (_, item) in enumerate(pairs, change.start)
            ]
        else:
            changes.append(change)
    return changes


def _mark(item: Any) -> str:
    return json.dumps(item, sort_keys=True, default=str)


def _alike(item: Any, other: Any) -> bool:
    """Whether an item can be taken for a changed form of another, not for one in its place."""
    if not isinstance(item, Mapping) or not isinstance(other, Mapping):
        return not isinstance(item, Mapping) and not isinstance(other, Mapping)
    keys = item.keys() | other.keys()
    agreed = sum(bool(key in item and key in other and item[key] == other[key]) for key in keys)
    return bool(agreed >= _ALIKE * len(keys))


def _doubles(items: Sequence[Any]) -> bool:
    """Whether a list of names or numbers names one twice."""
    if any(isinstance(item, Mapping | list) for item in items):
        return False
    return len(set(items)) < len(items)
