"""The board by mouse: a list of what can be done with a thing, and what a drag of it does."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

from textual.binding import Binding

from rigtui.model import Rig
from rigtui.model.edits import put_at, put_at_end
from rigtui.model.lookup import lookup
from rigtui.model.text import visible
from rigtui.tui.views.board.rows import BoardRow, name_of
from rigtui.tui.widgets.pick import Pick


class Drop(NamedTuple):
    """What letting go of a thing does."""

    label: str
    edit: Callable[[Rig], Rig]


def menu(name: str, bindings: Sequence[Binding]) -> Pick:
    """What can be done with a thing, each with its key."""
    choices = [
        (binding.action, f"{binding.tooltip or binding.description}  ({_shown(binding.key)})")
        for binding in bindings
    ]
    return Pick(f"{visible(name)[:1].upper()}{visible(name)[1:]}", choices)


_KEYS = {"right_square_bracket": "]", "left_square_bracket": "["}


def _shown(keys: str) -> str:
    key = min(keys.split(","), key=len)
    return _KEYS.get(key, key)


def drop(rig: Rig, row: BoardRow, onto: BoardRow) -> Drop | None:
    """Return the edit for dragging one row onto another; None if that does nothing."""
    if row.what not in ("pedal", "loop"):
        return None
    item: int | str = int(row.id) if row.what == "loop" else row.id
    name = name_of(rig, row)
    match onto.what:
        case "player":
            label = f"put {name} straight after the guitar"
            return Drop(label, lambda old: put_at_end(old, item, last=False))
        case "amp":
            return Drop(f"put {name} last before the amp", lambda old: put_at_end(old, item, True))
        case "loop" | "pedal":
            there: int | str = int(onto.id) if onto.what == "loop" else onto.id
            label = f"put {name} {_where(rig, row, onto)}"
            return Drop(label, lambda old: put_at(old, item, there))
        case _:
            return None


def _where(rig: Rig, row: BoardRow, onto: BoardRow) -> str:
    loop_of = lookup(rig).loop_of
    number = int(onto.id) if onto.what == "loop" else loop_of.get(onto.id)
    if number is None or (onto.what == "pedal" and loop_of.get(row.id) == number):
        return f"where {name_of(rig, onto)} is"
    return f"where loop {number} is" if row.what == "loop" else f"into loop {number}"
