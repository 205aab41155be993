"""Which strip goes on which page."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from rigtui.sheets.strips import Strip

KEPT = 0.5
"""Share of a page up to which a part is kept whole, at the cost of blank paper before it."""
MUCH = 0.25
"""Share of a page that must be free for a larger part to begin there."""


@dataclass(frozen=True, slots=True)
class Group:
    """Strips that belong on one page if they fit one."""

    strips: tuple[Strip, ...]
    new_page: bool = False
    gap: float = 0.0
    """Room before it, but not at the top of a page."""
    again: Strip | None = None
    """What heads the pages that it runs on to."""
    own_pages: bool = False
    """Whether it is kept whole up to a whole page, and begins a page if it is still larger."""


Page = list[tuple[float, Strip]]
"""Strips with where their tops are, down from the top of the page."""


def paged(groups: Iterable[Group], height: float) -> list[Page]:
    """Put groups of strips on pages of a height: no strip is cut, and no group that can be kept."""
    pager = _Pager(height)
    for group in groups:
        pager.add(group)
    return pager.pages


class _Pager:
    def __init__(self, height: float) -> None:
        self.height = height
        self.pages: list[Page] = [[]]
        self.top = 0.0

    def add(self, group: Group) -> None:
        room = self.height - (group.again.height if group.again is not None else 0.0)
        strips = [piece for strip in group.strips for piece in strip.pieces(room - _head(strip))]
        whole = sum(strip.height for strip in strips)
        free = self.height - self.top - group.gap
        kept = group.own_pages or whole <= KEPT * self.height
        if group.new_page or (whole > free and (kept or free < MUCH * self.height)):
            self.turn()
        if self.pages[-1]:
            self.top += group.gap
        for at, strip in enumerate(strips):
            if self.top + _with_next(strips, at) > self.height:
                self.turn()
                if at and group.again is not None:
                    self.place(group.again)
                if strip.head is not None:
                    self.place(replace(strip.head, kind="again"))
            self.place(strip)

    def turn(self) -> None:
        """Begin a new page, unless this one is still empty."""
        if self.pages[-1]:
            self.pages.append([])
            self.top = 0.0

    def place(self, strip: Strip) -> None:
        self.pages[-1].append((self.top, strip))
        self.top += strip.height


def _head(strip: Strip) -> float:
    return strip.head.height if strip.head is not None else 0.0


def _with_next(strips: Sequence[Strip], at: int) -> float:
    """Height of a strip with those that must stay on its page."""
    height = strips[at].height
    while strips[at].sticks and at + 1 < len(strips):
        at += 1
        height += strips[at].height
    return height
