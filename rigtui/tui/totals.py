"""The figures of the status line: the moves of the evening, and its findings."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig
    from rigtui.moves import SetlistCount, SongCount


class Totals(NamedTuple):
    """What the feet have to do for what is at hand."""

    name: str
    """The setlist at hand; all songs where there is none."""
    moves: str
    """All of it: what can't be played first, then moves, extra presses and set-up moves."""
    brief: str
    """What counts of it, where there is little room."""


def totals_text(rig: Rig, setlist_id: str | None) -> Totals:
    """The figures of the setlist at hand, or of all songs where there is none."""
    from rigtui.moves import count_setlist, count_songs

    for setlist in rig.setlists:
        if setlist.id == setlist_id:
            evening = count_setlist(rig, setlist)
            return _totals(setlist.label, [evening], f"+{evening.set_up_moves} set-up")
    return _totals("all songs", count_songs(rig, rig.songs), "")


def _totals(name: str, counts: Sequence[SongCount | SetlistCount], set_up: str) -> Totals:
    from rigtui.moves.words import burden_in_words

    moves, least = sum(count.moves for count in counts), sum(count.least_moves for count in counts)
    extra = sum(count.extra_presses for count in counts)
    unplayable = sum(count.unplayable for count in counts)
    lost = f"{unplayable} can't be played, " if unplayable else ""
    more = f", {extra} extra," if extra else ""
    whole = f"{lost}{moves} moves (least {least}){more} {set_up}".rstrip(" ,")
    brief = [f"{moves} moves", *burden_in_words(unplayable, extra, brief=True)]
    return Totals(name, whole, ", ".join(brief))


def faults_text(findings: tuple[Finding, ...]) -> str:
    """How many findings stand, the worst kind first."""
    from rigtui.checks import SEVERITIES
    from rigtui.model.text import count

    standing = [finding.severity for finding in findings if finding.waived is None]
    counts = [(standing.count(severity), severity) for severity in SEVERITIES]
    words = [
        f"{number} advice" if severity == "advice" else count(number, severity)
        for number, severity in counts
        if number
    ]
    return ", ".join(words[:2]) if words else "no findings"
