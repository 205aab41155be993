"""Paths that a person types into a form: read the same way in every form, or refused with a
reason.
"""

from __future__ import annotations

import os
from pathlib import Path

from rigtui.model.errors import RigError


class PathFault(RigError):
    """What was typed is no path, with the reason in the player's words."""


def typed_path(text: str) -> Path:
    """Make a path of what was typed: spaces around it do not count, `~` is the home folder.

    Raises:
        PathFault: nothing was typed, it names a home folder that is not known, or it holds what
            no path can hold.
    """
    text = text.strip()
    if not text:
        raise PathFault("a file needs a name")
    try:
        os.fsencode(text)
    except UnicodeEncodeError:
        raise PathFault("the file name has a character that this system can't store") from None
    if "\0" in text:
        raise PathFault("the file name has a NUL character, which no path can have")
    path = os.path.expanduser(text)  # Path's own takes ./~name for a home too
    if path.startswith("~"):
        home = path.partition("/")[0]
        raise PathFault(
            f"{home}: there is no such home folder. For a file whose name begins with ~, "
            f"type ./{text}"
        )
    return Path(path)
