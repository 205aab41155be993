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
                f"Waiver {at + 1} is of {rule} at {visible(where)}, which finds nothing there",
                Fix("take the waiver out", partial(unwaive, rule=rule, where=where)),
            )


RULES = (
    Rule(
        id="stale-waiver",
        severity="advice",
        scope="findings",
        summary="A waiver no longer waives anything.",
        why="A waiver left lying about hides the next finding that comes up in its place.",
        source="Own rule of this program.",
        check=_stale_waiver,
    ),
)
