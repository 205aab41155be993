"""What a rule finds, and the edit that mends it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal, NamedTuple

from rigtui.chain import SignalGraph, graph_of
from rigtui.model import Player, Rig
from rigtui.model.lookup import Lookup, lookup
from rigtui.model.places import taken_apart
from rigtui.moves import Board, board_of

Severity = Literal["error", "warning", "advice"]
SEVERITIES: tuple[Severity, ...] = ("error", "warning", "advice")
Scope = Literal["rig", "pedal", "preset", "song", "setlist", "findings"]


@dataclass(frozen=True, slots=True)
class Fix:
    """An edit that mends a finding, with what it does in a few words."""

    label: str
    edit: Callable[[Rig], Rig] = field(compare=False)


class FixChoice(NamedTuple):
    """One answer to a question that a finding asks."""

    words: str
    """What is chosen."""
    fix: Fix
    """What mends the finding then."""


@dataclass(frozen=True, slots=True)
class Choices:
    """A question whose answer mends a finding, where only the player knows the answer."""

    question: str
    what: str
    """What is chosen from, in a word or two: "the presets"."""
    ways: Callable[[Rig], Sequence[FixChoice]] = field(compare=False)
    """The answers that a rig has, the likeliest first."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a rule has to say about one place."""

    rule: str
    severity: Severity
    where: str
    """Dotted path of table and ids; sections are counted from 0."""
    message: str
    why: str
    fix: Fix | None = None
    waived: str | None = None
    """The player's reason for accepting it; None if it stands."""
    rank: tuple[int, ...] = field(default=(), compare=False)
    """Among findings of one rule, those with the least matter most."""
    times: int = field(default=1, compare=False)
    """How many changes it is about."""
    joins: str = field(default="", compare=False)
    """Its message in short, for the finding of another rule at the same place that says both."""
    about: tuple[str, ...] = field(default=(), compare=False)
    """More places that it is about: the pedals at fault in a preset, the other of two devices."""
    choices: Choices | None = field(default=None, compare=False)
    """What to ask the player to mend it; a fix that there is as well is the likely answer."""

    @property
    def mendable(self) -> bool:
        """Whether one key mends it, perhaps with one choice."""
        return self.waived is None and (self.fix is not None or self.choices is not None)


def touching(
    rig: Rig, findings: Iterable[Finding], song_ids: set[str], setlist_id: str | None = None
) -> tuple[Finding, ...]:
    """Return the findings that touch some songs and one setlist, or the rig as a whole."""
    kept = []
    for finding in findings:
        table, name, _ = taken_apart(finding.where)
        if table == "songs" and name not in song_ids:
            continue
        if table == "setlists" and name != setlist_id:
            continue
        if table == "printed" and rig.printed[int(name)].setlist not in (None, setlist_id):
            continue
        kept.append(finding)
    return tuple(kept)


def touching_setlist(
    rig: Rig, findings: Iterable[Finding], setlist_id: str | None
) -> tuple[Finding, ...]:
    """Return the findings that touch one setlist, its songs, or the rig; all without a setlist."""
    setlist = next((row for row in rig.setlists if row.id == setlist_id), None)
    if setlist is None:
        return tuple(findings)
    return touching(rig, findings, set(setlist.song_ids), setlist.id)


@dataclass(frozen=True, slots=True)
class RigView:
    """A rig with everything that is computed once for all rules."""

    rig: Rig
    known: Lookup
    board: Board
    chain: SignalGraph
    player: Player
    rule_ids: tuple[str, ...] = ()
    """Ids of all rules, for those that look at waivers."""
    at_hand: list[Any] = field(default_factory=list, compare=False)
    """What rules remember of songs on this board, once it was looked up."""

    @classmethod
    def of(cls, rig: Rig, rule_ids: tuple[str, ...] = ()) -> RigView:
        """Look at a rig."""
        return cls(rig, lookup(rig), board_of(rig), graph_of(rig), rig.player, rule_ids)


@dataclass(frozen=True, slots=True)
class Hit:
    """What a rule's check yields; the registry adds the rule's id, severity and why.

    `severity` and `why` are given only where they differ from the rule's own.
    """

    where: str
    message: str
    fix: Fix | None = None
    severity: Severity | None = None
    why: str | None = None
    rank: tuple[int, ...] = ()
    """Among the findings of one rule, those with the least matter most; of a rule about the rig
    they also come first."""
    times: int = 1
    joins: str = ""
    about: tuple[str, ...] = ()
    choices: Choices | None = None


@dataclass(frozen=True, slots=True)
class Rule:
    """A check and what a player should know of it."""

    id: str
    severity: Severity
    scope: Scope
    """What the check is called with, one at a time; "rig" is called once, "findings" last of all.

    Findings about one pedal, preset or song are remembered while that row and the board stay the
    same: a check of these scopes must look at no other song and at no setlist.
    """
    summary: str
    """What it reports, in one line."""
    why: str
    """Why it matters, in a sentence that a guitarist would say."""
    source: str
    """Where the rule comes from; "common practice" for a fact of the trade."""
    check: Callable[..., Iterator[Hit | None]]
    """check(view) for scope "rig", else check(view, pedal | preset | song | setlist | findings).

    One that has much to do yields None now and then, so that a screen stays awake.
    """

    def finding(self, hit: Hit) -> Finding:
        """Make the finding of a hit."""
        return Finding(
            rule=self.id,
            severity=hit.severity or self.severity,
            where=hit.where,
            message=hit.message,
            why=hit.why or self.why,
            fix=hit.fix,
            rank=hit.rank,
            times=hit.times,
            joins=hit.joins,
            about=hit.about,
            choices=hit.choices,
        )
