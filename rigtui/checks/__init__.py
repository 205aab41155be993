"""Rules that look at a rig and say what will trouble the player, and why."""

from __future__ import annotations

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
    "Finding",
    "Fix",
    "Rule",
    "Severity",
    "check",
    "touching",
    "touching_setlist",
    "worst",
]
