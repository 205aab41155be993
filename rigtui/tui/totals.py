"""What the status line sums up: moves of what is at hand, and the findings that stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig


def totals_text(rig: Rig, setlist_id: str | None) -> tuple[str, str]:
    """The setlist at hand and its moves, or those of all songs where there is none."""
    from rigtui.moves import count_setlist, count_songs

    for setlist in rig.setlists:
        if setlist.id == setlist_id:
            totals = count_setlist(rig, setlist)
            return setlist.label, (
                f"{totals.moves} moves (least {totals.least_moves}) +{totals.set_up_moves} set-up"
            )
    counts = count_songs(rig, rig.songs)
    moves, least = sum(song.moves for song in counts), sum(song.least_moves for song in counts)
    return "all songs", f"{moves} moves (least {least})"


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
