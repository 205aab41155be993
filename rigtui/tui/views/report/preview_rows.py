"""What a remedy comes to, as rows: what to do, section by section, findings new and gone."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from rigtui.advice.remedy import Remedy
    from rigtui.checks import Finding
    from rigtui.model.rig import Rig


class PreviewRow(NamedTuple):
    """One row: three cells, or one text over the whole width."""

    cells: tuple[str, ...]
    words: str
    """All of it, for the lines below the list."""
    place: str = ""
    """Where it can be looked at."""


Part = tuple[str, list[PreviewRow]]


def preview_parts(now: Rig, remedy: Remedy) -> Iterator[Part]:
    """Headings, each with the rows under it; what has no rows is left out."""
    yield from _filled("To do", (_text(text, "[ ] ") for text in _doing(now, remedy)))
    yield from _songs(now, remedy)
    yield from _filled("Where and how", (_text(text, "  ") for text in remedy.proposal.detail))
    yield from _filled("New", map(_finding, remedy.new))
    yield from _filled("Gone", map(_finding, remedy.cleared))


def _filled(title: str, rows: Iterable[PreviewRow]) -> Iterator[Part]:
    rows = list(rows)
    if rows:
        yield f"{title} ({len(rows)})", rows


def _doing(now: Rig, remedy: Remedy) -> Iterator[str]:
    from rigtui.plan.ask.evening import evening_of
    from rigtui.plan.words.steps import ticks

    for tick in ticks(now, remedy.rig, evening_of(now, ())):
        yield tick.text[0].upper() + tick.text[1:]


def _songs(now: Rig, remedy: Remedy) -> Iterator[Part]:
    from rigtui.advice.preview import sections_then

    songs: dict[str, list[PreviewRow]] = {}
    for row in sections_then(now, remedy.rig):
        words = f"{row.song}, {row.title}\nNow: {row.was}\nThen: {row.will}"
        cells = (f"  {row.title}", row.was, row.will)
        songs.setdefault(row.song, []).append(PreviewRow(cells, words, row.place))
    yield from songs.items()


def _text(text: str, mark: str) -> PreviewRow:
    return PreviewRow((mark + text,), text)


def _finding(finding: Finding) -> PreviewRow:
    return PreviewRow((f"  {finding.message}",), finding.message, finding.where)
