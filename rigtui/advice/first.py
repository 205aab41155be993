"""Do these first: try remedies on the rig, and offer the best few.

The work is bounded in steps, so that two runs say the same; what is too much for it is said to be
untried. It goes in small pieces, so that a screen stays awake.
"""

from __future__ import annotations

from collections.abc import Generator, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from rigtui.advice.counted import counted
from rigtui.advice.remedy import Proposal, Remedy, findings_gone, said_before
from rigtui.checks import Finding
from rigtui.checks.all_moves import finished
from rigtui.checks.engine import Checkup
from rigtui.model.errors import EditError
from rigtui.model.playable import lost_sections
from rigtui.model.rig import Rig
from rigtui.plan.ask.evening import evening_of
from rigtui.plan.ask.result import PlanError

if TYPE_CHECKING:
    from rigtui.advice.proposals import Asked

MOST = 5
MOST_TRIED = 24
"""Proposals that are tried at most, ..."""
MOST_SECTIONS = 6000
"""... and sections that are gone through in trying them, so that an evening is soon done."""
_PRESET = 5
"""A preset is as much work as so many sections."""
FEWEST_TRIED = 3
"""A rig for which not so many could be tried is left to the commands."""
TOO_LARGE = "any remedy (rigtui plan all and rigtui plan compromise can, and take longer)"


@dataclass(frozen=True)
class First:
    """What to do first."""

    remedies: tuple[Remedy, ...]
    """Best first, at most `MOST`."""
    untried: tuple[str, ...] = ()
    """What was too much to try, in words."""
    tried: int = 0
    """How many ways were tried on the rig."""

    def leaves(self, findings: Iterable[Finding]) -> tuple[Finding, ...]:
        """Return the errors among findings that no remedy clears: they stop the show first."""
        errors = (finding for finding in findings if finding.severity == "error")
        cleared = [finding for remedy in self.remedies for finding in remedy.cleared]
        return findings_gone(errors, cleared)


def do_first(
    rig: Rig, setlists: Sequence[str] = (), findings: Sequence[Finding] | None = None
) -> First:
    """Find what to do first.

    Args:
        rig: The rig.
        setlists: Ids of the setlists that count; all where none is named.
        findings: All findings of the rig, where they are known already.
    """
    return finished(do_first_in_pieces(rig, setlists, findings))


def do_first_in_pieces(
    rig: Rig, setlists: Sequence[str] = (), findings: Sequence[Finding] | None = None
) -> Generator[None, None, First]:
    """Do the same in small pieces.

    Args:
        rig: The rig.
        setlists: Ids of the setlists that count.
        findings: The rig's findings, where they are known already.
    """
    try:
        evening = evening_of(rig, setlists)
    except PlanError:  # no song to play: then there is nothing to do first either
        return First(())
    if findings is None:
        findings = yield from _checked(rig)
    size = sum(len(song.sections) for song in rig.songs) + _PRESET * len(rig.presets)
    most = min(MOST_TRIED, MOST_SECTIONS // max(1, size))
    if most < FEWEST_TRIED:
        return First((), (TOO_LARGE,))
    from rigtui.advice.proposals import Asked, proposals  # with numpy: only to try something

    asked = Asked(rig, evening, tuple(findings))
    remedies: list[Remedy] = []
    tried = 0
    for proposal in proposals(asked):
        if proposal is None:
            yield
            continue
        if tried == most:
            asked.untried.append("more ways than rigtui tries at once")
            break
        tried += 1
        remedy = yield from _tried(asked, proposal)
        if remedy is not None:
            remedies.append(remedy)
    return First(tuple(_offered(asked, remedies)), tuple(dict.fromkeys(asked.untried)), tried)


def _checked(rig: Rig) -> Generator[None, None, tuple[Finding, ...]]:
    checkup = Checkup(rig)
    for _ in checkup:
        yield
    return checkup.findings


def _tried(asked: Asked, proposal: Proposal) -> Generator[None, None, Remedy | None]:
    """Try a proposal; None where it cannot be done, or only moves trouble elsewhere."""
    try:
        then = proposal.edit(asked.rig)
    except EditError:
        return None
    yield
    after = counted(then, asked.evening)
    if after.order > asked.before.order or lost_sections(then) > lost_sections(asked.rig):
        return None
    yield
    findings = yield from _checked(then)
    cleared = findings_gone(asked.findings, findings)
    added = findings_gone(findings, asked.findings)
    if after.order == asked.before.order and len(cleared) <= len(added):
        return None
    if _number(added, ("error",)) > _number(cleared, ("error",)):
        return None
    fewer = _number(cleared, ("error", "warning")) - _number(added, ("error", "warning"))
    playable = asked.before.unplayable - after.unplayable
    if fewer < 0 or (fewer == 0 and added and not playable):
        return None  # the trouble is only called otherwise, or stands elsewhere
    stays = said_before(asked.rig, cleared, added)
    return Remedy(proposal, then, asked.before, after, cleared, added, stays)


def _number(findings: Iterable[Finding], severities: tuple[str, ...]) -> int:
    return sum(finding.severity in severities for finding in findings)


def _offered(asked: Asked, remedies: Sequence[Remedy]) -> Iterator[Remedy]:
    """The best of each kind, in order, each with those that go with it."""
    best: dict[str, Remedy] = {}
    kept = [remedy for remedy in remedies if not _needless(remedy, remedies)]
    for remedy in sorted(kept, key=lambda remedy: remedy.rank):
        best.setdefault(remedy.proposal.kind, remedy)
    offered = list(best.values())[:MOST]
    for at, remedy in enumerate(offered):
        with_it = (
            nth
            for nth, other in enumerate(offered)
            if nth != at and _go_together(asked, offered[min(at, nth)], offered[max(at, nth)])
        )
        yield replace(remedy, goes_with=tuple(with_it))


def _needless(remedy: Remedy, remedies: Sequence[Remedy]) -> bool:
    """Whether a sound is given up for what another remedy does with every sound kept."""
    return remedy.proposal.kind == "give up" and any(
        other is not remedy
        and not other.proposal.as_if
        and other.after.unplayable <= remedy.after.unplayable
        and other.after.extra_presses <= remedy.after.extra_presses
        for other in remedies
    )


def _go_together(asked: Asked, first: Remedy, second: Remedy) -> bool:
    """Whether a remedy can be done on top of another and makes less to do than each alone."""
    if findings_gone(first.cleared, second.cleared) != first.cleared:
        return False  # the one does what the other does
    try:
        both = second.proposal.edit(first.rig)
    except EditError:
        return False
    order = counted(both, asked.evening).order
    if order < first.after.order and order < second.after.order:
        return True
    # Neither touches the feet any more, or only one: then it is enough that nothing is undone.
    alone = min(first.after.order, second.after.order)
    touches = [remedy.after.order < asked.before.order for remedy in (first, second)]
    return not all(touches) and order <= alone
