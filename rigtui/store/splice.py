"""Change what a TOML file says and keep how it says it.

A text that keeps comments has been read back and compared before it is returned.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from rigtui.store.align import same
from rigtui.store.splice_table import TableEditor
from rigtui.store.toml_write import dump

__all__ = ["Rewrite", "dump", "rewrite"]


@dataclass(frozen=True, slots=True)
class Rewrite:
    """A file's new text.

    Attributes:
        text: The text; reading it gives exactly the new data.
        rewritten: Top-level tables that had to be written afresh, so that comments in them are
            lost. Normally none; where it is all of them, the text has not been read back.
    """

    text: str
    rewritten: tuple[str, ...] = ()


def rewrite(text: str, new: Mapping[str, Any], old: Mapping[str, Any] | None = None) -> Rewrite:
    """Change the text of a file so that it means `new`, touching only what differs.

    Args:
        text: TOML 1.0 text that tomllib accepts.
        new: Plain data, as tomllib would return it.
        old: What `text` means, if that is known; saves reading it again.

    Raises:
        TypeError: TOML has no form for something in `new`.
    """
    meant = tomllib.loads(text) if old is None else old
    if same(meant, new):
        return Rewrite(text)
    careful = _attempt(text, meant, new)
    return Rewrite(careful) if careful is not None else _table_by_table(text, new)


def _table_by_table(text: str, new: Mapping[str, Any]) -> Rewrite:
    """Change one top-level key after the other, and write those afresh that resist."""
    now: dict[str, Any] = tomllib.loads(text)
    resisting: list[str] = []
    for key in [*now, *(key for key in new if key not in now)]:
        goal = {name: value for name, value in now.items() if name != key}
        if key in new:
            goal[key] = new[key]
        changed = _attempt(text, now, goal)
        if changed is None:
            resisting.append(key)
            changed = _attempt(text, now, goal, afresh=key)
        if changed is None:
            return Rewrite(dump(new, _line_end(text)), tuple(new))
        text, now = changed, goal
    return Rewrite(text, tuple(resisting))


def _attempt(
    text: str, old: Mapping[str, Any], new: Mapping[str, Any], afresh: str | None = None
) -> str | None:
    """Edit the text; None if that did not give a text that means `new`."""
    try:
        editor = TableEditor(text, _line_end(text))
        if afresh is None:
            editor.edit(editor.root, old, new)
        else:
            editor.remove(editor.root, afresh)
            if afresh in new:
                editor.add(editor.root, afresh, new[afresh])
        result = editor.render()
        return result if same(tomllib.loads(result), new) else None
    except Exception:  # whatever goes wrong here must cost comments, never the player's edit
        return None


def _line_end(text: str) -> str:
    """The line end that most lines of a text have."""
    return "\r\n" if 2 * text.count("\r\n") > text.count("\n") else "\n"
