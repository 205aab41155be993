"""Which waiver accepts a finding: the nearest, of its place or of one that the place is in."""

from __future__ import annotations

from rigtui.model.places import places_from
from rigtui.model.rig import Rig, Waiver

WaiversByRule = dict[str, dict[str, Waiver]]


def waivers_by_rule(rig: Rig) -> WaiversByRule:
    """Return the waivers of each rule by place; where two are of one place, the first."""
    by_rule: WaiversByRule = {}
    for waiver in rig.waivers:
        by_rule.setdefault(waiver.rule, {}).setdefault(waiver.where, waiver)
    return by_rule


def waiver_over(waivers: WaiversByRule, rule: str, where: str) -> Waiver | None:
    """Return the waiver that accepts what a rule finds at a place; None where none does."""
    of_rule = waivers.get(rule)
    if of_rule is None:
        return None
    return next((of_rule[place] for place in places_from(where) if place in of_rule), None)
