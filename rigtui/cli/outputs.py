"""A text that a command prints, or writes where `-o` says."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from rigtui.cli.parser import BAD_USAGE
from rigtui.cli.terminal import complain, put
from rigtui.store.atomic import SaveError
from rigtui.store.outputs import write_output


def put_or_write(
    text: str, output: str | None, kind: str, is_kind: Callable[[bytes], bool], about: str
) -> int:
    """Print a text, or write it to a file, and return the exit status.

    Args:
        text: The whole text.
        output: A file's name; None or "-" prints.
        kind: What it is, for the message: "such a picture".
        is_kind: Whether the first bytes of a file are those of one of this kind.
        about: What begins the message where it cannot be written.
    """
    if output is None or output == "-":
        put(text)
        return 0
    try:
        note = write_output(Path(output), text.encode(), kind, is_kind)
    except SaveError as error:
        complain(f"{about}: {error}")
        return BAD_USAGE
    if note is not None:
        complain(f"{output}: written, but {note}")
    return 0
