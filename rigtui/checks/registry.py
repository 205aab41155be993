"""All rules, in the order in which they are reported. Adding a family adds a line here."""

from __future__ import annotations

from rigtui.checks import (
    loops,
    memories,
    names,
    outside,
    places,
    sections,
    sides,
    switches,
    waivers,
)
from rigtui.checks.finding import Rule

RULES: tuple[Rule, ...] = (
    *names.RULES,
    *places.RULES,
    *sides.RULES,
    *memories.RULES,
    *sections.RULES,
    *outside.RULES,
    *loops.RULES,
    *switches.RULES,
    *waivers.RULES,
)
