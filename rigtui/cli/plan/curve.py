"""What another switcher would buy: presses and extra presses by size, as bars."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from rigtui.model.cells import fit, wrap
from rigtui.model.text import count
from rigtui.plan.verdict.compare import CURVE_WORDS, CurveRow, curve_rows
from rigtui.plan.words.curve import effort_bar, figures_cells, most_effort, proof, worth_most

if TYPE_CHECKING:
    from rigtui.cli.plan.outcome import Outcome
    from rigtui.cli.terminal import Terminal

_BAR, _HEAD = 12, 14
_WIDTHS = (7, 8, 7)
"""Of extra presses, presses and effort."""


def curves_text(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    """Write each curve as a table with bars, and what it comes to."""
    before, curves = outcome.plan.before, outcome.plan.details["curves"]
    for line in wrap(terminal.show(f"{worth_most(curves)}."), terminal.width):
        yield terminal.paint(line, "bold")
    yield ""
    today = f"Today: {count(before.extra_presses, 'extra press', 'extra presses')} and "
    today += f"{count(before.moves, 'press', 'presses')} inside songs"
    if before.unplayable:
        today += f", but {count(before.unplayable, 'section')} can't be played"
    about = (
        f"{today}. Below is what a quick plan needs on other switchers, with all else "
        "the same and every section playable. Copies are presets in spare memories beside their "
        f"own. {terminal.show('█')} are presses, {terminal.show('░')} what the extra presses add "
        f"to the effort, {terminal.show('·')} what copies save; * is the smallest with nothing "
        'crowded. The last column is certain: "proved", or a number and "+", which the effort '
        "can't go below."
    )
    yield from wrap(about, terminal.width, "  ")
    yield ""
    for curve in curves:
        yield from _curve(curve, terminal)


def _curve(curve: Mapping[str, Any], terminal: Terminal) -> Iterator[str]:
    rows = curve_rows(curve)
    if not rows:
        return
    most = most_effort(rows)
    titles = [fit(title, sum(_WIDTHS), ">") for title in ("without copies", "with copies")]
    title = fit(f"By {CURVE_WORDS[curve['kind']]}", _HEAD + sum(_WIDTHS) - len(titles[0].lstrip()))
    yield terminal.paint(title, "bold") + terminal.paint(titles[0].lstrip() + titles[1], "faint")
    yield " " * _HEAD + terminal.paint(_columns(("extra", "presses", "effort")) * 2, "faint")
    for row in rows:
        yield _row(row, most, terminal)
    yield from wrap(terminal.show(curve["sentence"]), terminal.width, "  ", "  ")
    yield ""


def _columns(texts: tuple[str, str, str]) -> str:
    return "".join(fit(text, width, ">") for text, width in zip(texts, _WIDTHS))


def _row(row: CurveRow, most: float, terminal: Terminal) -> str:
    head = fit(("* " if row.calm else "") + row.size, _HEAD, ">")
    if row.single is None:
        return f"{head}{fit('-', _WIDTHS[0], '>')}  nothing fits"
    figures = _columns(figures_cells(row.single)) + _columns(figures_cells(row.copied))
    bar = fit(terminal.show(effort_bar(row, most, _BAR)), _BAR)
    return f"{head}{figures}  {bar} {proof(row)}"
