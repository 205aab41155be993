"""A remedy: something to do first, applied to the rig and counted before it is offered."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from rigtui.advice.counted import Counted
from rigtui.checks import Finding
from rigtui.checks.demand import demands
from rigtui.checks.finding import RigView
from rigtui.model.places import taken_apart
from rigtui.model.rig import Rig


@dataclass(frozen=True)
class Proposal:
    """What could be done, not tried yet."""

    kind: str
    """One of each kind is offered at most."""
    what: str
    """What to do, in a sentence without full stop."""
    edit: Callable[[Rig], Rig] = field(compare=False)
    """Does it; where it is no edit of what there is, it makes the rig as it would be."""
    places: tuple[str, ...] = ()
    """Paths of the rows that it changes."""
    costs: Mapping[str, int] = field(default_factory=dict)
    """What it takes: sections, presets, memories, pedals, seconds, switches."""
    as_if: bool = False
    """Whether no edit can do it: something has to be bought, or be so already."""
    detail: tuple[str, ...] = ()
    """More that the player should know, a sentence each."""
    to_buy: bool = False
    """Whether something has to be bought: that comes after all that the board as it is can do."""

    @property
    def things(self) -> int:
        """How many things it changes, at least one."""
        return max(1, sum(number for what, number in self.costs.items() if what != "seconds"))


@dataclass(frozen=True)
class Remedy:
    """A proposal that was tried, with what it does."""

    proposal: Proposal
    rig: Rig
    """The rig with it done."""
    before: Counted
    after: Counted
    cleared: tuple[Finding, ...]
    """Findings that are gone, waived ones not counted."""
    added: tuple[Finding, ...]
    """Findings that are new."""
    stays: tuple[Finding, ...] = ()
    """Those among them that say only what a finding that is gone said as well."""
    goes_with: tuple[int, ...] = ()
    """Places, from 0, of other remedies offered that can be done as well and help on top."""

    @property
    def new(self) -> tuple[Finding, ...]:
        """Findings that tell of trouble that was not there before."""
        return tuple(finding for finding in self.added if finding not in self.stays)

    @property
    def clears(self) -> dict[str, int]:
        """What it clears; less than 0 where it costs some."""
        return {
            "unplayable": self.before.unplayable - self.after.unplayable,
            "extra_presses": self.before.extra_presses - self.after.extra_presses,
            "moves": self.before.moves - self.after.moves,
            "findings": len(self.cleared),
        }

    @property
    def rank(self) -> tuple[float, ...]:
        """What comes first: unplayable, effort, then findings cleared for each thing changed.

        What has to be bought comes last, whatever it brings; of the same effort, what gives up a
        sound comes behind what keeps all. Of findings, errors and
        warnings come before advice.
        """
        things = self.proposal.things
        heavy = len(_heavy(self.cleared)) - len(_heavy(self.added))
        net = len(self.cleared) - len(self.added)
        effort = self.after.effort - self.before.effort
        unplayable = self.after.unplayable - self.before.unplayable
        gives_up = self.proposal.kind == "give up"
        return (
            self.proposal.to_buy, unplayable, effort, gives_up, -heavy / things, -net / things,
        )  # fmt: skip


def _heavy(findings: Iterable[Finding]) -> list[Finding]:
    return [finding for finding in findings if finding.severity != "advice"]


def findings_gone(before: Iterable[Finding], after: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return the findings that another rig doesn't have, compared by rule, weight and place.

    Waived findings do not count.
    """
    left = Counter(map(_key, _standing(after)))
    gone = []
    for finding in _standing(before):
        if left[_key(finding)] > 0:
            left[_key(finding)] -= 1
        else:
            gone.append(finding)
    return tuple(gone)


def said_before(
    rig: Rig, cleared: Iterable[Finding], added: Iterable[Finding]
) -> tuple[Finding, ...]:
    """Return the late changes that were late before, as part of a finding that is gone.

    A crowded change that is late as well is told in one finding; with a press less it may be late
    all the same, and is then told as that.

    Args:
        rig: The rig as it was.
        cleared: Findings that are gone.
        added: Findings that are there now.
    """
    crowded = {finding.where for finding in cleared if finding.rule == "crowded-change"}
    late = [f for f in added if f.rule == "late-change" and f.where in crowded]
    view = RigView.of(rig) if late else None
    return tuple(finding for finding in late if view is not None and _was_late(view, finding.where))


def _was_late(view: RigView, where: str) -> bool:
    place = taken_apart(where)
    song = view.known.songs.get(place.row)
    if song is None:
        return False
    return any(
        demand.is_late or demand.is_late_ahead
        for demand in demands(view, song)
        if demand.to_section == place.section
    )


def _standing(findings: Iterable[Finding]) -> list[Finding]:
    return [finding for finding in findings if finding.waived is None]


def _key(finding: Finding) -> tuple[str, str, str]:
    return finding.rule, finding.severity, finding.where
