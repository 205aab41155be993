"""All rules, in the order in which they are reported. Adding a rule adds a line here."""

from __future__ import annotations

from rigtui.checks.finding import Rule

RULES: tuple[Rule, ...] = ()
