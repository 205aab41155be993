"""From plain data to a Rig and back, with every fault of bad data listed at once.

Plain data is what a TOML reader gives: dicts, lists, text, numbers, booleans, dates.
"""

from __future__ import annotations

from collections.abc import Generator, Iterator, Mapping
from typing import Any

from pydantic import ValidationError

from rigtui.model.base import RigTable
from rigtui.model.errors import BadRigError, Problem
from rigtui.model.explain import IDENTITY, Path, dotted, explain, problem_at, problem_of, shown
from rigtui.model.limits import LIMITS, MAX_SECTIONS, FileTotals, too_long, too_much_in_all
from rigtui.model.rig import Rig
from rigtui.model.text import count

__all__ = ["IDENTITY", "Path", "dotted", "explain", "rig_from_data", "rig_to_data"]

MOST_PROBLEMS = 100
"""How many faults of one file are told in words; of the rest, how many there are."""


def rig_from_data(data: Mapping[str, Any]) -> Rig:
    """Make a Rig of plain data.

    Raises:
        BadRigError: the data breaks the file format; all problems are listed, in file order.
    """
    if not isinstance(data, Mapping):
        raise BadRigError((Problem((), "", f"a rig must be a table, not {shown(data)}"),))
    problems = list(_too_much(data))
    if problems:
        raise BadRigError(_told(data, problems, 0))
    rig: Rig | None = None
    more = 0
    try:
        rig = Rig.model_validate(data)
    except ValidationError as error:
        faults = error.errors(include_url=False)
        more = max(0, len(faults) - MOST_PROBLEMS)
        problems = [problem_of(data, fault) for fault in faults[:MOST_PROBLEMS]]
    problems += _clashes(data)
    if problems or rig is None:
        raise BadRigError(_told(data, problems, more))
    return rig


def _told(data: Mapping[str, Any], problems: list[Problem], more: int) -> tuple[Problem, ...]:
    """The problems in file order, and how many more there are than anyone would read."""
    places: dict[int, dict[str, int]] = {}
    in_order = sorted(problems, key=lambda problem: _file_order(data, problem.path, places))
    told = list(dict.fromkeys(in_order))
    more += len(told) - len(told[:MOST_PROBLEMS])
    if more:
        told[MOST_PROBLEMS:] = [Problem((), "", f"and {count(more, 'more fault')}")]
    return tuple(told)


def _file_order(
    data: Mapping[str, Any], path: Path, places: dict[int, dict[str, int]]
) -> tuple[int, ...]:
    """Where a path stands among its neighbours, step by step; what is missing comes last."""
    order: list[int] = []
    here: Any = data
    for step in path:
        if isinstance(here, dict) and step in here:
            if id(here) not in places:
                places[id(here)] = {key: at for at, key in enumerate(here)}
            order.append(places[id(here)][str(step)])
            here = here[step]
        elif isinstance(here, list | tuple) and isinstance(step, int) and step < len(here):
            order.append(step)
            here = here[step]
        else:
            return (*order, len(here) if isinstance(here, dict | list | tuple) else 0)
    return tuple(order)


def rig_to_data(rig: RigTable) -> dict[str, Any]:
    """Make plain data of a Rig or of one of its tables: the keys that were given or edited.

    Whole numbers are integers.
    """
    plain = _plain(rig.model_dump(exclude_unset=True, exclude_none=True))
    assert isinstance(plain, dict)
    return plain


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    return value


def _too_much(data: Mapping[str, Any]) -> Iterator[Problem]:
    for table, limit in LIMITS.items():
        rows = data.get(table)
        if isinstance(rows, list) and len(rows) > limit:
            yield problem_at(
                data, (table,), f"{len(rows)} {table} are too many: a file has at most {limit}"
            )
    songs = data.get("songs")
    total = 0
    for at, song in enumerate(songs if isinstance(songs, list) else ()):
        sections = song.get("sections") if isinstance(song, dict) else None
        size = len(sections) if isinstance(sections, list) else 0
        total += size
        if size > MAX_SECTIONS:
            yield problem_at(
                data,
                ("songs", at, "sections"),
                f"{size} sections are too many: a song has at most {MAX_SECTIONS}",
            )
    setlists = data.get("setlists")
    played = 0
    for setlist in setlists if isinstance(setlists, list) else ():
        sets = setlist.get("sets") if isinstance(setlist, dict) else None
        for part in sets if isinstance(sets, list) else ():
            ids = part.get("songs") if isinstance(part, dict) else None
            played += len(ids) if isinstance(ids, list) else 0
    entries = yield from _long_lists(data)
    presets, loops = (
        len(rows) if isinstance(rows := data.get(table), list) else 0
        for table in ("presets", "loops")
    )
    for path, message in too_much_in_all(FileTotals(total, presets, loops, played, entries)):
        yield problem_at(data, path, message)


def _long_lists(data: Mapping[str, Any]) -> Generator[Problem, None, int]:
    """Lists inside tables that no board could fill; how many entries there are in all of them."""
    entries = 0
    waiting: list[tuple[Path, Any]] = [((key,), value) for key, value in data.items()]
    while waiting:
        path, value = waiting.pop()
        if isinstance(value, dict):
            waiting += [((*path, key), inner) for key, inner in value.items()]
        if not isinstance(value, list):
            continue
        entries += len(value)
        waiting += [
            ((*path, at), item) for at, item in enumerate(value) if isinstance(item, dict | list)
        ]
        in_loop = path[0] == "loops" and path[-1] == "pedals"
        counted_above = len(path) == 1 or (path[0] == "songs" and path[-1] == "sections")
        counted_above = counted_above or (path[0] == "setlists" and path[-1] == "songs")
        message = None if counted_above else too_long(len(value), in_loop)
        if message is not None:
            yield problem_at(data, path, message)
    return entries


def _clashes(data: Mapping[str, Any]) -> Iterator[Problem]:
    """What no single table can see: names used twice, and banks that no button reaches."""
    for table, key in IDENTITY.items():
        seen: dict[Any, int] = {}
        rows = data.get(table)
        for at, row in enumerate(rows if isinstance(rows, list) else ()):
            name = row.get(key) if isinstance(row, dict) else None
            if not isinstance(name, str | int) or isinstance(name, bool):
                continue
            if name in seen:
                yield problem_at(
                    data,
                    (table, at, key),
                    f"{key} {shown(name)} is used twice (row {seen[name] + 1} and row {at + 1} of "
                    f"{table}): give each its own {key}",
                )
            else:
                seen[name] = at
    switcher = data.get("switcher")
    fault = switcher_fault(switcher) if isinstance(switcher, dict) else None
    if fault is not None:
        yield problem_at(data, ("switcher", fault[0]), fault[1])


def switcher_fault(switcher: Mapping[str, Any]) -> tuple[str, str] | None:
    """Return the key of a switcher that does not go with its other keys, and what is wrong."""
    buttons = switcher.get("bank_buttons")
    memories, size = switcher.get("memories"), switcher.get("bank_size")
    if buttons == "up" and switcher.get("bank_wrap") is False:
        return "bank_wrap", (
            'false leaves no way back down with bank_buttons "up": set bank_wrap to '
            'true, or bank_buttons to "up-down"'
        )
    if not isinstance(memories, int) or not isinstance(size, int):
        return None
    if buttons == "none" and memories > size:
        return "bank_buttons", (
            f'"none" leaves {count(memories - size, "memory", "memories")} out of '
            f'reach: set memories to at most {size}, or bank_buttons to "up-down" or '
            '"up"'
        )
    return None
