"""Options as they are typed: those of a question, and what a way out changes of them."""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from typing import Any

from rigtui.plan.ask.question import Question


def options(question: Question) -> list[str]:
    """The options of a question, each as it is typed."""
    said = [f"--pin {shlex.quote(f'{pedal}={where}')}" for pedal, where in question.pins.items()]
    said += [f"--keep {shlex.quote(preset)}" for preset in question.keep]
    said += [f"--apart {shlex.quote(','.join(pair))}" for pair in question.apart]
    said += [] if question.sharing else ["--no-sharing"]
    said += ["--keep-order"] if question.keep_order else []
    if question.loops is not None:
        said.append(f"--loops {question.loops['front']},{question.loops['fx']}")
    if question.total_loops is not None:
        said.append(f"--loops {question.total_loops}")
    if question.memories is not None:
        said.append(f"--memories {question.memories}")
    said += [
        f"--pin-switch {shlex.quote(f'{preset}={memory}')}"
        for preset, memory in question.pin_switch.items()
    ]
    return said + ([f"--copies {question.copies}"] if question.copies else [])


def typed(question: Question, changes: Mapping[str, Any]) -> str:
    """What to type for a way out: "--memories 9", "without --pin wah=in"; "" for nothing."""
    if not changes:
        return ""
    old, new = options(question), options(question.changed(changes))
    more = [one for one in new if one not in old]
    raised = {one.split()[0] for one in more}
    gone = [f"without {one}" for one in old if one not in new and one.split()[0] not in raised]
    return ", ".join([" ".join(more), *gone] if more else gone)
