"""`rigtui sheet`: the plan on paper."""

from __future__ import annotations

import os
import sys
from argparse import Namespace
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from rigtui.advice.remedy import Remedy
from rigtui.checks import Finding, check
from rigtui.cli.chosen import NotThereError, named_row, opened
from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, put, put_file, put_lines, terminal_of
from rigtui.model.errors import RigError
from rigtui.model.rig import Rig, Setlist
from rigtui.model.sheet_kinds import SHEET_KINDS
from rigtui.model.text import count, listed
from rigtui.paper import Sheet, setlist_for
from rigtui.sheets.formats import (
    DEFAULT,
    FORMATS,
    SUFFIXES,
    Rendered,
    format_of,
    laid_out_formats,
)
from rigtui.sheets.make import (
    file_name,
    make_sheet,
    missing_in_words,
    pages_in_words,
    render,
)
from rigtui.store.atomic import SaveError
from rigtui.store.load import Source
from rigtui.store.sheet_files import ThereAlreadyError, write_sheet


class _UsageError(RigError):
    """Options that do not go together."""


def run(arguments: Namespace) -> int:
    """Write a sheet and return the exit status."""
    try:
        format = _format(arguments)
    except _UsageError as error:
        complain(f"rigtui sheet: {error}", "`rigtui sheet --help` explains it")
        return BAD_USAGE
    read = opened(arguments.file)
    if read is None:
        return BAD_USAGE
    source, rig = read
    try:
        _write(source, rig, format, arguments)
    except NotThereError as error:
        complain(f"{arguments.file}: {error}")
    except ThereAlreadyError as error:
        complain(f"rigtui sheet: {error}; --force replaces it")
    except (_UsageError, SaveError) as error:
        complain(f"rigtui sheet: {error}")
    else:
        return 0
    return BAD_USAGE


def _format(arguments: Namespace) -> str:
    """Choose the format, and refuse options that it has no use for."""
    output = arguments.output
    format: str | None = arguments.format
    to_file = output not in (None, "-") and not os.path.isdir(output)
    if format is None and to_file:
        format = format_of(output)
        if format is None:
            known = ", ".join(SUFFIXES)
            raise _UsageError(
                f"{output}: its name doesn't say a format; end it in {known}, or add --format"
            )
    if arguments.all and arguments.kind != "rehearsal":
        raise _UsageError("--all is for the rehearsal sheet: the others always show everything")
    if arguments.pages and (output is not None or arguments.record):
        raise _UsageError("--pages writes nothing: leave out -o and --record")
    format = "pdf" if arguments.pages else format or DEFAULT
    if not FORMATS[format].laid_out:
        for name in ("paper", "distance"):
            if getattr(arguments, name) is not None:
                sized = laid_out_formats()
                raise _UsageError(
                    f"--{name} is for {listed(sized)}; add --format {sized[-1]}, or "
                    f"-o FILE{FORMATS[sized[-1]].endings[0]}"
                )
    return format


def _write(source: Source, rig: Rig, format: str, arguments: Namespace) -> None:
    kind, wanted = arguments.kind, arguments.setlist
    if wanted is not None:
        named_row("setlist", wanted, rig.setlists)
    setlist = setlist_for(rig, kind, wanted)
    findings = check(rig) if SHEET_KINDS[kind].prints_findings else ()
    remedies = _first(rig, setlist, findings) if kind == "rehearsal" else ()
    sheet = make_sheet(rig, kind, setlist, findings, date.today(), remedies)
    if arguments.all:
        sheet = sheet.whole()
    if arguments.pages:
        said = pages_in_words(sheet, arguments.paper or "a4", arguments.distance)
        name = SHEET_KINDS[kind].name
        put(terminal_of(sys.stdout).show(f"{name[:1].upper()}{name[1:]}: {said}") + "\n")
        return
    made = render(sheet, format, arguments.paper or "a4", arguments.distance)
    output = arguments.output
    if output in (None, "-"):
        _to_stdout(made, format)
    else:
        _to_file(made, sheet, _target(output, arguments, setlist, format), arguments.force)
    if wanted is None and setlist is not None and len(rig.setlists) > 1:
        others = ", ".join(other.id for other in rig.setlists[1:9])
        complain(f"This is setlist {setlist.id}; for another one, --setlist: {others}")
    if made.missing:
        complain(f"{output or arguments.file}: {missing_in_words(made.missing)}")
    if arguments.record:
        _record(source, rig, sheet, setlist)


def _first(rig: Rig, setlist: Setlist | None, findings: Sequence[Finding]) -> tuple[Remedy, ...]:
    """What to do first, for the setlist of a rehearsal sheet."""
    from rigtui.advice.first import do_first

    chosen = [row.id for row in rig.setlists if row is setlist]
    return do_first(rig, chosen, findings).remedies


def _target(output: str, arguments: Namespace, setlist: Setlist | None, format: str) -> Path:
    path = Path(output)
    if os.path.isdir(path):
        return path / file_name(arguments.kind, setlist, format)
    return path


def _to_stdout(made: Rendered, format: str) -> None:
    facts = FORMATS[format]
    if facts.shown_as == "lines":
        put_lines(made.content.decode("utf-8"))
    else:
        put_file(made.content, facts.name if facts.shown_as == "file" else None)


def _to_file(made: Rendered, sheet: Sheet, target: Path, force: bool) -> None:
    note = write_sheet(target, made.content, force)
    if note is not None:
        complain(f"{target}: written, but {note}")
    pages = f", {count(made.pages, 'page')}" if made.pages else ""
    name = SHEET_KINDS[sheet.kind].name
    put(terminal_of(sys.stdout).show(f"Wrote {target}: {name}, revision {sheet.revision}{pages}"))
    put("\n")


def _record(source: Source, rig: Rig, sheet: Sheet, setlist: Setlist | None) -> None:
    """Note in the rig file that the sheet is on paper."""
    from rigtui.model.edits import record_printed
    from rigtui.paper import ALL_SONGS
    from rigtui.store.demos import is_demo
    from rigtui.store.save import save

    if is_demo(source.path):
        raise SaveError("a demo rig keeps no record: save a copy of it first")
    setlist_id = setlist.id if setlist is not None and setlist.id != ALL_SONGS else None
    noted = record_printed(rig, sheet.kind, setlist_id, sheet.revision, sheet.day)
    if noted == rig:
        return
    for note in save(noted, source.path, source)[1]:
        complain(f"{source.path}: recorded as printed, but {note}")
