"""Findings by what a player does about them: can't be played, to rehearse, the rest by cause."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Any, Generic, Protocol, TypeVar

from rigtui.model import Rig
from rigtui.model.lookup import lookup
from rigtui.model.places import taken_apart
from rigtui.moves import Change, Presses, count_song

REHEARSED = ("crowded-change", "late-change")
"""Rules about a single change that the player can practise."""
MOST_REHEARSED = 8
"""How many changes are named; a rehearsal has no time for more."""
_STOPPING = ("unmapped", "failed-lead")
"""Rules that come first among what can't be played: without a preset, or with a dead lead, a
section has no sound at all, whatever is planned."""


class Remark(Protocol):
    """A finding, as far as paper needs to know it."""

    @property
    def rule(self) -> str:
        """Id of the rule."""
        ...

    @property
    def severity(self) -> str:
        """error, warning or advice."""
        ...

    @property
    def where(self) -> str:
        """Dotted path of table and ids."""
        ...

    @property
    def message(self) -> str:
        """What is wrong."""
        ...

    @property
    def why(self) -> str:
        """Why it matters."""
        ...

    @property
    def rank(self) -> tuple[int, ...]:
        """The least comes first among findings of one rule."""
        ...

    @property
    def times(self) -> int:
        """How many changes it is about."""
        ...


RemarkT = TypeVar("RemarkT", bound=Remark)


@dataclass(frozen=True, slots=True)
class Cause(Generic[RemarkT]):
    """All findings of one rule and weight."""

    rule: str
    severity: str
    remarks: tuple[RemarkT, ...]
    songs: int
    """Songs that they are in; 0 where they are not about songs."""
    patterns: int
    """Kinds of changes among them, told apart by the presses; 0 where they are not about changes.
    """

    @property
    def times(self) -> int:
        """How often it comes, all changes of each finding counted."""
        return sum(remark.times for remark in self.remarks)


@dataclass(frozen=True, slots=True)
class HardChange(Generic[RemarkT]):
    """A change to rehearse, with the same one elsewhere in its song."""

    remarks: tuple[RemarkT, ...]
    """What is said of it where it first comes."""
    repeats: tuple[RemarkT, ...]
    """What is said of it where it comes again."""

    @property
    def again(self) -> tuple[int, ...]:
        """Further sections of the song, from 0, that are entered with the same presses."""
        return tuple(sorted({_section(remark) for remark in self.repeats}))

    @property
    def where(self) -> str:
        """The section entered."""
        return self.remarks[0].where


@dataclass(frozen=True, slots=True)
class ByCause(Generic[RemarkT]):
    """Findings in the order in which a player deals with them. Nothing is left out."""

    cannot: tuple[Cause[RemarkT], ...]
    """Errors: what cannot be played, or would not be what the file says; no sound at all first."""
    rehearse: tuple[HardChange[RemarkT], ...]
    """All changes to rehearse, the hardest first."""
    rest: tuple[Cause[RemarkT], ...]
    """Everything else: warnings before advice, songs and sets before board and presets, and then
    what comes most often first."""


def by_cause(rig: Rig, remarks: Iterable[RemarkT]) -> ByCause[RemarkT]:
    """Sort findings by what a player does about them.

    Args:
        rig: The rig that they are of.
        remarks: Its findings, heaviest first; without the waived ones.
    """
    errors, hard, rest = [], [], []
    for remark in remarks:
        if remark.severity == "error":
            errors.append(remark)
        elif remark.rule in REHEARSED and taken_apart(remark.where).section:
            hard.append(remark)
        else:
            rest.append(remark)
    cannot = sorted(_causes(rig, errors), key=lambda cause: cause.rule not in _STOPPING)
    causes = sorted(_causes(rig, rest), key=_place_in_rest)
    return ByCause(tuple(cannot), _hard_changes(rig, hard), tuple(causes))


def _place_in_rest(cause: Cause[Any]) -> tuple[int, bool, int]:
    """What a player meets on stage comes before what is programmed and plugged at home."""
    played = any(taken_apart(row.where).table in ("songs", "setlists") for row in cause.remarks)
    return (("warning", "advice").index(cause.severity), not played, -cause.times)


def _causes(rig: Rig, remarks: Sequence[RemarkT]) -> tuple[Cause[RemarkT], ...]:
    groups: dict[tuple[str, str], list[RemarkT]] = {}
    for remark in remarks:
        groups.setdefault((remark.rule, remark.severity), []).append(remark)
    return tuple(_cause(rig, *key, tuple(group)) for key, group in groups.items())


def _cause(rig: Rig, rule: str, severity: str, remarks: tuple[RemarkT, ...]) -> Cause[RemarkT]:
    places = [taken_apart(remark.where) for remark in remarks]
    songs = {place.row for place in places if place.table == "songs"}
    presses = [_presses(rig, remark.where) for remark in remarks]
    kinds = len(set(presses)) if all(presses) else 0
    if any(remark.times > 1 for remark in remarks):  # each is about a kind of change already
        kinds = len(remarks)
    return Cause(rule, severity, remarks, len(songs), kinds)


def _hard_changes(rig: Rig, remarks: Sequence[RemarkT]) -> tuple[HardChange[RemarkT], ...]:
    changes: dict[str, list[RemarkT]] = {}
    for remark in remarks:
        changes.setdefault(remark.where, []).append(remark)
    alike: dict[tuple[str, Presses], list[list[RemarkT]]] = {}
    for where, group in changes.items():
        alike.setdefault((taken_apart(where).row, _presses(rig, where)), []).append(group)
    hard = []
    for groups in alike.values():
        first, *others = sorted(groups, key=_hardest)
        hard.append(HardChange(tuple(first), tuple(chain.from_iterable(others))))
    return tuple(sorted(hard, key=lambda change: _hardest(change.remarks)))


def _hardest(remarks: Sequence[Remark]) -> tuple[int, ...]:
    return min(remark.rank for remark in remarks)


def _section(remark: Remark) -> int:
    at = taken_apart(remark.where).section
    assert at is not None
    return at


def change_at(rig: Rig, where: str) -> Change | None:
    """The change into the section at a place; None where nothing is entered there."""
    place = taken_apart(where)
    song = lookup(rig).songs.get(place.row) if place.table == "songs" else None
    if song is None or not place.section or place.section >= len(song.sections):
        return None
    return count_song(rig, song).changes[place.section - 1]


def _presses(rig: Rig, where: str) -> Presses:
    change = change_at(rig, where)
    return change.presses if change else ()
