"""Faults of bad data as sentences: where it is, what is wrong, what would be right."""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator, Mapping
from datetime import date, time
from typing import Any, get_args

from pydantic import BaseModel

from rigtui.model.base import Kind
from rigtui.model.errors import Problem
from rigtui.model.kind_words import kind_meant
from rigtui.model.rig import FORMAT, Rig
from rigtui.model.text import did_you_mean, nearest, number_text, visible

Path = tuple[str | int, ...]

# What makes a row of a table known to people, where it is not its place in the list.
IDENTITY = {"pedals": "id", "presets": "id", "songs": "id", "setlists": "id", "loops": "number",
            "midi": "id", "places": "device", "plugs": "shape"}  # fmt: skip

_MUST_BE = {
    "string_type": "must be text in quotes",
    "string_unicode": "must be text without broken characters",
    "int_type": "must be a whole number",
    "int_from_float": "must be a whole number",
    "float_type": "must be a number",
    "finite_number": "must be a finite number",
    "bool_type": "must be true or false",
    "date_type": "must be a date such as 2027-03-05",
    "date_from_datetime_inexact": "must be a date such as 2027-03-05",
    "model_type": "must be a table",
    "model_attributes_type": "must be a table",
    "dict_type": "must be a table",
}
_OUT_OF_RANGE = ("greater_than_equal", "greater_than", "less_than_equal", "less_than")
_HUGE_BITS = 200


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
                word = str(name) if not _huge(name) else word
        words.append(visible(word)[:80])
        try:
            here = here[step]
        except (KeyError, IndexError, TypeError):
            here = None
    return ".".join(words)


def problem_at(data: Mapping[str, Any], path: Path, message: str) -> Problem:
    """Make a Problem of a path in the data and what is wrong there."""
    return Problem(path, dotted(data, path), message)


def problem_of(data: Mapping[str, Any], error: Any) -> Problem:
    """Make a Problem of one entry of `ValidationError.errors()` on a whole rig."""
    path = _real_path(Rig, error)
    return problem_at(data, path, _sentence(Rig, path, error))


def explain(table: type[BaseModel], error: Any) -> str:
    """Say in a sentence what one of pydantic's errors on a table means.

    Args:
        table: The model that refused a value.
        error: One entry of `ValidationError.errors()`.
    """
    return _sentence(table, _real_path(table, error), error)


