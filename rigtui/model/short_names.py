"""Short forms of names: "cc" for Clean Chop, as a player writes them in a hurry."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Protocol

from rigtui.model.text import did_you_mean, first_few, listed, visible


class Labelled(Protocol):
    """A row with an id and a name."""

    @property
    def id(self) -> str:
        """What the rig file calls it."""
        ...

    @property
    def label(self) -> str:
        """What the player calls it."""
        ...


class ShortNameError(ValueError):
    """A short form that fits nothing, or more than one; in words."""


def meant(short: str, rows: Sequence[Labelled], noun: str) -> str:
    """The id of the one row that a short form stands for.

    An id or a whole name goes first. Next comes what is made of the beginning of every word of a
    name, such as "cr" for Crunch and "cc" for Clean Chop; then the beginnings of some words that
    follow one another, such as "lead" for Ballad Lead.

    Args:
        short: What was typed.
        rows: Presets, or pedals.
        noun: What they are, for the fault: "preset".

    Raises:
        ShortNameError: it fits none, or several, which are named.
    """
    folded = " ".join(short.casefold().split())
    same = [row.id for row in rows if row.id == short]
    same = same or [row.id for row in rows if row.label.casefold() == folded]
    letters = "".join(_words(short))
    for fitting in (
        same,
        [row.id for row in rows if any(_made_of(letters, w, True) for w in _names(row))],
        [row.id for row in rows if any(_made_of(letters, w, False) for w in _names(row))],
    ):
        if len(fitting) == 1:
            return fitting[0]
        if fitting:
            both = listed([visible(row) for row in fitting[:6]])
            raise ShortNameError(f'"{visible(short)}" fits {both}: write one of them in full')
    ids = [row.id for row in rows]
    some = f"the rig has {visible(first_few(ids, 6))}" if ids else f"the rig has no {noun} yet"
    raise ShortNameError(
        f'"{visible(short[:60])}" fits no {noun}: {did_you_mean(short, ids, some)}'
    )


def fits(short: str, name: str) -> bool:
    """Whether letters are beginnings of words of a name, as in "cv" or "cve" for Clean Verb."""
    return _made_of("".join(_words(short)), _words(name), whole=False)


def _words(name: str) -> list[str]:
    return re.findall(r"[^\W_]+", name.casefold())


def _names(row: Labelled) -> tuple[list[str], list[str]]:
    return _words(row.label), _words(row.id)


def _made_of(letters: str, words: Sequence[str], whole: bool) -> bool:
    """Whether letters are beginnings of words that follow one another, all of them or some."""
    if not letters:
        return False
    starts = (0,) if whole else range(len(words))
    return any(_begins(letters, words[start:], whole) for start in starts)


def _begins(letters: str, words: Sequence[str], whole: bool) -> bool:
    """Whether letters are beginnings of the first words, of every one if `whole`."""
    places = {0}
    for word in words:
        after = set()
        for place in places:
            for size in range(1, len(word) + 1):
                if letters[place : place + size] != word[:size]:
                    break
                after.add(place + size)
        if not whole and len(letters) in after:
            return True
        places = after
    return whole and bool(words) and len(letters) in places
