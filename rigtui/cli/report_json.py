"""The report as one JSON object, with the keys that other programs rely on."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from rigtui.advice.words import does
from rigtui.moves import count_setlist, count_song

if TYPE_CHECKING:
    from rigtui.advice.remedy import Remedy
    from rigtui.checks import Finding
    from rigtui.cli.reported import Report
    from rigtui.model.rig import Rig, Setlist, Song
    from rigtui.moves import SetlistCount, SongCount


def json_text(report: Report) -> str:
    """Write a report as one line of JSON, in ASCII so that no terminal acts on what it holds."""
    rig = report.rig
    whole = {
        "rig": rig.name,
        "format": rig.format,
        "songs": [_song(rig, song) for song in report.songs],
        "setlists": [_setlist(rig, setlist) for setlist in report.setlists],
        "first": [_remedy(remedy) for remedy in report.first.remedies] if report.first else [],
        "first_untried": report.first.untried if report.first else [],
        "findings": [_finding(finding) for finding in report.findings],
    }
    return json.dumps(whole, ensure_ascii=True, allow_nan=False) + "\n"


def _song(rig: Rig, song: Song) -> dict[str, Any]:
    counted = count_song(rig, song)
    return {
        "id": song.id,
        "moves": counted.moves,
        "least_moves": counted.least_moves,
        "on_the_beat_worst": counted.on_the_beat_worst,
        "hand_moves": counted.hand_moves,
        "seconds": counted.seconds,
        **_burden(counted),
        "changes": [
            {
                "from": change.from_section,
                "to": change.to_section,
                "moves": change.moves,
                "on_the_beat": change.on_the_beat,
                "presses": [str(press) for press in change.presses],
            }
            for change in counted.changes
        ],
    }


def _setlist(rig: Rig, setlist: Setlist) -> dict[str, Any]:
    counted = count_setlist(rig, setlist)
    return {
        "id": setlist.id,
        "moves": counted.moves,
        "least_moves": counted.least_moves,
        "set_up_moves": counted.set_up_moves,
        "songs": counted.song_ids,
        "guitar_changes": counted.guitar_changes,
        **_burden(counted),
    }


def _burden(counted: SongCount | SetlistCount) -> dict[str, Any]:
    return {
        "crowded": counted.crowded,
        "extra_presses": counted.extra_presses,
        "unplayable": counted.unplayable,
        "effort": counted.effort,
    }


def _remedy(remedy: Remedy) -> dict[str, Any]:
    proposal = remedy.proposal
    return {
        "what": proposal.what,
        "does": does(remedy),
        "places": proposal.places,
        "clears": remedy.clears,
        "costs": {what: number for what, number in proposal.costs.items() if number},
        "adds": [
            {
                "rule": added.rule,
                "severity": added.severity,
                "where": added.where,
                "message": added.message,
                "new": added not in remedy.stays,
            }
            for added in remedy.added
        ],
        "as_if": proposal.as_if,
        "goes_with": remedy.goes_with,
        "detail": proposal.detail,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "rule": finding.rule,
        "severity": finding.severity,
        "where": finding.where,
        "message": finding.message,
        "why": finding.why,
        "fix": finding.fix.label if finding.fix else None,
        "waived": finding.waived,
    }
