"""The footswitches as the player sees them: bank by bank in rows, with what each recalls."""

from __future__ import annotations

from itertools import zip_longest

from rigtui.model import Rig
from rigtui.model.cells import cells, fit
from rigtui.model.switch_rows import EMPTY, switch_rows
from rigtui.paper.content import Picture
from rigtui.paper.drawing import Drawing, Label, Stroke, ring

_WIDTH = 536.0
"""Of the picture, in points: the text of an A4 page."""
_ROW, _RADIUS, _SIZE, _GAP = 27.0, 12.0, 13.0, 4.0


def banks_picture(rig: Rig, bank: int | None = None) -> list[Picture]:
    """Draw the banks that hold something; no picture where none does or there is no switcher.

    Args:
        rig: The rig.
        bank: The one to draw, from 0; None draws all.
    """
    rows = switch_rows(rig, bank)
    if not rows:
        return []
    height = _ROW * len(rows)
    strokes: list[Stroke] = []
    labels: list[Label] = []
    for at, row in enumerate(rows):
        step, middle = _WIDTH / max(map(len, rows)), _ROW * (at + 0.5)
        for nth, (place, name) in enumerate(row):
            x = step * nth
            strokes += ring(x + _RADIUS + 0.5, middle, _RADIUS, 1.2 if name != EMPTY else 0.4)
            base = middle + _SIZE * 0.36
            room = 2 * _RADIUS - _GAP
            labels.append(Label(x + _RADIUS + 0.5, base, place, _SIZE * 0.85, room, bold=True))
            start = x + 2 * _RADIUS + _GAP
            labels.append(Label(start, base, name, _SIZE, x + step - _GAP - start, middle=False))
    cuts = tuple(_ROW * at for at in range(1, len(rows)))
    drawing = Drawing(_WIDTH, height, (), tuple(strokes), tuple(labels), cuts)
    return [Picture(drawing, _in_text(rows))]


def _in_text(rows: list[list[tuple[str, str]]]) -> tuple[str, ...]:
    """The same in lines, one under the other."""
    told = [[f"({place}) {name}" for place, name in row] for row in rows]
    widths = [max(map(cells, filled)) for filled in zip_longest(*told, fillvalue="")]
    return tuple(
        "   ".join(fit(text, width) for text, width in zip(row, widths)).rstrip() for row in told
    )
