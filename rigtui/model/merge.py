"""Two sets of edits of one rig put together, where they do not touch each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rigtui.model.errors import BadRigError
from rigtui.model.rig import Rig
from rigtui.model.text import visible
from rigtui.model.validate import IDENTITY, rig_from_data, rig_to_data

_GONE = object()


@dataclass(frozen=True)
class Merge:
    """What came of a merge.

    Attributes:
        rig: Both sides' edits together; None where some of them clash.
        clashes: Places that both sides changed in different ways, in words.
    """

    rig: Rig | None
    clashes: tuple[str, ...]


def merge(base: Rig, mine: Rig, theirs: Rig) -> Merge:
    """Put together what two sides made of the same rig.

    Tables are matched by id, keys one by one; lists without ids (the sections of a song, the songs
    of a set) count as touched by both sides only if both changed the same places of them.

    Args:
        base: The rig that both started from.
        mine: One side's rig.
        theirs: The other side's rig.
    """
    if base == theirs:
        return Merge(mine, ())
    if base == mine:
        return Merge(theirs, ())
    clashes: list[str] = []
    data = _tree(rig_to_data(base), rig_to_data(mine), rig_to_data(theirs), (), clashes)
    if clashes:
        return Merge(None, tuple(clashes))
    try:
        return Merge(rig_from_data(data), ())
    except BadRigError as error:
        return Merge(None, tuple(problem.text() for problem in error.problems))


def _tree(base: Any, mine: Any, theirs: Any, path: tuple[Any, ...], clashes: list[str]) -> Any:
    if _same(mine, theirs) or _same(base, theirs):
        return mine
    if _same(base, mine):
        return theirs
    tables = [one for one in (base, mine, theirs) if one is not _GONE]
    if len(tables) >= 2 and mine is not _GONE and theirs is not _GONE:
        if all(isinstance(one, Mapping) for one in tables):
            return _keys(_or_empty(base, {}), mine, theirs, path, clashes)
        if all(isinstance(one, list) for one in tables):
            old = _or_empty(base, [])
            if len(path) == 1 and path[0] in IDENTITY:
                return _rows(old, mine, theirs, path, clashes)
            merged = _places(old, mine, theirs, path, clashes)
            if merged is not None:
                return merged
    clashes.append(_words(path))
    return mine


def _or_empty(value: Any, empty: Any) -> Any:
    return empty if value is _GONE else value


def _same(one: Any, other: Any) -> bool:
    return one is other or (one is not _GONE and other is not _GONE and bool(one == other))


def _words(path: tuple[Any, ...]) -> str:
    return visible(".".join(str(step) for step in path)) or "the whole file"


def _keys(
    base: Mapping[str, Any],
    mine: Mapping[str, Any],
    theirs: Mapping[str, Any],
    path: tuple[Any, ...],
    clashes: list[str],
) -> dict[str, Any]:
    merged = {}
    for key in dict.fromkeys((*mine, *theirs)):
        value = _tree(
            base.get(key, _GONE),
            mine.get(key, _GONE),
            theirs.get(key, _GONE),
            (*path, key),
            clashes,
        )
        if value is not _GONE:
            merged[key] = value
    return merged


def _rows(
    base: Sequence[Any],
    mine: Sequence[Any],
    theirs: Sequence[Any],
    path: tuple[Any, ...],
    clashes: list[str],
) -> list[Any]:
    """Merge tables by id; the order is that of the side that changed it, new rows at its places."""
    key = IDENTITY[path[0]]
    old, ours, others = ({row[key]: row for row in rows} for rows in (base, mine, theirs))
    merged = {}
    for name in dict.fromkeys((*ours, *others)):
        row = _tree(
            old.get(name, _GONE),
            ours.get(name, _GONE),
            others.get(name, _GONE),
            (*path, name),
            clashes,
        )
        if row is not _GONE:
            merged[name] = row
    moved_here = [n for n in ours if n in old] != [n for n in old if n in ours]
    moved_there = [n for n in others if n in old] != [n for n in old if n in others]
    if moved_here and moved_there and list(ours) != list(others):
        clashes.append(f"the order of {_words(path)}")
    lead, follow = (others, ours) if moved_there else (ours, others)
    return [merged[name] for name in _interleaved(list(lead), list(follow)) if name in merged]


def _interleaved(lead: list[Any], follow: list[Any]) -> list[Any]:
    """The first list, with what only the second has put behind what stood before it there."""
    order = list(lead)
    known = set(order)
    for at, name in enumerate(follow):
        if name not in known:
            before = next((one for one in reversed(follow[:at]) if one in known), None)
            order.insert(order.index(before) + 1 if before is not None else 0, name)
            known.add(name)
    return order


def _places(
    base: list[Any],
    mine: list[Any],
    theirs: list[Any],
    path: tuple[Any, ...],
    clashes: list[str],
) -> list[Any] | None:
    """Merge lists whose rows have no ids, place by place; None if the places cannot be matched."""
    if len(base) == len(mine) == len(theirs):
        return [
            _tree(*rows, (*path, at), clashes) for at, rows in enumerate(zip(base, mine, theirs))
        ]
    # One side only took from or added to one end of what the other left alone there.
    head = _shared(base, mine, theirs)
    tail = _shared(base[head:][::-1], mine[head:][::-1], theirs[head:][::-1])
    middles = [rows[head : len(rows) - tail] for rows in (base, mine, theirs)]
    split = _split(*middles)
    if split is None:
        return None
    return base[:head] + split + base[len(base) - tail :]


def _shared(*lists: list[Any]) -> int:
    length = 0
    for rows in zip(*lists):
        if any(row != rows[0] for row in rows):
            break
        length += 1
    return length


def _split(base: list[Any], mine: list[Any], theirs: list[Any]) -> list[Any] | None:
    """Merge where one side changed only the front part of the rows and the other only the rest."""
    for first, second in ((mine, theirs), (theirs, mine)):
        for cut in range(len(base) + 1):
            kept_tail, kept_head = base[cut:], base[:cut]
            ends = (
                len(first) >= len(kept_tail) and first[len(first) - len(kept_tail) :] == kept_tail
            )
            starts = second[:cut] == kept_head
            apart = 0 < cut < len(base)
            if ends and starts and apart:
                return first[: len(first) - len(kept_tail)] + second[cut:]
    return None
