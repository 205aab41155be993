"""One plan of a rig for all the tests that read it: a whole evening takes seconds to plan."""

from __future__ import annotations

from dataclasses import replace

from rigtui.model.rig import Rig
from rigtui.plan.answer import plan
from rigtui.plan.ask.control import Control
from rigtui.plan.ask.question import Question
from rigtui.plan.ask.result import Plan

_MADE: dict[tuple[str, str], Plan] = {}


def plan_once(rig: Rig, question: Question, control: Control | None = None) -> Plan:
    """The plan of a rig, made at the first call and given again at the next ones.

    How many seconds it may take is no part of the question here.
    """
    key = (rig.model_dump_json(), repr(replace(question, seconds=0)))
    if key not in _MADE:
        _MADE[key] = plan(rig, question, control)
    return _MADE[key]
