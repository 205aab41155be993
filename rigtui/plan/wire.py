"""A planner in a process of its own: what goes over the pipes, one JSON object a line.

In: `{"rig": ..., "question": ...}`, then perhaps a line that says `stop`. Out: lines of
`{"progress": ...}` and of `{"so-far": ...}`, each a better plan than the one before, then one of
`{"plan": ...}` or `{"error": "..."}`. In a plan stands of its rig what differs from the rig asked
about (`rigtui.model.lines`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from rigtui.model.lines import changed_by, difference, line_of, read_line, rig_data
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


def task_line(rig: Rig, question: Question) -> str:
    """Write what the process is to do."""
    return line_of({"rig": rig_data(rig), "question": question_to_data(question)})


def task_of(line: str) -> tuple[Rig, Question]:
    """Read what the process is to do."""
    data = read_line(line)
    return Rig.model_validate(data["rig"]), question_from_data(data["question"])


def progress_line(progress: Progress) -> str:
    """Write how far a planner has come."""
    return line_of({"progress": asdict(progress)})


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
        "rig": None if plan.rig is None else difference(plan.rig, rig),
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
    return line_of({SO_FAR if so_far else "plan": data})


def error_line(message: str) -> str:
    """Write why there is no plan."""
    return line_of({"error": message})


def answer_of(line: str, rig: Rig) -> Progress | Plan | str:
    """Read a line of the process: progress, the plan, or why there is none.

    Args:
        line: The line.
        rig: The rig that the plan is for; what the plan leaves alone stays the same object, so
            that what was counted of it still stands.
    """
    data = read_line(line)
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
        rig=None if data["rig"] is None else changed_by(data["rig"], rig),
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
