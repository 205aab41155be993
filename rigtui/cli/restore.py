"""`rigtui restore`: list the restore points of a file, and put one back."""

from __future__ import annotations

import json
import os
import sys
from argparse import Namespace
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, put, terminal_of
from rigtui.model.diff import summary
from rigtui.model.errors import BadRigError, RigError
from rigtui.model.text import count, nearest
from rigtui.store.atomic import SaveError
from rigtui.store.fresh import write_fresh
from rigtui.store.in_place import restore
from rigtui.store.load import read_plain
from rigtui.store.recovery import Recovered, others_open, recovered
from rigtui.store.versions import Version, versions, when


@dataclass(frozen=True)
class Kept:
    """What is kept of a file.

    Attributes:
        file: The file as the user named it.
        now: What the file holds; None if it cannot be read.
        points: Its restore points, the latest first.
        unsaved: What crashed runs had not saved, the latest first.
        unsearched: Why that could not be looked for; None if it could.
    """

    file: str
    now: str | None
    points: Sequence[Version]
    unsaved: Sequence[Recovered]
    unsearched: str | None = None

    def changes(self, at: int) -> str:
        """What changed from the restore point before to this one."""
        before = self.points[at + 1] if at + 1 < len(self.points) else None
        return self.points[at].changes_since(before)

    def unsaved_changes(self, edits: Recovered) -> str:
        """What taking the edits that a crash left would change in the file they were made on."""
        return summary(edits.base, edits.rig) if edits.base is not None else "a rig never saved"


class NotKeptError(RigError, LookupError):
    """There is nothing kept of the kind asked for."""


def run(arguments: Namespace) -> int:
    """List what is kept of a file, or put some of it back, and return the exit status."""
    file: str = arguments.file
    wanted = arguments.number is not None or arguments.name is not None or arguments.unsaved
    try:
        kept = kept_of(file)
        if not wanted:
            if arguments.to is not None:
                raise NotKeptError("--to needs to know which version: give a number from the list")
            return _listed(kept, arguments.json)
        text, what = _chosen(kept, arguments)
        where = arguments.to or file
        if arguments.to is not None:
            _write_new(where, text)
        else:
            for note in restore(Path(file), text):
                complain(f"{file}: back as it was, but {note}")
    except RigError as error:
        complain(f"{file}: {error}")
        return BAD_USAGE
    return _done(kept, what, where, arguments)


def kept_of(file: str) -> Kept:
    """Find what is kept of a file.

    Raises:
        RigError: there is no such file and nothing is kept of one, or it cannot be told.
    """
    path = Path(file)
    try:
        now: str | None = read_plain(path).text
    except BadRigError:
        now = None
    unsaved: Sequence[Recovered] = ()
    unsearched = None
    try:
        unsaved = recovered(path)
    except SaveError as error:
        unsearched = f"it is not known whether a crash left unsaved edits: {error.why}"
    kept = Kept(file, now, versions(path), unsaved, unsearched)
    if not (kept.points or kept.unsaved or os.path.lexists(path)):
        raise NotKeptError("there is no such file, and no version of it is kept")
    return kept


def _chosen(kept: Kept, arguments: Namespace) -> tuple[str, str]:
    """The text asked for, and what to call it."""
    if arguments.unsaved:
        if kept.unsearched is not None:
            raise SaveError(kept.unsearched)
        if not kept.unsaved:
            raise NotKeptError("no crash left unsaved edits of this file")
        latest = kept.unsaved[0]
        return latest.text(), f"the edits left unsaved {when(latest.seconds)}"
    at = _place(kept, arguments.number, arguments.name)
    return kept.points[at].text, f"restore point {at + 1}, kept {when(kept.points[at].seconds)}"


def _place(kept: Kept, number: int | None, name: str | None) -> int:
    if not kept.points:
        raise NotKeptError("this file has no restore point")
    if number is not None:
        if number > len(kept.points):
            raise NotKeptError(f"there is no restore point {number}; there are {_range(kept)}")
        return number - 1
    wanted = (name or "").strip().casefold()
    names = [point.name.casefold() for point in kept.points]
    if not wanted or wanted not in names:
        close = nearest(name or "", [point.name for point in kept.points if point.name])
        guess = f'did you mean "{close}"?' if close else "the list has their names"
        raise NotKeptError(f'there is no restore point "{name}"; {guess}')
    return names.index(wanted)


def _range(kept: Kept) -> str:
    return f"1 to {len(kept.points)}" if len(kept.points) > 1 else "only number 1"


def _write_new(where: str, text: str) -> None:
    try:
        write_fresh(Path(where), text)
    except SaveError as error:
        raise SaveError(f"{where} {error}") from None


def _listed(kept: Kept, as_json: bool) -> int:
    if kept.unsearched is not None:
        complain(f"{kept.file}: {kept.unsearched}")
    put(_json_list(kept) if as_json else _text_list(kept))
    return 0


def _text_list(kept: Kept) -> str:
    show = terminal_of(sys.stdout).show
    name = show(kept.file)
    lines = []
    if kept.points:
        lines.append(f"{name}: {count(len(kept.points), 'restore point')}")
    else:
        lines.append(f"{name}: no restore point yet; each save keeps one")
    if kept.now is None:
        lines.append("The file itself is gone or can't be read.")
    for at, point in enumerate(kept.points):
        called = f'"{point.name}": ' if point.name else ""
        now = " (as the file is now)" if point.text == kept.now else ""
        lines.append(show(f"{at + 1:3}  {when(point.seconds)}  {called}{kept.changes(at)}{now}"))
    for edits in kept.unsaved:
        lines.append(
            show(f"Left unsaved by a crash {when(edits.seconds)}: {kept.unsaved_changes(edits)}")
        )
    if kept.unsaved:
        lines.append(f"  rigtui {name}                    offers these edits when it opens")
        lines.append(f"  rigtui restore {name} --unsaved  puts the latest of them back")
    if kept.points:
        lines.append(f"  rigtui restore {name} 1          puts number 1 back")
    return "\n".join(lines) + "\n"


def _json_list(kept: Kept) -> str:
    points: list[dict[str, Any]] = [
        {
            "number": at + 1,
            "kept": _iso(point.seconds),
            "name": point.name or None,
            "changes": kept.changes(at),
            "current": point.text == kept.now,
        }
        for at, point in enumerate(kept.points)
    ]
    unsaved = [
        {"kept": _iso(edits.seconds), "changes": kept.unsaved_changes(edits)}
        for edits in kept.unsaved
    ]
    return json.dumps({"file": kept.file, "restore_points": points, "unsaved": unsaved}) + "\n"


def _iso(seconds: float) -> str:
    return datetime.fromtimestamp(seconds).astimezone().isoformat(timespec="seconds")


def _is_open(where: str) -> bool:
    """Whether another window works on a file; no, if that cannot be told."""
    try:
        return others_open(Path(where)) > 0
    except RigError:
        return False


def _done(kept: Kept, what: str, where: str, arguments: Namespace) -> int:
    show = terminal_of(sys.stdout).show
    if arguments.json:
        text = json.dumps({"file": kept.file, "written": where, "what": what}) + "\n"
    elif arguments.to is not None:
        text = f"Wrote {show(where)}: {what}.\n"
    else:
        text = f"{show(where)} is back at {what}.\n"
        if kept.now is not None:
            text += f"The version before is now a restore point: rigtui restore {show(where)}\n"
        if _is_open(where):
            text += "It is open in another window, which will ask what to do about it.\n"
    put(text)
    return 0
