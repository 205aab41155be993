"""A planner in a process of its own: what goes over the pipes, one JSON object a line.

In: `{"rig": ..., "request": ...}`, then perhaps a line that says `stop`. Out: lines of
`{"progress": ...}`, then one of `{"plan": ...}` or `{"error": "..."}`.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from typing import Any

from rigtui.model.rig import Rig
from rigtui.plan.control import Progress
from rigtui.plan.request import Request, request_from_data, request_to_data
from rigtui.plan.result import Clashing, Conflict, Figures, Part, Plan, Relaxation, Status

STOP = "stop"
"""The line that asks for the best plan so far."""
_DATE = "a date"


def task_line(rig: Rig, request: Request) -> str:
    """Write what the process is to do."""
    return _line({"rig": _rig_data(rig), "request": request_to_data(request)})


def task_of(line: str) -> tuple[Rig, Request]:
    """Read what the process is to do."""
    data = _read(line)
    return Rig.model_validate(data["rig"]), request_from_data(data["request"])


def progress_line(progress: Progress) -> str:
    """Write how far a planner has come."""
    return _line({"progress": asdict(progress)})


def plan_line(plan: Plan) -> str:
    """Write a plan, its rig and all."""
    data = {
        "kind": plan.kind,
        "status": plan.status.value,
        "before": asdict(plan.before),
        "rig": None if plan.rig is None else _rig_data(plan.rig),
        "after": None if plan.after is None else asdict(plan.after),
        "lower_bound": plan.lower_bound,
        "objective": dict(plan.objective),
        "parts": [asdict(part) for part in plan.parts],
        "steps": plan.steps,
        "notes": plan.notes,
        "conflict": None if plan.conflict is None else asdict(plan.conflict),
        "details": dict(plan.details),
    }
    return _line({"plan": data})


def error_line(message: str) -> str:
    """Write why there is no plan."""
    return _line({"error": message})


def answer_of(line: str, rig: Rig) -> Progress | Plan | str:
    """Read a line of the process: progress, the plan, or why there is none.

    Args:
        line: The line.
        rig: The rig that the plan is for; what the plan leaves alone stays the same object, so
            that what was counted of it still stands.
    """
    data = _read(line)
    if "progress" in data:
        return Progress(**data["progress"])
    if "plan" in data:
        return _plan_of(data["plan"], rig)
    return str(data["error"])


def _plan_of(data: Mapping[str, Any], rig: Rig) -> Plan:
    return Plan(
        kind=data["kind"],
        status=Status(data["status"]),
        before=Figures(**data["before"]),
        rig=None if data["rig"] is None else _sharing(Rig.model_validate(data["rig"]), rig),
        after=None if data["after"] is None else Figures(**data["after"]),
        lower_bound=data["lower_bound"],
        objective=data["objective"],
        parts=tuple(Part(**part) for part in data["parts"]),
        steps=tuple(data["steps"]),
        notes=tuple(data["notes"]),
        conflict=None if data["conflict"] is None else _conflict_of(data["conflict"]),
        details=data["details"],
    )


def _conflict_of(data: Mapping[str, Any]) -> Conflict:
    return Conflict(
        data["reason"],
        tuple(Clashing(one["name"], one["wants"], tuple(one["places"])) for one in data["sounds"]),
        tuple(Relaxation(**one) for one in data["relaxations"]),
        data["untried"],
    )


def _sharing(new: Rig, old: Rig) -> Rig:
    """The new rig, made of the old one's very rows and tables wherever they are equal."""
    update: dict[str, Any] = {}
    for name in Rig.model_fields:
        before, after = getattr(old, name), getattr(new, name)
        if before == after:
            update[name] = before
        elif isinstance(after, tuple) and isinstance(before, tuple):
            update[name] = tuple(
                before[at] if at < len(before) and before[at] == row else row
                for at, row in enumerate(after)
            )
    given = {name: row for name, row in update.items() if name in new.model_fields_set}
    return new.model_copy(update=given)


def _rig_data(rig: Rig) -> dict[str, Any]:
    return rig.model_dump(exclude_unset=True)


def _line(data: Mapping[str, Any]) -> str:
    # ASCII, so that neither side depends on the encoding of the other.
    return json.dumps(data, ensure_ascii=True, separators=(",", ":"), default=_spelled) + "\n"


def _spelled(value: Any) -> Any:
    """JSON knows no dates; only the setlists and the printed sheets of a rig have any."""
    if isinstance(value, date):
        return {_DATE: value.isoformat()}
    raise TypeError(f"{type(value).__name__} does not go over the wire")


def _read(line: str) -> Any:
    def hook(value: dict[str, Any]) -> Any:
        return date.fromisoformat(value[_DATE]) if value.keys() == {_DATE} else value

    return json.loads(line, object_hook=hook)
