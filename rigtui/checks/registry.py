"""All rules, in the order in which they are reported. Adding a family adds a line here."""

from __future__ import annotations

from rigtui.checks import (
    bench,
    between_songs,
    carry,
    changes,
    gates,
    in_line,
    loops,
    memories,
    midi,
    midi_time,
    names,
    order,
    outside,
    pickups,
    places,
    printed,
    sections,
    sets,
    sides,
    switches,
    tails,
    tempo,
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
    *order.RULES,
    *in_line.RULES,
    *switches.RULES,
    *gates.RULES,
    *changes.RULES,
    *carry.RULES,
    *pickups.RULES,
    *tails.RULES,
    *tempo.RULES,
    *between_songs.RULES,
    *sets.RULES,
    *midi.RULES,
    *midi_time.RULES,
    *bench.RULES,
    *printed.RULES,
    *waivers.RULES,
)

RULES_BY_ID: dict[str, Rule] = {rule.id: rule for rule in reversed(RULES)}
"""Each rule by its id; where several share one, the first of them."""
