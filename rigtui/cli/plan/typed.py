"""Options as they are typed: those of a question, and what a way out changes of them."""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from typing import Any, NamedTuple

from rigtui.plan.ask.goal import FIRST
from rigtui.plan.ask.question import Question


class Typed(NamedTuple):
    """An option and its value, as they are typed."""

    option: str
    value: str = ""

    def __str__(self) -> str:
        return f"{self.option} {shlex.quote(self.value)}" if self.value else self.option


def options(question: Question) -> list[Typed]:
    """The options of a question, each as it is typed."""
    said = [Typed("--pin", f"{pedal}={where}") for pedal, where in question.pins.items()]
    said += [Typed("--keep", preset) for preset in question.keep]
    said += [Typed("--apart", ",".join(pair)) for pair in question.apart]
    said += [] if question.sharing else [Typed("--no-sharing")]
    said += [Typed("--keep-order")] if question.keep_order else []
    if question.loops is not None:
        said.append(Typed("--loops", f"{question.loops['front']},{question.loops['fx']}"))
    if question.total_loops is not None:
        said.append(Typed("--loops", str(question.total_loops)))
    if question.memories is not None:
        said.append(Typed("--memories", str(question.memories)))
    said += [
        Typed("--pin-switch", f"{preset}={memory}")
        for preset, memory in question.pin_switch.items()
    ]
    said += [] if question.first == FIRST[0] else [Typed("--first", question.first)]
    return said + ([] if question.copies is None else [Typed("--copies", str(question.copies))])


def typed(question: Question, changes: Mapping[str, Any]) -> str:
    """What to type for a way out: "--memories 9", "without --pin wah=in"; "" for nothing."""
    if not changes:
        return ""
    old, new = options(question), options(question.changed(changes))
    more = [given for given in new if given not in old]
    raised = {given.option for given in more}
    gone = [f"without {given}" for given in old if given not in new and given.option not in raised]
    return ", ".join([" ".join(map(str, more)), *gone] if more else gone)
