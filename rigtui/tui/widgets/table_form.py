"""A form for a table of the rig file: a field for each of its keys, with its sentence of help."""

from __future__ import annotations

import types
from collections.abc import Callable, Collection, Mapping
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from rigtui.model import EditError
from rigtui.model.base import RigTable
from rigtui.model.kind_words import kind_meant
from rigtui.model.text import number_text
from rigtui.tui.widgets.dialogs import Field, Form

_YES, _NO = "yes", "no"


def fields_of(
    table: type[RigTable],
    values: Mapping[str, Any],
    left_out: Collection[str] = (),
    choices: Mapping[str, tuple[tuple[str, str], ...]] | None = None,
) -> list[Field]:
    """Return a field for each key of a table.

    Args:
        table: The table's model.
        values: What stands in it now; a key that is not there shows its default.
        left_out: Keys that have another place on the screen.
        choices: (value, what is shown) pairs for keys whose values the rig knows.
    """
    return [
        _field(key, info.annotation, values.get(key, _default(info)), info.description or "",
               (choices or {}).get(key, ()))
        for key, info in table.model_fields.items()
        if key not in left_out
    ]  # fmt: skip


def table_form(
    title: str,
    fields: list[Field],
    table: type[RigTable],
    accept: Callable[[dict[str, Any]], None],
    note: str = "",
) -> Form:
    """Make a form.

    Args:
        title: What it is about.
        fields: As `fields_of` made them.
        table: The table's model.
        accept: Is given the values that were changed, by key; None takes a key out of the file.
            It may raise an EditError to say what is wrong.
        note: What to know before filling it in.
    """
    shown = {field.key: field.value for field in fields}

    def submit(given: dict[str, str]) -> str | None:
        try:
            accept(
                {
                    key: _typed(key, table.model_fields[key].annotation, text)
                    for key, text in given.items()
                    if text != shown[key]
                }
            )
        except EditError as error:
            return str(error)
        return None

    return Form(title, fields, submit, note)


def label_of_key(key: str) -> str:
    """What a key is called on a form: "delay_ms" is "Delay (ms)"."""
    for ending, unit in (("_ms", "ms"), ("_mm", "mm"), ("_db", "dB"), ("_seconds", "s")):
        if key.endswith(ending):
            return f"{key.removesuffix(ending).replace('_', ' ').capitalize()} ({unit})"
    return key.replace("_", " ").capitalize()


def _default(info: Any) -> Any:
    return None if info.is_required() else info.get_default()


def _kind(annotation: Any) -> tuple[Any, bool]:
    """What a key takes, without what only narrows it down, and whether it may be left out."""
    if get_origin(annotation) is Annotated:
        return _kind(get_args(annotation)[0])
    if get_origin(annotation) in (Union, types.UnionType):
        parts = [part for part in get_args(annotation) if part is not type(None)]
        kind, _ = _kind(parts[0])
        return kind, len(parts) < len(get_args(annotation))
    return annotation, False


def _field(
    key: str, annotation: Any, value: Any, sentence: str, choices: tuple[tuple[str, str], ...]
) -> Field:
    kind, optional = _kind(annotation)
    label = label_of_key(key)
    if kind is bool:
        yes_no = ((_YES, _YES), (_NO, _NO))
        nothing = (("", "not said"),) if optional else ()
        text = "" if value is None else _YES if value else _NO
        return Field(key, label, text, (*nothing, *yes_no), help=sentence)
    if get_origin(kind) is Literal and not choices:
        choices = tuple((str(word), str(word)) for word in get_args(kind))
    if choices:
        if optional:
            choices = (("", "usual"), *choices)
        text = "" if value is None else str(value)
        if text not in [known for known, _ in choices]:
            choices = (*choices, (text, text or "none"))
        meant = kind_meant if key == "kind" else None
        return Field(key, label, text, choices, help=sentence, meant=meant)
    if value is None:
        text = ""
    elif isinstance(value, tuple):
        text = ", ".join(map(str, value))
    else:
        text = number_text(value) if isinstance(value, int | float) else str(value)
    return Field(key, label, text, help=sentence)


def _typed(key: str, annotation: Any, text: str) -> Any:
    kind, optional = _kind(annotation)
    text = text.strip()
    if kind is bool:
        return None if not text else text == _YES
    if get_origin(kind) is tuple:
        return tuple(filter(None, map(str.strip, text.split(","))))
    if get_origin(kind) is Literal and text:
        return next((word for word in get_args(kind) if str(word) == text), text)
    if kind in (int, float):
        if not text:
            return None
        try:
            number = float(text.replace(",", "."))
        except ValueError:
            raise EditError(f"{label_of_key(key)} must be a number, not {text}") from None
        return int(number) if number.is_integer() else number
    return text or (None if optional else "")
