"""Results remembered for as long as the values that they were made from are the very same ones.

Values are never changed, only replaced: the same object is the same value, and looking at which
object it is costs nothing, however large the rig.
"""

from __future__ import annotations

from collections.abc import Callable
from operator import is_
from typing import Any, Generic, TypeVar

ResultT = TypeVar("ResultT")


class Remembered(Generic[ResultT]):
    """The results of the last few different values, the latest used kept longest."""

    def __init__(self, kept: int = 8) -> None:
        """Keep so many results."""
        self._kept = kept
        self._known: list[tuple[tuple[Any, ...], ResultT]] = []

    def get(self, parts: tuple[Any, ...], make: Callable[[], ResultT]) -> ResultT:
        """Return what `make` gave for these very objects, made now if they are new."""
        for at, (known, result) in enumerate(self._known):
            if all(map(is_, known, parts)):
                if at:
                    self._known.insert(0, self._known.pop(at))
                return result
        result = make()
        self._known.insert(0, (parts, result))
        del self._known[self._kept :]
        return result

    def latest(self, parts: tuple[Any, ...]) -> tuple[tuple[Any, ...], ResultT] | None:
        """Return the result used last of those whose first parts are these, and all its parts."""
        for known, result in self._known:
            if all(map(is_, known, parts)):
                return known, result
        return None
