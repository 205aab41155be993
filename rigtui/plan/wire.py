"""A planner in a process of its own: what goes over the pipes, one JSON object a line.

In: `{"rig": ..., "question": ...}`, then perhaps a line that says `stop`. Out: lines of
`{"progress": ...}` and of `{"so-far": ...}`, each a better plan than the one before, then one of
`{"plan": ...}` or `{"error": "..."}`. In a plan stands of its rig what differs from the rig asked
about: `same` names what is equal, `new` holds the rest; in its lists of rows, a number stands for
the equal row at that place (from 0) of the old list.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from typing import Any

from pydantic import BaseModel

from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Progress
from rigtui.plan.ask.figures import Figures
from rigtui.plan.ask.goal import Goal
from rigtui.plan.ask.question import Question, question_from_data, question_to_data
from rigtui.plan.ask.result import Clashing, Conflict, Plan, Proof, Relaxation, Status

STOP = "stop"
"""The line that asks for the best plan so far."""
SO_FAR = "so-far"
"""The key of a plan while the planner looks for a better one."""
_DATE = "a date"


def task_line(rig: Rig, question: Question) -> str:
    """Write what the process is to do."""
    return _line({"rig": _rig_data(rig), "question": question_to_data(question)})


def task_of(line: str) -> tuple[Rig, Question]:
    """Read what the process is to do."""
    data = _read(line)
    return Rig.model_validate(data["rig"]), question_from_data(data["question"])


def progress_line(progress: Progress) -> str:
    """Write how far a planner has come."""
    return _line({"progress": asdict(progress)})


def plan_line(plan: Plan, rig: Rig, *, so_far: bool = False) -> str:
    """Write a plan, and of its rig what differs from the rig that it is for.

    Args:
        plan: The plan.
        rig: The rig that it is for.
        so_far: Whether the planner looks for a better one still.
    """
    data = {
        "kind": plan.kind,
        "status": plan.status.value,
        "before": asdict(plan.before),
        "rig": None if plan.rig is None else _difference(plan.rig, rig),
        "after": None if plan.after is None else asdict(plan.after),
        "goal": asdict(plan.goal),
        "bound": plan.bound,
        "objective": dict(plan.objective),
        "parts": [asdict(part) for part in plan.parts],
        "steps": plan.steps,
        "notes": plan.notes,
        "conflict": None if plan.conflict is None else asdict(plan.conflict),
        "details": dict(plan.details),
    }
    return _line({SO_FAR if so_far else "plan": data})


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
    for key in ("plan", SO_FAR):
        if key in data:
            return _plan_of(data[key], rig)
    return str(data["error"])


def _plan_of(data: Mapping[str, Any], rig: Rig) -> Plan:
    return Plan(
        kind=data["kind"],
        status=Status(data["status"]),
        before=Figures(**data["before"]),
        rig=None if data["rig"] is None else _changed(data["rig"], rig),
        after=None if data["after"] is None else Figures(**data["after"]),
        goal=Goal(**data["goal"]),
        bound=data["bound"],
        objective=data["objective"],
        parts=tuple(Proof(**part) for part in data["parts"]),
        steps=tuple(data["steps"]),
        notes=tuple(data["notes"]),
        conflict=None if data["conflict"] is None else _conflict_of(data["conflict"]),
        details=data["details"],
    )


def _conflict_of(data: Mapping[str, Any]) -> Conflict:
    return Conflict(
        data["reason"],
        tuple(Clashing(row["name"], row["wants"], tuple(row["places"])) for row in data["sounds"]),
        tuple(Relaxation(**row) for row in data["relaxations"]),
        data["untried"],
    )


def _difference(new: Rig, old: Rig) -> dict[str, Any]:
    """What of a rig differs from another."""
    same: list[str] = []
    rest: dict[str, Any] = {}
    for name in sorted(new.model_fields_set):
        its = getattr(new, name)
        known = name in old.model_fields_set
        was = getattr(old, name) if known else ()
        if known and its is was:
            same.append(name)
        elif isinstance(its, tuple):
            rows = [
                at if at < len(was) and (row is was[at] or _dumped(row) == _dumped(was[at]))
                else _dumped(row)
                for at, row in enumerate(its)
            ]  # fmt: skip
            if known and rows == list(range(len(was))):
                same.append(name)
            else:
                rest[name] = rows
        else:
            rest[name] = _dumped(its) if isinstance(its, BaseModel) else its
    return {"same": same, "new": rest}


def _dumped(row: BaseModel) -> dict[str, Any]:
    return row.model_dump(exclude_unset=True)


def _changed(data: Mapping[str, Any], old: Rig) -> Rig:
    """A rig of what differs from another; what is equal are the other's very rows and tables."""
    same = {name: getattr(old, name) for name in data["same"]}
    rest = {
        name: [getattr(old, name)[row] if isinstance(row, int) else row for row in value]
        if isinstance(value, list)
        else value
        for name, value in data["new"].items()
    }
    return Rig.model_validate({**same, **rest}).model_copy(update=same)


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
