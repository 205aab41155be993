"""Waivers that have nothing left to waive."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from rigtui.checks.finding import Finding, Fix, Hit, RigView, Rule
from rigtui.model.edits import unwaive
from rigtui.model.places import place_at, places_from
from rigtui.model.text import visible


def _stale_waiver(view: RigView, findings: tuple[Finding, ...]) -> Iterator[Hit]:
    alive = {(finding.rule, place) for finding in findings for place in places_from(finding.where)}
    for at, waiver in enumerate(view.rig.waivers):
        rule, where = waiver.rule, waiver.where
        if rule in view.rule_ids and (rule, where) not in alive:
            yield Hit(
                place_at("waivers", at),
                f"Waiver {at + 1}, of {rule} at {visible(where)}, has nothing left to waive",
                Fix("delete the waiver", partial(unwaive, rule=rule, where=where)),
            )


RULES = (
    Rule(
        id="stale-waiver",
        severity="advice",
        scope="findings",
        summary="A waiver has nothing left to waive.",
        why="Left in the file, it would hide the next finding of its rule in that place.",
        source="Own rule of this program.",
        check=_stale_waiver,
    ),
)
