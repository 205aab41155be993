"""Whatever key a table of the rig file has, it is strict, bounded, and can be left out or not."""

from __future__ import annotations

import copy
import datetime
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from model.test_good_data import EVERYTHING

from rigtui.model import BadRigError, rig_from_data
from rigtui.model.base import MAX_NOTE, RigTable

DATA = tomllib.loads(EVERYTHING)
Steps = tuple[str | int, ...]
# Contract of the file format: the keys without which no table of its kind can be read.
NEEDED = {
    "format", "name", "id", "number", "side", "kind", "tempo", "bars", "rule", "where", "songs",
    "memories", "bank_size", "device", "value", "channel", "sheet", "revision", "jack",
    "shape", "left_mm", "out", "into",
}  # fmt: skip


def leaves(value: Any, steps: Steps = ()) -> Iterator[tuple[Steps, Any]]:
    """Every value of a rig's data that is no table, with the way to it."""
    rows: Any = value.items() if isinstance(value, dict) else enumerate(value)
    for key, held in rows:
        if isinstance(held, dict) or (isinstance(held, list) and held):
            yield from leaves(held, (*steps, key))
        else:
            yield (*steps, key), held


LEAVES = list(leaves(DATA))
each_leaf = pytest.mark.parametrize(
    ("steps", "held"), LEAVES, ids=[".".join(map(str, steps)) for steps, _ in LEAVES]
)


def with_value(steps: Steps, value: Any) -> Any:
    """The data with another value at one place."""
    data = copy.deepcopy(DATA)
    table: Any = data
    for step in steps[:-1]:
        table = table[step]
    table[steps[-1]] = value
    return data


def wrong_types(held: Any) -> list[Any]:
    """Values that a lenient reader would take for one like this."""
    if isinstance(held, bool):
        return ["true", 1, "yes"]
    if isinstance(held, int | float):
        return [str(held), True]
    if isinstance(held, datetime.date):
        return [held.isoformat(), 20270305]
    return [3, True, ["a"]]


@each_leaf
def test_a_key_takes_its_own_type_only(steps: Steps, held: Any) -> None:
    """Nothing is read as something else: "yes" is no true, and "3" is no number."""
    for wrong in wrong_types(held):
        if steps[-3:-1] == ("chain", "front") or steps[-3:-1] == ("chain", "fx"):
            wrong = 1.5  # a chain holds pedals by id and loops by number
        with pytest.raises(BadRigError) as error:
            rig_from_data(with_value(steps, wrong))
        path = error.value.problems[0].path
        assert steps[: len(path)] == path, error.value


@each_leaf
def test_no_key_takes_text_without_end(steps: Steps, held: Any) -> None:
    """A file cannot hold a name or note of any length, nor a number of any size."""
    if isinstance(held, str):
        with pytest.raises(BadRigError):
            rig_from_data(with_value(steps, "a" * (MAX_NOTE + 1)))
    if isinstance(held, int | float) and not isinstance(held, bool):
        with pytest.raises(BadRigError):
            rig_from_data(with_value(steps, type(held)(10**9)))


def held_by(value: Any) -> Iterator[Any]:
    """Every value that a rig holds, however deep."""
    yield value
    if isinstance(value, RigTable):
        for name in type(value).model_fields:
            yield from held_by(getattr(value, name))
    elif isinstance(value, list | tuple | dict | set):
        for item in value:
            yield from held_by(item)


def test_a_rig_holds_nothing_that_can_be_changed() -> None:
    """Lists become tuples: a rig is a value, and undo is a list of rigs."""
    kinds = {type(held) for held in held_by(rig_from_data(DATA))}
    plain = {str, int, float, bool, type(None), tuple, datetime.date}
    assert {kind for kind in kinds - plain if not issubclass(kind, RigTable)} == set()


@each_leaf
def test_a_key_can_be_left_out_unless_the_format_needs_it(steps: Steps, held: Any) -> None:
    """A file that was good stays good: a new key is optional."""
    key = steps[-1]
    if isinstance(key, int):
        return  # an entry of a list, not a key
    if key in NEEDED:
        return
    data = copy.deepcopy(DATA)
    table: Any = data
    for step in steps[:-1]:
        table = table[step]
    del table[key]
    rig_from_data(data)
