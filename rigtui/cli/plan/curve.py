"""What another switcher would buy: presses and extra presses by size, as bars."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from rigtui.model.cells import fit, wrap
from rigtui.model.text import count
from rigtui.plan.verdict.compare import CURVE_WORDS, CurveRow, curve_rows
from rigtui.plan.words.curve import effort_bar, proof, worth_most

if TYPE_CHECKING:
    from rigtui.cli.plan.outcome import Outcome
    from rigtui.cli.terminal import Terminal

_BAR = 21
_HEAD = 23


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
        f"the same and every section playable. {terminal.show('█')} are presses, "
        f"{terminal.show('░')} what the extra presses add to the effort; * is the "
        'smallest with nothing crowded. The last column is certain: "proved", or a '
        'number and "+", which the effort can\'t go below.'
    )
    yield from wrap(about, terminal.width, "  ")
    yield ""
    for curve in curves:
        yield from _curve(curve, terminal)


def _curve(curve: Mapping[str, Any], terminal: Terminal) -> Iterator[str]:
    rows = curve_rows(curve)
    if not rows:
        return
    most = max((row.effort for row in rows if row.effort is not None), default=0.0)
    heads = fit("extra", 7, ">") + fit("presses", 9, ">") + fit("effort", 8, ">")
    title = f"By {CURVE_WORDS[curve['kind']]}"
    yield terminal.paint(fit(title, _HEAD), "bold") + terminal.paint(heads, "faint")
    for row in rows:
        yield _row(row, most, terminal)
    yield from wrap(terminal.show(curve["sentence"]), terminal.width, "  ", "  ")
    yield ""


def _row(row: CurveRow, most: float, terminal: Terminal) -> str:
    head = fit(("* " if row.calm else "") + row.size, _HEAD, ">")
    if row.moves is None or row.extra_presses is None or row.effort is None:
        return f"{head}{fit('-', 7, '>')}  nothing fits"
    figures = fit(str(row.extra_presses), 7, ">") + fit(str(row.moves), 9, ">")
    figures += fit(f"{row.effort:g}", 8, ">")
    bar = fit(terminal.show(effort_bar(row, most, _BAR)), _BAR)
    return f"{head}{figures}  {bar} {proof(row)}"
