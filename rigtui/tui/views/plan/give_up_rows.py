"""What to give up as rows: figures, a plot of what can't be played and what is crowded."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from rigtui.model.text import count, number_text
from rigtui.tui.widgets.grid import GridColumn
from rigtui.tui.widgets.lazy_rows import GridRow

if TYPE_CHECKING:
    from rigtui.advice.counted import Counted
    from rigtui.advice.giving_up.told import ToldPoint
    from rigtui.advice.remedy import Remedy
    from rigtui.model.rig import Rig

_LOST, _EXTRA = "x", "█"
_WIDTHS = (9, 8, 7, 7, 7, 8)


def columns(width: int) -> tuple[GridColumn, ...]:
    """The columns of the table, the plot last."""
    heads = ("sections", "price", "can't", "extra", "moves", "effort")
    figures = (
        GridColumn((head,), its, align="right", pick=not at)
        for at, (head, its) in enumerate(zip(heads, _WIDTHS))
    )
    plot = max(8, width - sum(_WIDTHS) - 1)
    return (
        *figures,
        GridColumn((f"  {_LOST} can't be played {_EXTRA} extra",), plot, pick=False),
    )


def point_row(points: Sequence[ToldPoint], at: int, width: int) -> GridRow:
    """One row, its plot to the scale of all."""
    point = points[at]
    figures = point.counted
    most = max(row.counted.unplayable + row.counted.extra_presses for row in points)
    scale = min(1.0, max(4, width - sum(_WIDTHS) - 4) / max(1, most))
    plot = _LOST * round(figures.unplayable * scale) + _EXTRA * round(figures.extra_presses * scale)
    cells = (
        str(point.sections),
        number_text(point.price),
        str(figures.unplayable),
        str(figures.extra_presses),
        str(figures.moves),
        number_text(figures.effort),
        f"  {plot}",
    )
    lost = "grid--error" if figures.unplayable else ""
    return GridRow(cells, ("grid--strong", "grid--dim", lost, "", "", "", lost))


def point_words(point: ToldPoint) -> list[str]:
    """What a row asks for, and what no choice of sounds can better where it is not proved."""
    lines = list(point.sentences)
    if point.least is not None:
        lost, extra = point.least
        lines.append(
            f"Not proved: at this price at the least {count(lost, 'section')} can't be played, "
            f"with {count(extra, 'extra press', 'extra presses')}"
        )
    return lines


def as_remedy(rig: Rig, before: Counted, point: ToldPoint) -> Remedy:
    """A row as a remedy, to be looked at section by section."""
    from rigtui.advice.remedy import Proposal, Remedy
    from rigtui.advice.wire import only_to

    what = point.sentences[0] if point.sentences else "Every sound stays"
    proposal = Proposal("give up", what, only_to(rig, point.rig), detail=point.sentences[1:])
    return Remedy(proposal, point.rig, before, point.counted, (), ())
