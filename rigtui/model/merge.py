"""Two sets of edits of one rig put together, where they do not touch each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from rigtui.model.errors import BadRigError
from rigtui.model.merge_lists import merged_list
from rigtui.model.rig import Rig
from rigtui.model.text import visible
from rigtui.model.validate import IDENTITY, rig_from_data, rig_to_data

_GONE = object()
_NAMES = {
    **{table: (key,) for table, key in IDENTITY.items()},
    "waivers": ("rule", "where"),
    "patch_leads": ("out", "into"),
}
"""What names the rows of each table."""


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

    Tables are matched by id, keys one by one, items of lists without ids (the sections of a song,
    the songs of a set) by what stands round them. What both sides changed differently is a clash,
    and then nothing is merged.

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
    tables = [side for side in (base, mine, theirs) if side is not _GONE]
    if len(tables) >= 2 and mine is not _GONE and theirs is not _GONE:
        if all(isinstance(side, Mapping) for side in tables):
            return _keys(_or_empty(base, {}), mine, theirs, path, clashes)
        if all(isinstance(side, list) for side in tables):
            old = _or_empty(base, [])
            if len(path) == 1 and _has_names(path[0], old, mine, theirs):
                return _rows(old, mine, theirs, path, clashes)
            merged = merged_list(
                old, mine, theirs, lambda a, b, c, at: _tree(a, b, c, (*path, at), clashes)
            )
            if merged is not None:
                return merged
    clashes.append(_words(path))
    return mine


def _has_names(table: str, *sides: Sequence[Mapping[str, Any]]) -> bool:
    """Whether each row of a table has a name that no other row of its side has."""
    return table in _NAMES and all(
        len({_name(table, row) for row in rows}) == len(rows) for rows in sides
    )


def _name(table: str, row: Mapping[str, Any]) -> Any:
    name = tuple(row.get(key) for key in _NAMES[table])
    return name if len(name) > 1 else name[0]


def _or_empty(value: Any, empty: Any) -> Any:
    return empty if value is _GONE else value


def _same(value: Any, other: Any) -> bool:
    return value is other or (value is not _GONE and other is not _GONE and bool(value == other))


def _words(path: tuple[Any, ...]) -> str:
    steps = (step if isinstance(step, tuple) else (step,) for step in path)
    return visible(".".join(str(part) for step in steps for part in step)) or "the whole file"


def _keys(
    base: Mapping[Any, Any],
    mine: Mapping[Any, Any],
    theirs: Mapping[Any, Any],
    path: tuple[Any, ...],
    clashes: list[str],
) -> dict[Any, Any]:
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
    old, ours, others = (
        {_name(path[0], row): row for row in rows} for rows in (base, mine, theirs)
    )
    merged = _keys(old, ours, others, path, clashes)
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
            before = next((name for name in reversed(follow[:at]) if name in known), None)
            order.insert(order.index(before) + 1 if before is not None else 0, name)
            known.add(name)
    return order
