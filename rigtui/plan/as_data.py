"""Plans as plain data, fit for JSON, and wishes from plain data."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, fields
from typing import Any

from rigtui.model.text import nearest, visible
from rigtui.model.validate import rig_to_data
from rigtui.plan.curve import Curve
from rigtui.plan.explain import Explanation
from rigtui.plan.result import Plan, PlanError
from rigtui.plan.switches import SwitchWishes
from rigtui.plan.wishes import LoopWishes


def plan_to_data(plan: Plan, *, with_rig: bool = False) -> dict[str, Any]:
    """Make plain data of a plan.

    Args:
        plan: The plan.
        with_rig: Whether to put the new rig in, as a rig file's data.
    """
    data: dict[str, Any] = {
        "kind": plan.kind,
        "status": plan.status.value,
        "moves_before": plan.moves_before,
        "moves_after": plan.moves_after,
        "worst_change_before": plan.before.worst_change,
        "worst_change": plan.worst_change,
        "set_up_moves_before": plan.before.set_up_moves,
        "set_up_moves": None if plan.after is None else plan.after.set_up_moves,
        "proved": plan.proved,
        "lower_bound": plan.lower_bound,
        "objective": dict(plan.objective),
        "parts": [asdict(part) | {"proved": part.proved} for part in plan.parts],
        "steps": list(plan.steps),
        "notes": list(plan.notes),
        "conflict": None if plan.conflict is None else asdict(plan.conflict),
        **plan.details,
    }
    if with_rig:
        data["rig"] = None if plan.rig is None else rig_to_data(plan.rig)
    return data


def curve_to_data(curve: Curve) -> dict[str, Any]:
    """Make plain data of a curve."""
    points = [asdict(point) | {"proved": point.proved} for point in curve.points]
    return asdict(curve) | {"points": points}


def explanation_to_data(explanation: Explanation) -> dict[str, Any]:
    """Make plain data of an explanation."""
    return asdict(explanation)


def loop_wishes_from(data: Mapping[str, Any]) -> LoopWishes:
    """Make wishes of plain data; its keys are the fields of `LoopWishes`.

    Raises:
        PlanError: a key or a value that is none.
    """
    _keys(data, [one.name for one in fields(LoopWishes)])
    values = dict(data)
    for key in ("pin_in", "pin_out", "keep_presets"):
        if key in values:
            values[key] = _names(values[key], key)
    if "keep_apart" in values:
        pairs = values["keep_apart"]
        if not isinstance(pairs, list) or any(
            not isinstance(pair, list) or len(pair) != 2 for pair in pairs
        ):
            raise PlanError("keep_apart must be a list of pairs of pedals")
        values["keep_apart"] = [tuple(_names(pair, "keep_apart")) for pair in pairs]
    for key in ("share", "keep_order"):
        if not isinstance(values.get(key, True), bool):
            raise PlanError(f"{key} must be true or false")
    for key in ("total_loops", "memories"):
        if key in values and values[key] is not None:
            values[key] = _whole(values[key], key)
    for key in ("loops", "pins"):
        if key in values and values[key] is not None:
            values[key] = _numbers(values[key], key)
    return LoopWishes(**values)


def switch_wishes_from(data: Mapping[str, Any]) -> SwitchWishes:
    """Make wishes of plain data; its keys are the fields of `SwitchWishes`.

    Raises:
        PlanError: a key or a value that is none.
    """
    _keys(data, [one.name for one in fields(SwitchWishes)])
    copies = _whole(data.get("copies", 0), "copies")
    if not 0 <= copies <= 128:
        raise PlanError(f"copies must be 0 to 128, not {copies}")
    return SwitchWishes(_numbers(data.get("pins", {}), "pins"), copies)


def _keys(data: Mapping[str, Any], known: list[str]) -> None:
    for key in data:
        if key not in known:
            close = nearest(str(key), known)
            hint = f": did you mean {close}?" if close else ""
            raise PlanError(f'there is no wish "{visible(str(key))}"{hint}')


def _names(value: Any, key: str) -> list[str]:
    if not isinstance(value, list) or not all(isinstance(one, str) for one in value):
        raise PlanError(f"{key} must be a list of names")
    return value


def _whole(value: Any, key: str) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise PlanError(f"{key} must be a whole number")
    return value


def _numbers(value: Any, key: str) -> dict[str, int]:
    if not isinstance(value, dict):
        raise PlanError(f"{key} must be a table of names and whole numbers")
    return {str(name): _whole(number, key) for name, number in value.items()}
