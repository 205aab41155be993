"""From plain data to a Rig and back, with every fault of bad data listed at once.

Plain data is what a TOML reader gives: dicts, lists, text, numbers, booleans, dates.
"""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from pydantic import BaseModel, ValidationError

from rigtui.model.base import number_text
from rigtui.model.errors import BadRigError, Problem
from rigtui.model.rig import FORMAT, Rig
from rigtui.model.text import count, nearest, visible

Path = tuple[str | int, ...]

# What makes a row of a table known to people, where it is not its place in the list.
IDENTITY = {"pedals": "id", "presets": "id", "songs": "id", "setlists": "id", "loops": "number"}

# The most that one file may hold; far above any evening, low enough that nothing hangs.
LIMITS = {"pedals": 200, "loops": 99, "presets": 1000, "songs": 5000, "setlists": 1000,
          "waivers": 5000}  # fmt: skip
MAX_SECTIONS = 1000
MAX_ALL_SECTIONS = 100_000
MAX_LIST = 10_000


def rig_from_data(data: Mapping[str, Any]) -> Rig:
    """Make a Rig of plain data.

    Raises:
        BadRigError: the data breaks the file format; all problems are listed, in file order.
    """
    problems = list(_too_much(data))
    if problems:
        raise BadRigError(tuple(problems))
    rig: Rig | None = None
    try:
        rig = Rig.model_validate(data)
    except ValidationError as error:
        for one in error.errors(include_url=False):
            problems.append(_explain(data, one))
    problems += _clashes(data)
    if problems or rig is None:
        raise BadRigError(tuple(problems))
    return rig


def rig_to_data(rig: Rig) -> dict[str, Any]:
    """Make plain data of a Rig: the keys that were given or edited, whole numbers as integers."""
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


def dotted(data: Mapping[str, Any], path: Path) -> str:
    """Say a path in the player's terms: ids in place of positions where a table has them."""
    words: list[str] = []
    here: Any = data
    for depth, step in enumerate(path):
        word = str(step)
        if isinstance(step, int) and depth == 1 and path[0] in IDENTITY:
            row = here[step] if isinstance(here, list) and step < len(here) else None
            name = row.get(IDENTITY[str(path[0])]) if isinstance(row, dict) else None
            if isinstance(name, str | int) and not isinstance(name, bool) and name != "":
                word = visible(str(name))[:80]
        words.append(visible(word))
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            here = None
    return ".".join(words)


def _problem(data: Mapping[str, Any], path: Path, message: str) -> Problem:
    return Problem(path, dotted(data, path), message)


def _too_much(data: Mapping[str, Any]) -> Iterator[Problem]:
    for table, limit in LIMITS.items():
        rows = data.get(table)
        if isinstance(rows, list) and len(rows) > limit:
            yield _problem(data, (table,), f"{len(rows)} are too many: at most {limit} fit a file")
    songs = data.get("songs")
    total = 0
    for at, song in enumerate(songs if isinstance(songs, list) else ()):
        sections = song.get("sections") if isinstance(song, dict) else None
        size = len(sections) if isinstance(sections, list) else 0
        total += size
        if size > MAX_SECTIONS:
            yield _problem(
                data,
                ("songs", at, "sections"),
                f"{size} sections are too many: at most {MAX_SECTIONS} fit a song",
            )
    if total > MAX_ALL_SECTIONS:
        yield _problem(
            data, ("songs",), f"{total} sections are too many: at most {MAX_ALL_SECTIONS} in all"
        )
    setlists = data.get("setlists")
    played = 0
    for setlist in setlists if isinstance(setlists, list) else ():
        sets = setlist.get("sets") if isinstance(setlist, dict) else None
        for part in sets if isinstance(sets, list) else ():
            ids = part.get("songs") if isinstance(part, dict) else None
            played += len(ids) if isinstance(ids, list) else 0
    if played > MAX_LIST:
        yield _problem(
            data, ("setlists",), f"{played} songs to play are too many: at most {MAX_LIST} in all"
        )


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
                yield _problem(
                    data,
                    (table, at, key),
                    f"{key} {_shown(name)} is used twice (row {seen[name] + 1} and row {at + 1} of "
                    f"{table}): give each its own {key}",
                )
            else:
                seen[name] = at
    switcher = data.get("switcher")
    if isinstance(switcher, dict) and switcher.get("bank_buttons") == "none":
        memories, size = switcher.get("memories"), switcher.get("bank_size")
        if isinstance(memories, int) and isinstance(size, int) and memories > size:
            yield _problem(
                data,
                ("switcher", "bank_buttons"),
                f'"none" leaves {count(memories - size, "memory", "memories")} out of reach: '
                f'make memories at most {size}, or bank_buttons "up-down" or "up"',
            )


