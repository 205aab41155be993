"""Read a rig file: first as plain data, then as a Rig, with the line of every mistake."""

from __future__ import annotations

import os
import re
import stat
import tomllib
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from rigtui.model.errors import BadRigError, Problem
from rigtui.store.fingerprint import Fingerprint, fingerprint_of
from rigtui.store.migrate import up_to_date

if TYPE_CHECKING:
    from rigtui.model.rig import Rig

MAX_BYTES = 8 * 1024 * 1024
"""The largest rig file that is read; some hundred times a full evening."""

MAX_DEPTH = 32
"""How deep tables and lists may stand in each other; a rig needs six levels."""

BOM = "\ufeff"
_PART = r"""(?:"(?:[^"\\\n]|\\.){0,200}+"|'[^'\n]{0,200}+'|[\w-]++)"""
_DOTTED = re.compile(rf"{_PART}(?:[ \t]*+\.[ \t]*+{_PART})*+")
_NAMES = re.compile(r"[ \t]*+[=\]]")
_ENDLESS = 2000  # a text may hold a run of so many words and full stops, if hardly


@dataclass(frozen=True)
class Source:
    """A file as it was read: its text, and the same as plain data."""

    path: Path
    text: str
    data: dict[str, Any]
    print: Fingerprint
    """What the file was like, to notice that another program has changed it since."""


def read_plain(path: Path) -> Source:
    """Read a file as TOML, without asking whether it is a good rig.

    Raises:
        BadRigError: the file cannot be read, is no text, or is no TOML.
    """
    content, mark = _read(path)
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise _bad("is not UTF-8 text: save it as UTF-8", line) from None
    if not text.strip(BOM).strip():
        raise _bad("is empty: a rig needs at least format = 1 and a name")
    return Source(path, text, parse(text), mark)


def parse(text: str) -> dict[str, Any]:
    """Parse TOML 1.0.

    Raises:
        BadRigError: the text is no TOML, with line and column where they are known.
    """
    endless = _endless_key(text)
    if endless is not None:
        raise _bad("is nested too deeply for a rig", endless)
    try:
        data = tomllib.loads(text.removeprefix(BOM))
    except tomllib.TOMLDecodeError as error:
        from rigtui.store.toml_faults import explained

        message, line, column = explained(text.removeprefix(BOM), str(error))
        raise _bad(f"is not TOML: {message}", line, column) from None
    except RecursionError:
        raise _bad("is nested too deeply for a rig") from None
    except ValueError as error:
        if "integer string conversion" in str(error):
            raise _bad("is not TOML: it has a number with far too many digits") from None
        raise _bad(f"is not TOML: {error}") from None
    if _is_deep(data):
        raise _bad("is nested too deeply for a rig")
    return data


def _endless_key(text: str) -> int | None:
    """Line of a key of very many parts; None if there is none.

    The time that tomllib takes over one grows with the square of their number, to hours.
    """
    if text.count(".") <= MAX_DEPTH:
        return None
    for number, line in enumerate(text.split("\n"), 1):
        if line.count(".") > MAX_DEPTH and not line.lstrip().startswith("#"):
            for run in _DOTTED.finditer(line):
                parts = run.group().count(".")
                if parts > _ENDLESS or (parts > MAX_DEPTH and _NAMES.match(line, run.end())):
                    return number
    return None


def _is_deep(data: Any) -> bool:
    """Whether tables and lists stand in each other deeper than what follows can go down."""
    level = [data]
    for _ in range(MAX_DEPTH):
        level = [
            inner
            for outer in level
            for inner in (outer.values() if isinstance(outer, dict) else outer)
            if isinstance(inner, dict | list)
        ]
        if not level:
            return False
    return True


def load(path: Path) -> tuple[Source, Rig]:
    """Read a rig file.

    Raises:
        BadRigError: everything that is wrong with it, with lines.
    """
    source = read_plain(path)
    return source, rig_of(source)


def rig_of(source: Source) -> Rig:
    """Make the Rig of a file that was read as plain data.

    Raises:
        BadRigError: everything that is wrong with it, with lines.
    """
    from rigtui.model.validate import rig_from_data

    try:
        return rig_from_data(up_to_date(source.data))
    except BadRigError as error:
        from rigtui.store.toml_map import TomlMap

        lines = TomlMap(source.text.removeprefix(BOM))
        problems = [
            replace(problem, line=lines.line_of(problem.path)) if problem.path else problem
            for problem in error.problems
        ]
        # What is about no place, such as how many more there are, comes last.
        problems.sort(key=lambda problem: (problem.line is None, problem.line or 0))
        raise BadRigError(tuple(problems)) from None


def _read(path: Path) -> tuple[bytes, Fingerprint]:
    try:
        kind = path.stat()
        if stat.S_ISDIR(kind.st_mode):
            raise _bad("is a folder, not a rig file")
        if not stat.S_ISREG(kind.st_mode):
            raise _bad("is not an ordinary file")
        with path.open("rb") as file:
            content = file.read(MAX_BYTES + 1)
            if len(content) > MAX_BYTES:
                raise _bad(f"is too large: a rig file is at most {MAX_BYTES // 1024 // 1024} MB")
            return content, fingerprint_of(os.fstat(file.fileno()), content)
    except FileNotFoundError:
        raise _bad("does not exist; `rigtui new FILE` writes a starter rig") from None
    except PermissionError:
        raise _bad("can't be read: ask its owner for read permission") from None
    except BadRigError:
        raise
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise _bad(f"can't be read: {reason}") from None


def _bad(message: str, line: int | None = None, column: int | None = None) -> BadRigError:
    return BadRigError((Problem((), "", message, line, column),))
