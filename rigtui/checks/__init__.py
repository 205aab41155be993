"""Rules that look at a rig and say what will trouble the player, and why."""

from __future__ import annotations

from rigtui.checks.difference import Difference, difference
from rigtui.checks.engine import Checkup, check, worst
from rigtui.checks.finding import (
    SEVERITIES,
    Finding,
    Fix,
    Rule,
    Severity,
    touching,
    touching_setlist,
)
from rigtui.checks.registry import RULES

__all__ = [
    "RULES",
    "SEVERITIES",
    "Checkup",
    "Difference",
    "Finding",
    "Fix",
    "Rule",
    "Severity",
    "check",
    "difference",
    "touching",
    "touching_setlist",
    "worst",
]
