"""What another switcher would buy: moves against loops, memories and bank size, as bars."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any

from rigtui.model.cells import fit, wrap
from rigtui.plan.verdict.compare import CURVE_WORDS, CurveRow, curve_rows

if TYPE_CHECKING:
    from rigtui.cli.plan.outcome import Outcome
    from rigtui.cli.terminal import Terminal

_BAR = 30


def curves_text(outcome: Outcome, terminal: Terminal) -> Iterator[str]:
    """Write each curve as a table with bars, and what it comes to."""
    before = outcome.plan.moves_before
    about = (
        f"{before} moves as written. Here stand the fewest that a quick look found for other "
        "switchers, all else as it is, and how many that saves. The last column says what is "
        'certain: "proved", or a number and "+", fewer than which are impossible.'
    )
    yield from wrap(about, terminal.width, "  ")
    yield ""
    for curve in outcome.plan.details["curves"]:
        yield from _curve(curve, before, terminal)


def _curve(curve: Mapping[str, Any], before: int, terminal: Terminal) -> Iterator[str]:
    rows = curve_rows(curve)
    if not rows:
        return
    most = max((row.moves for row in rows if row.moves is not None), default=0)
    heads = fit("moves", 11, ">") + fit("saved", 7, ">")
    title = f"By {CURVE_WORDS[curve['kind']]}"
    yield terminal.paint(fit(title, 22), "bold") + terminal.paint(heads, "faint")
    for row in rows:
        yield _row(row, max(most, before), terminal)
    yield from wrap(terminal.show(curve["sentence"]), terminal.width, "  ", "  ")
    yield ""


def _row(row: CurveRow, most: int, terminal: Terminal) -> str:
    values = str(row.first) if row.first == row.last else f"{row.first} to {row.last}"
    mark = "now " if row.now else ""
    head = fit(f"{mark}{values}", 22, ">")
    if row.moves is None:
        return f"{head}{fit('-', 11, '>')}  nothing fits"
    bar = fit(terminal.show("█") * round(_BAR * row.moves / max(1, most)), _BAR)
    proof = "proved" if row.proved else f"{row.bound}+"
    return f"{head}{fit(str(row.moves), 11, '>')}{fit(str(row.saved), 7, '>')}  {bar} {proof}"
