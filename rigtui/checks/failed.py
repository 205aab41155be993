"""A finding for a rule that fails: a fault in the program must not cost the player the report."""

from __future__ import annotations

from rigtui.checks.finding import Finding, Rule
from rigtui.model.text import fault_in_brief, place_of_fault, visible

RULE_FAILED = "rule-failed"
_WHY = (
    "This is a fault in rigtui, not in your rig. Please report the line above, with "
    "the rig file if you can. All other rules were checked."
)


def failure(rule: Rule, where: str, fault: Exception) -> Finding:
    """Return the finding that stands for a rule that raised.

    Args:
        rule: The rule; the finding weighs as much as what it could have missed.
        where: What it was looking at, as a dotted path.
        fault: What it raised.
    """
    message = (
        f"Rule {rule.id} failed here, so its findings are missing: "
        f"{fault_in_brief(fault)} ({place_of_fault(fault)})"
    )
    return Finding(RULE_FAILED, rule.severity, where, visible(message), _WHY)
