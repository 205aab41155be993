"""A bank as a picture: the row of footswitches, with what each recalls."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from textual.content import Content

from rigtui.model.cells import cells
from rigtui.model.switch_rows import switch_rows
from rigtui.tui.text import fit, plain

if TYPE_CHECKING:
    from rigtui.model.rig import Preset, Rig


def bank_lines(rig: Rig, preset: Preset, width: int, most: int) -> list[Content]:
    """The rows of switches, those of the preset's bank first to last within `most` lines.

    The preset at hand stands in brackets, the others in parentheses: (1) Clean Chop  [2] Solo.
    """
    rows = switch_rows(rig)
    if not rows or most < 1:
        return []
    spots = [str(rig.switcher.spot(memory)) for memory in preset.memories] if rig.switcher else []
    banks = rig.switcher.banks if rig.switcher else 1
    if banks == 1:
        spots = [spot.partition("/")[2] for spot in spots]
    here = next((at for at, row in enumerate(rows) if any(p in spots for p, _ in row)), None)
    if here is None and most < len(rows):
        return []
    start = max(0, min((here or 0) - most // 2, len(rows) - most))
    shown = rows[start : start + most]
    told = [[(_switch(place, name, spots), place in spots) for place, name in row] for row in shown]
    columns = zip_longest(*told, fillvalue=("", False))
    widths = [max(cells(text) for text, _ in column) + 2 for column in columns]
    if sum(widths) > width:
        widths = [width // len(widths)] * len(widths)
    return [_line(row, widths) for row in told]


def _switch(place: str, name: str, spots: list[str]) -> str:
    mark = f"[{place}]" if place in spots else f"({place})"
    return f"{mark} {name}"


def _line(row: list[tuple[str, bool]], widths: list[int]) -> Content:
    parts = []
    for (said, at_hand), width in zip(row, widths):
        text = plain(fit(said, width - 1) + " ")
        parts.append(text.stylize("bold") if at_hand else text)
    return Content("").join(parts)
