"""What goes over the pipes to and from the adviser's process: one JSON object a line.

In: one line, `{"rig": ..., "first": {"setlists": [...]}}`, `{"rig": ..., "give-up": {...}}` or
`{"rig": ..., "smaller": {...}}`. Out: one line, `{"first": ...}`, `{"give-up": ...}`, `{"smaller":
...}` or `{"error": "..."}`. Of a remedy's rig stands what
differs from the rig asked about (`rigtui.model.lines`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict
from functools import partial
from typing import TYPE_CHECKING, Any

from rigtui.advice.counted import Counted
from rigtui.advice.first import First
from rigtui.advice.remedy import Proposal, Remedy
from rigtui.checks import Finding
from rigtui.model.errors import EditError
from rigtui.model.lines import changed_by, difference, line_of, rig_data
from rigtui.model.rig import Rig

if TYPE_CHECKING:
    from rigtui.advice.giving_up.smaller import Sought


def first_task(rig: Rig, setlists: tuple[str, ...] = ()) -> str:
    """Write that it is to be found out what to do first."""
    return line_of({"rig": rig_data(rig), "first": {"setlists": setlists}})


def give_up_task(
    rig: Rig,
    setlists: tuple[str, ...],
    keep: tuple[str, ...],
    seconds: float | None,
    *,
    boards: bool,
) -> str:
    """Write that it is to be found out what to give up."""
    asked = {"setlists": setlists, "keep": keep, "seconds": seconds, "boards": boards}
    return line_of({"rig": rig_data(rig), "give-up": asked})


def smaller_task(rig: Rig, wanted: Sought) -> str:
    """Write that something smaller than a plan is to be looked for."""
    return line_of({"rig": rig_data(rig), "smaller": asdict(wanted)})


def first_line(first: First, rig: Rig) -> str:
    """Write what to do first with a rig."""
    rows = [_remedy_data(remedy, rig) for remedy in first.remedies]
    return line_of({"first": {"remedies": rows, "untried": first.untried, "tried": first.tried}})


def first_of(data: Mapping[str, Any], rig: Rig) -> First:
    """Read what to do first with a rig."""
    remedies = tuple(_remedy_of(row, rig) for row in data["remedies"])
    return First(remedies, tuple(data["untried"]), data["tried"])


def only_to(now: Rig, then: Rig) -> Callable[[Rig], Rig]:
    """Return the edit from one rig to another, which fits no third."""
    return partial(_stepped, now=now, then=then)


def _stepped(rig: Rig, now: Rig, then: Rig) -> Rig:
    if rig is not now and rig != now:
        raise EditError("the rig has changed since this remedy was tried: wait a moment")
    return then


def _remedy_data(remedy: Remedy, rig: Rig) -> dict[str, Any]:
    proposal = remedy.proposal
    return {
        "kind": proposal.kind,
        "what": proposal.what,
        "places": proposal.places,
        "costs": dict(proposal.costs),
        "as-if": proposal.as_if,
        "detail": proposal.detail,
        "rig": difference(remedy.rig, rig),
        "before": asdict(remedy.before),
        "after": asdict(remedy.after),
        "cleared": [_finding_data(finding) for finding in remedy.cleared],
        "added": [_finding_data(finding) for finding in remedy.added],
        "stays": [_finding_data(finding) for finding in remedy.stays],
        "goes-with": remedy.goes_with,
    }


def _remedy_of(data: Mapping[str, Any], rig: Rig) -> Remedy:
    then = changed_by(data["rig"], rig)
    proposal = Proposal(
        data["kind"],
        data["what"],
        only_to(rig, then),
        tuple(data["places"]),
        data["costs"],
        data["as-if"],
        tuple(data["detail"]),
    )
    cleared, added, stays = (
        tuple(Finding(**row) for row in data[key]) for key in ("cleared", "added", "stays")
    )
    before, after = Counted(**data["before"]), Counted(**data["after"])
    return Remedy(proposal, then, before, after, cleared, added, stays, tuple(data["goes-with"]))


def _finding_data(finding: Finding) -> dict[str, Any]:
    """A finding without its fix."""
    names = ("rule", "severity", "where", "message", "why", "waived", "times")
    return {name: getattr(finding, name) for name in names}
