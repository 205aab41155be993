"""The errors that the program raises on purpose; all of them derive from `RigError`."""

from __future__ import annotations

from dataclasses import dataclass


class RigError(Exception):
    """Something that the player should be told in one clear sentence."""


@dataclass(frozen=True)
class Problem:
    """One thing wrong with a rig file.

    Attributes:
        path: Where it is, as keys and positions counted from 0, e.g. ("songs", 3, "tempo").
        where: The same as a dotted path of table and ids, e.g. "songs.low-fen.tempo".
        message: What is wrong and what would be right.
        line: Line of the file counted from 1, where it is known.
        column: Column counted from 1, where it is known.
    """

    path: tuple[str | int, ...]
    where: str
    message: str
    line: int | None = None
    column: int | None = None

    def text(self) -> str:
        """The problem as one line: line and column first, then the path, then the message."""
        place = ""
        if self.line is not None:
            place = f"line {self.line}"
            if self.column is not None:
                place += f", column {self.column}"
            place += ": "
        return f"{place}{self.where + ': ' if self.where else ''}{self.message}"


class BadRigError(RigError, ValueError):
    """A rig file that cannot be read; `problems` lists everything that is wrong with it."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(problem.text() for problem in problems))
        self.problems = problems


class EditError(RigError, ValueError):
    """An edit that would leave the rig invalid, with the reason in the player's words."""
