"""What a plan does to the findings, if there is time left to compare."""

from __future__ import annotations

from rigtui.checks import Checkup, Difference, difference
from rigtui.model.rig import Rig
from rigtui.plan.ask.control import Control

NOT_COMPARED = "No time was left to compare findings: `rigtui report` lists those of each file"
_SECONDS = 1.0
"""How long the rules may go on though the time is up."""


def findings_compared(now: Rig, then: Rig, control: Control) -> Difference | None:
    """Hold the findings of a rig against those of a plan; None where there is no time for it.

    Args:
        now: The rig.
        then: The rig as planned.
        control: Says how much time there is.
    """
    spare = control.finishing(_SECONDS)
    checkups = [Checkup(now)] if now == then else [Checkup(now), Checkup(then)]
    for checkup in checkups:
        for _ in checkup:
            if spare.over:
                return None
    return difference(checkups[0].findings, checkups[-1].findings)