def _shown(value: Any) -> str:
    """A value as the file would spell it, short and harmless."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        text = visible(value)
        return '"' + (text if len(text) <= 40 else text[:39] + "…") + '"'
    if isinstance(value, int) and value.bit_length() > 200:
        return "a very large number"
    if isinstance(value, int | float):
        return number_text(value) if isinstance(value, float) and value == value else str(value)
    if isinstance(value, date):
        return str(value)
    if isinstance(value, Mapping):
        return "a table"
    return "a list" if isinstance(value, list | tuple) else type(value).__name__


_MUST_BE = {
    "string_type": "must be text in quotes",
    "int_type": "must be a whole number",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "finite_number": "must be a finite number",
    "bool_type": "must be true or false",
    "date_type": "must be a date such as 2027-03-05",
    "date_from_datetime_inexact": "must be a date such as 2027-03-05, without a time",
    "model_type": "must be a table",
    "model_attributes_type": "must be a table",
    "int_parsing_size": "is far too large",
    "dict_type": "must be a table",
}


_ROOTS: dict[str, Path] = {
    "Section": ("songs", 0, "sections", 0),
    "Set": ("setlists", 0, "sets", 0),
}


def explain(table: type[BaseModel], error: Any) -> str:
    """Say in a sentence what one of pydantic's errors on a table means.

    Args:
        table: The model that refused a value.
        error: One entry of `ValidationError.errors()`.
    """
    root = _ROOTS.get(table.__name__, ())
    if not root:
        for name, field in Rig.model_fields.items():
            if _model_in(field.annotation) is table:
                root = (name,)
    return _explain({}, {**error, "loc": (*root, *error["loc"])}, root).message


def _explain(data: Mapping[str, Any], error: Any, root: Path | None = None) -> Problem:
    """Turn one of pydantic's errors into a sentence: what is wrong, what would be right."""
    kind, path, given = error["type"], tuple(error["loc"]), error.get("input")
    context = error.get("ctx") or {}
    if root is None and path and kind not in ("missing", "extra_forbidden"):
        path = _real_path(data, path)
    key = str(path[-1]) if path else ""
    if kind == "missing":
        return _problem(data, path, f"{key} is missing{_for_example(path, key)}")
    if kind == "extra_forbidden":
        return _problem(data, path, _unknown_key(path, key))
    if kind == "less_than_equal" and path == ("format",):
        message = (
            f"format {_shown(given)} is newer than this program knows ({FORMAT}): update rigtui"
        )
    elif kind in _MUST_BE:
        message = f"{_MUST_BE[kind]}, not {_shown(given)}"
    elif kind == "literal_error":
        message = _one_of(path, given)
    elif kind in ("greater_than_equal", "greater_than", "less_than_equal", "less_than"):
        message = f"{_range(path)}, not {_shown(given)}"
    elif kind == "string_pattern_mismatch":
        message = (
            f"{_shown(given)} is no id: use lower-case letters, digits and dashes, "
            f"and start with a letter or digit"
        )
    elif kind == "string_too_long":
        message = f"is too long: at most {context.get('max_length')} characters"
    else:
        message = f"{error['msg']}, not {_shown(given)}"
    return _problem(data, path, message)