def shown(value: Any) -> str:
    """A value as the file would spell it, short and harmless."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        text = visible(value[:41])
        return '"' + (text if len(text) <= 40 else text[:39] + "…") + '"'
    if _huge(value):
        return "a very large number"
    if isinstance(value, int | float | date | time):
        return str(value)
    if isinstance(value, Mapping):
        return "a table"
    if value is None:
        return "nothing"
    return "a list" if isinstance(value, list | tuple) else type(value).__name__


def _huge(value: Any) -> bool:
    return isinstance(value, int) and value.bit_length() > _HUGE_BITS


def _sentence(table: type[BaseModel], path: Path, error: Any) -> str:
    """Say what is wrong and what would be right; the place is said beside it."""
    kind, given = error["type"], error.get("input")
    if kind == "missing":
        return f"is missing{_for_example(table, path)}"
    if kind == "extra_forbidden":
        return _unknown_key(table, path)
    if kind in _OUT_OF_RANGE and table is Rig and path == ("format",):
        newer = ": you need a newer rigtui to read it" if given > FORMAT else ""
        return f"must be {FORMAT}, not {shown(given)}{newer}"
    if kind in _OUT_OF_RANGE or (kind == "float_type" and _huge(given)):
        return f"{_range(table, path)}, not {shown(given)}"
    if kind.startswith("date_"):
        hint = ""
        if isinstance(given, str):
            hint = ", without quotes"
        elif isinstance(given, date):
            hint = ", without a time"
        return f"{_MUST_BE['date_type']}{hint}, not {shown(given)}"
    if kind in _MUST_BE:
        return f"{_MUST_BE[kind]}, not {shown(given)}"
    if kind == "literal_error":
        return _one_of(table, path, given)
    if kind == "string_pattern_mismatch":
        return (
            f"{shown(given)} can't be an id: use lower-case letters, digits and "
            "dashes, and start with a letter or digit"
        )
    if kind == "string_too_long":
        most = error["ctx"]["max_length"]
        return f"is {len(given)} characters long: use at most {most}"
    return f"{error['msg']}, not {shown(given)}"


def _real_path(table: type[BaseModel], error: Any) -> Path:
    """The place of an error, without what pydantic appends to name a branch of a union."""
    path: Path = tuple(error["loc"])
    model: type[BaseModel] | None = table
    for depth, step in enumerate(path):
        if isinstance(step, int):
            continue
        field = model.model_fields.get(step) if model else None
        if field is None:
            unknown = error["type"] == "extra_forbidden" or model is not None
            return path[: depth + 1] if unknown else path[:depth]
        model = _model_in(field.annotation)
    return path


def _model_at(table: type[BaseModel], path: Path) -> type[BaseModel] | None:
    """The model of the table at a path (the path's last step included)."""
    model: type[BaseModel] | None = table
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
        model = _model_in(part)
        if model is not None:
            return model
    return None


def _field_at(table: type[BaseModel], path: Path) -> Any:
    """The field that a path leads to, or into."""
    last = max((at for at, step in enumerate(path) if isinstance(step, str)), default=None)
    model = _model_at(table, path[:last]) if last is not None else None
    return model.model_fields.get(str(path[last])) if model and last is not None else None


def _unknown_key(table: type[BaseModel], path: Path) -> str:
    key = str(path[-1])
    model = _model_at(table, path[:-1])
    known = list(model.model_fields) if model else []
    guess = did_you_mean(key, known, f"the keys here are {', '.join(known)}")
    return f"unknown key {shown(key)}; {guess}"


def _for_example(table: type[BaseModel], path: Path) -> str:
    field = _field_at(table, path)
    if field is None or not field.examples:
        return ""
    example = field.examples[0]
    text = f'"{example}"' if isinstance(example, str) else str(example).replace("'", '"')
    return f": add for example {path[-1]} = {text}"


def _constraints(typed: Any) -> Iterator[Any]:
    """All limits on a field, its own and those inside its type."""
    yield from getattr(typed, "metadata", ())
    pending = [getattr(typed, "annotation", typed)]
    while pending:
        part = pending.pop()
        yield from getattr(part, "__metadata__", ())
        if typing.get_origin(part) in (typing.Union, types.UnionType, typing.Annotated):
            pending += list(typing.get_args(part))


def _range(table: type[BaseModel], path: Path) -> str:
    """Say a field's range: "must be 1 to 128", "must be more than 0"."""
    limits: dict[str, float] = {}
    for constraint in _constraints(_field_at(table, path)):
        for part in (constraint, *getattr(constraint, "metadata", ())):
            for name in ("ge", "gt", "le", "lt"):
                limit = getattr(part, name, None)
                if isinstance(limit, int | float):
                    limits[name] = limit
    if "ge" in limits and "le" in limits:
        return f"must be {number_text(limits['ge'])} to {number_text(limits['le'])}"
    said = {"ge": "{} or more", "gt": "more than {}", "le": "at most {}", "lt": "less than {}"}
    parts = [said[name].format(number_text(limits[name])) for name in said if name in limits]
    return "must be " + (" and ".join(parts) or "an ordinary number")


def _literals(annotation: Any) -> list[str | int]:
    if typing.get_origin(annotation) is typing.Literal:
        return list(typing.get_args(annotation))
    return [value for part in typing.get_args(annotation) for value in _literals(part)]


def _one_of(table: type[BaseModel], path: Path, given: Any) -> str:
    field = _field_at(table, path)
    choices = _literals(field.annotation) if field else []
    words = [choice for choice in choices if isinstance(choice, str)]
    close = nearest(given, words) if isinstance(given, str) else None
    if isinstance(given, str) and tuple(choices) == get_args(Kind):
        close = kind_meant(visible(given[:80])) or close
    if close:
        return f'{shown(given)} is not one of the choices; did you mean "{close}"?'
    return f"{shown(given)} is not one of the choices; use " + _or(
        [f'"{choice}"' if isinstance(choice, str) else str(choice) for choice in choices]
    )


def _or(words: list[str]) -> str:
    return ", ".join(words[:-1]) + " or " + words[-1] if len(words) > 1 else "".join(words)
