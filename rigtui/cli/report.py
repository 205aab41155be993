"""`rigtui report`: read the question, check the rig, and print the report."""

from __future__ import annotations

import sys
from argparse import Namespace
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

from rigtui.checks import SEVERITIES, Finding, check, touching, touching_setlist
from rigtui.cli.chosen import NotThereError, named_row
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.reported import Report
from rigtui.cli.terminal import complain, complain_of_file, put
from rigtui.model.errors import BadRigError
from rigtui.model.rig import Rig
from rigtui.store.load import load
from rigtui.store.locate import Locator

FOUND = 1
"""Exit status where a finding is at or above the level asked for."""


def run(arguments: Namespace) -> int:
    """Print the report of a file and return the exit status."""
    try:
        source, rig = load(Path(arguments.file))
        report = report_of(arguments.file, rig, arguments.setlist, arguments.song)
        report = replace(report, in_full=arguments.all, locator=Locator(source))
    except BadRigError as error:
        complain_of_file(arguments.file, (problem.text() for problem in error.problems))
        return BAD_USAGE
    except NotThereError as error:
        complain(f"{arguments.file}: {error}")
        return BAD_USAGE
    put(_written(report, arguments.json))
    return FOUND if fails(report.findings, arguments.fail_on) else 0


def _written(report: Report, as_json: bool) -> str:
    if as_json:
        from rigtui.cli.report_json import json_text

        return json_text(report)
    from rigtui.cli.report_text import report_text
    from rigtui.cli.terminal import terminal_of

    return report_text(report, terminal_of(sys.stdout))


def report_of(file: str, rig: Rig, setlist_id: str | None, song_id: str | None) -> Report:
    """Choose what a report covers: the whole rig, one setlist, or one song.

    Raises:
        NotThereError: the rig has no such setlist or song.
    """
    findings = check(rig)
    if song_id is not None:
        song = named_row("song", song_id, rig.songs)
        return Report(file, rig, (song,), (), touching(rig, findings, {song.id}), song)
    chosen = () if setlist_id is None else (setlist_id,)
    if setlist_id is not None:
        named_row("setlist", setlist_id, rig.setlists)
    from rigtui.advice.first import do_first

    first = do_first(rig, chosen, findings)
    if setlist_id is not None:
        setlist = named_row("setlist", setlist_id, rig.setlists)
        played = set(setlist.song_ids)
        songs = tuple(song for song in rig.songs if song.id in played)
        of_setlist = touching_setlist(rig, findings, setlist.id)
        return Report(file, rig, songs, (setlist,), of_setlist, first=first)
    return Report(file, rig, rig.songs, rig.setlists, findings, first=first)


def fails(findings: Iterable[Finding], level: str) -> bool:
    """Whether a finding that is not waived is at or above a level."""
    heavy = SEVERITIES[: SEVERITIES.index(level) + 1]
    return any(finding.waived is None and finding.severity in heavy for finding in findings)