def _real_path(data: Mapping[str, Any], path: Path) -> Path:
    """Cut off what pydantic appends to a path to name a branch of a union."""
    here: Any = data
    for depth, step in enumerate(path):
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            return path[:depth]
    return path


def _model_at(path: Path) -> type[BaseModel] | None:
    """The model of the table at a path (the path's last step included)."""
    model: type[BaseModel] | None = Rig
    for step in path:
        if isinstance(step, int) or model is None:
            continue
        field = model.model_fields.get(step)
        model = _model_in(field.annotation) if field else None
    return model


def _model_in(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for part in typing.get_args(annotation):
        found = _model_in(part)
        if found is not None:
            return found
    return None


def _unknown_key(path: Path, key: str) -> str:
    model = _model_at(path[:-1])
    known = list(model.model_fields) if model else []
    close = nearest(key, known)
    table = str(next((s for s in reversed(path[:-1]) if isinstance(s, str)), "the top of the file"))
    guess = f"; did you mean {close}?" if close else f"; known keys: {', '.join(known)}"
    return f"unknown key {_shown(key)} in {table}{guess}"


def _for_example(path: Path, key: str) -> str:
    model = _model_at(path[:-1])
    field = model.model_fields.get(key) if model else None
    if field is None or not field.examples:
        return ""
    example = field.examples[0]
    text = f'"{example}"' if isinstance(example, str) else str(example).replace("'", '"')
    return f": add for example {key} = {text}"


def _field_at(path: Path) -> Any:
    keys = [step for step in path if isinstance(step, str)]
    model = _model_at(path[: path.index(keys[-1])]) if keys else None
    return model.model_fields.get(keys[-1]) if model and keys else None


def _constraints(thing: Any) -> Iterator[Any]:
    """All limits on a field, its own and those inside its type."""
    yield from getattr(thing, "metadata", ())
    pending = [getattr(thing, "annotation", thing)]
    while pending:
        part = pending.pop()
        yield from getattr(part, "__metadata__", ())
        if typing.get_origin(part) in (typing.Union, types.UnionType, typing.Annotated):
            pending += list(typing.get_args(part))


def _range(path: Path) -> str:
    """Say a field's range: "must be 1 to 128", "must be more than 0"."""
    limits: dict[str, float] = {}
    for constraint in _constraints(_field_at(path)):
        for part in (constraint, *getattr(constraint, "metadata", ())):
            for name in ("ge", "gt", "le", "lt"):
                limit = getattr(part, name, None)
                if isinstance(limit, int | float):
                    limits[name] = limit
    low = f"more than {number_text(limits['gt'])}" if "gt" in limits else ""
    low = f"{number_text(limits['ge'])} or more" if "ge" in limits else low
    high = f"less than {number_text(limits['lt'])}" if "lt" in limits else ""
    high = f"at most {number_text(limits['le'])}" if "le" in limits else high
    if "ge" in limits and "le" in limits:
        return f"must be {number_text(limits['ge'])} to {number_text(limits['le'])}"
    return "must be " + " and ".join(part for part in (low, high) if part)


def _literals(annotation: Any) -> list[str]:
    if typing.get_origin(annotation) is typing.Literal:
        return [str(value) for value in typing.get_args(annotation)]
    return [value for part in typing.get_args(annotation) for value in _literals(part)]


def _one_of(path: Path, given: Any) -> str:
    field = _field_at(path)
    choices = _literals(field.annotation) if field else []
    close = nearest(given, choices) if isinstance(given, str) else None
    guess = f'did you mean "{close}"?' if close else "use one of"
    listed = "" if close and len(choices) > 8 else " " + ", ".join(f'"{c}"' for c in choices)
    return f"{_shown(given)} is not known here; {guess}{listed if not close else ''}"
